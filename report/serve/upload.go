package serve

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report/serve/door"
	"traygauge/report/serve/inbox"
	"traygauge/report/serve/web"
	"traygauge/vision"
)

// whichPhoto is what a page says of the photo that it sends.
type whichPhoto struct {
	sha          string
	size, offset int64
	tray         int          // whose button was tapped; 0: nobody said
	view         reading.View // likewise
	changed      time.Time
}

// whichOf reads the question mark's part of an upload's address.
func whichOf(r *http.Request) (w whichPhoto, err error) {
	q := r.URL.Query()
	number := func(name string) (n int64) {
		if text := q.Get(name); text != "" {
			var bad error
			if n, bad = strconv.ParseInt(text, 10, 64); bad != nil || n < 0 {
				err = fmt.Errorf("%s is not a number", name)
			}
		}
		return n
	}
	w.sha, w.size, w.offset = q.Get("sha"), number("size"), number("offset")
	w.tray, w.view = int(min(number("tray"), plan.MaxTray+1)), reading.View(q.Get("view"))
	if ms := number("changed"); ms > 0 {
		w.changed = time.UnixMilli(ms)
	}
	switch {
	case err != nil:
	case !inbox.IsDigest(w.sha):
		err = errors.New("the photo’s SHA-256 is missing")
	case w.size < 1:
		err = errors.New("the photo is empty: take it again")
	case w.tray > plan.MaxTray:
		err = fmt.Errorf("tray numbers go from 1 to %d", plan.MaxTray)
	case w.view != "" && !slices.Contains(reading.Views, w.view):
		err = errors.New("the view must be roots or shoots")
	}
	return w, err
}

// lateAt is how long after it was taken a photo may come to be filed under the day on which it was taken without a question: it waited for
// a connection over midnight.
const lateAt = 12 * time.Hour

// sentOn returns the time by whose day a photo is filed: when it was taken, or now where that is long ago and the day may be wrong.
func (s *Server) sentOn(w whichPhoto) time.Time {
	now := s.o.Now()
	if age := now.Sub(w.changed); w.tray > 0 && age > 0 && age < lateAt {
		return w.changed
	}
	return now
}

// stem is the beginning of the photo's name in the trial, made of nothing that came from outside but numbers.
func (s *Server) stem(p *plan.Plan, w whichPhoto) string {
	name := "photo"
	if w.tray > 0 {
		name = fmt.Sprintf("tray-%02d", w.tray)
	}
	if w.view != "" {
		name += "-" + string(w.view)
	}
	day := p.DayOf(s.sentOn(w))
	if day < 0 {
		return "before-sowing/" + name
	}
	return fmt.Sprintf("day-%02d/%s", day, name)
}

// changed returns the time that the phone gives its file, if it can be meant.
func (s *Server) changed(p *plan.Plan, w whichPhoto) time.Time {
	if now := s.o.Now(); w.changed.After(now.Add(time.Hour)) || p.DayOf(w.changed) < 0 {
		return now
	}
	return w.changed
}

// uploadState says how much of a photo has come.
func (s *Server) uploadState(w http.ResponseWriter, r *http.Request) {
	which, err := whichOf(r)
	if err != nil {
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
		return
	}
	if tooLarge(w, r, which.size) {
		return
	}
	p, err := s.inbox.Has(which.sha, which.size)
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	web.Answer(w, r, p)
}

func tooLarge(w http.ResponseWriter, r *http.Request, size int64) bool {
	if size > inbox.MostPhotoBytes {
		web.Refuse(w, r, http.StatusRequestEntityTooLarge, fmt.Sprintf("the photo has %d MB (limit %d MB): take photos with 12 to 50 megapixels", size>>20, inbox.MostPhotoBytes>>20))
	}
	return size > inbox.MostPhotoBytes
}

// upload takes a part of a photo. What came of a part before the connection broke is kept.
func (s *Server) upload(w http.ResponseWriter, r *http.Request) {
	from := door.VisitorOf(r).Key
	received, err := s.inbox.Receive(from)
	if err != nil {
		w.Header().Set("Retry-After", "1")
		web.Refuse(w, r, http.StatusServiceUnavailable, err.Error())
		return
	}
	defer received()
	which, err := whichOf(r)
	if err != nil {
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
		return
	}
	if tooLarge(w, r, which.size) {
		return
	}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	part, err := io.ReadAll(http.MaxBytesReader(w, r.Body, inbox.MostChunkBytes))
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		web.Refuse(w, r, http.StatusRequestEntityTooLarge, fmt.Sprintf("a part of a photo can have at most %d kB", inbox.MostChunkBytes>>10))
		return
	}
	got, err := s.inbox.Add(from, which.sha, which.size, which.offset, part, s.stem(p, which), s.changed(p, which))
	var refusal *vision.Refusal
	switch {
	case err == nil:
		web.Answer(w, r, got)
	case errors.Is(err, inbox.ErrOffset):
		web.RefuseWith(w, r, http.StatusConflict, err.Error(), map[string]any{"have": got.Have})
	case errors.Is(err, inbox.ErrDamaged):
		web.Refuse(w, r, http.StatusUnprocessableEntity, err.Error())
	case errors.As(err, &refusal):
		web.Refuse(w, r, http.StatusUnsupportedMediaType, "the file "+refusal.Error())
	default:
		web.Refuse(w, r, http.StatusInsufficientStorage, err.Error())
	}
}
