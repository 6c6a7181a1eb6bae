package serve

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"os"
	"slices"

	"traygauge/measure/trialdir"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
	"traygauge/vision"
)

// idOf is how pages call a photo. It tells nothing of the photo's name, which may tell the treatment.
func idOf(photo string) string {
	sum := sha256.Sum256([]byte(photo))
	return hex.EncodeToString(sum[:8])
}

// byID returns the trial's photo that pages call id.
func (s *Server) byID(id string) (photo string, err error) {
	for _, name := range trialdir.PhotoNames(s.o.Dir) {
		if idOf(name) == id {
			return name, nil
		}
	}
	return "", errNotThere
}

func (s *Server) hasOverlay(photo string) bool {
	info, err := os.Lstat(trialdir.OverlayPath(s.o.Dir, photo))
	return err == nil && info.Mode().IsRegular()
}

// measuredByID returns the photo that pages call id, also where only its reading is left.
func (s *Server) measuredByID(id string) (photo string, err error) {
	return s.measured(func(photo string) bool { return idOf(photo) == id })
}

// measured returns the photo that is the one asked for, also where only its reading is left.
func (s *Server) measured(asked func(photo string) bool) (string, error) {
	names := trialdir.PhotoNames(s.o.Dir)
	readings, _ := s.readings.all(s.o.Dir)
	for _, r := range readings {
		names = append(names, r.Photo)
	}
	if i := slices.IndexFunc(names, asked); i >= 0 {
		return names[i], nil
	}
	return "", errNotThere
}

// errNotThere is what is said of a photo that a page still shows and the trial no longer has.
var errNotThere = errors.New("this photo no longer exists: reload the page")

// overlay answers with a photo's overlay.
func (s *Server) overlay(w http.ResponseWriter, r *http.Request) {
	photo, err := s.measuredByID(r.URL.Query().Get("id"))
	if err != nil || !s.hasOverlay(photo) {
		web.Refuse(w, r, http.StatusNotFound, "this photo has no overlay")
		return
	}
	serveFile(w, r, trialdir.OverlayPath(s.o.Dir, photo), "image/jpeg")
}

// shown are the formats that browsers show themselves.
var shown = map[string]string{"JPEG": "image/jpeg", "PNG": "image/png", "WebP": "image/webp"}

// picture answers with a photo as it is, or with a copy in JPEG of one that browsers do not show.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) {
	photo, err := s.byID(r.URL.Query().Get("id"))
	file := ""
	if err == nil {
		file, err = trialdir.PhotoFile(s.o.Dir, photo)
	}
	var raw []byte
	if err == nil {
		raw, err = vision.ReadFile(file)
	}
	var format string
	if err == nil {
		format, err = vision.FormatOf(raw)
	}
	if err != nil {
		web.Refuse(w, r, http.StatusNotFound, err.Error())
		return
	}
	if kind := shown[format]; kind != "" {
		serveFile(w, r, file, kind)
		return
	}
	jpeg, err := s.jobs.JPEG(r.Context(), photo, door.VisitorOf(r).Key, raw)
	if err != nil {
		web.Refuse(w, r, http.StatusServiceUnavailable, err.Error())
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Write(jpeg)
}

// serveFile answers with a file that the trial holds.
func serveFile(w http.ResponseWriter, r *http.Request, file, kind string) {
	f, err := os.Open(file)
	if err != nil {
		web.Refuse(w, r, http.StatusNotFound, "the file is gone: reload the page")
		return
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		web.Refuse(w, r, http.StatusNotFound, "the file is gone: reload the page")
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "private, no-cache") // asked for again, answered with "not modified"
	http.ServeContent(w, r, "", info.ModTime(), f)
}
