package serve

import (
	"errors"
	"fmt"
	"math"
	"net/http"
	"strings"
	"time"

	"traygauge/measure/plan"
)

// feeding is what a page says was given to a tray. Its moment is its key: a page that does not know whether it was heard
// sends the same again, and it is written down once.
type feeding struct {
	Tray    int       `json:"tray"`
	At      time.Time `json:"at"`
	Given   []given   `json:"given"`
	WaterML *float64  `json:"water_ml"` // of the mix, or of water; null: not measured
	Note    string    `json:"note"`
	More    bool      `json:"more"` // on top of what the tray was given on that day
}

type given struct {
	Product string   `json:"product"`
	ML      *float64 `json:"ml"` // null: not measured
}

// What a feeding may say at most.
const (
	mostML     = 100_000
	mostGiven  = 40
	mostNote   = 500
	mostWaited = 14 * 24 * time.Hour // for a connection
)

// fedBefore says that a tray was fed on that day already.
type fedBefore struct{ words string }

func (f fedBefore) Error() string { return f.words }

// fed writes a feeding into the log.
func (s *Server) fed(w http.ResponseWriter, r *http.Request) {
	var f feeding
	if !take(w, r, &f) {
		return
	}
	p, err := s.plan()
	if err != nil {
		refuse(w, http.StatusInternalServerError, err.Error())
		return
	}
	if err := f.check(p, s.o.Now()); err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
		return
	}
	stored := false
	err = plan.AddToLog(s.o.Dir, p.Sown.Location(), func(log []plan.Entry) ([]plan.Entry, error) {
		if f.in(log) {
			return nil, nil
		}
		if before := fedOn(p, log, p.DayOf(f.At), f.Tray); before != nil && !f.More {
			return nil, fedBefore{fmt.Sprintf("tray %d was fed on that day already, at %s (%s)", f.Tray, before.At, before.Words)}
		}
		stored = true
		return f.entries(), nil
	})
	var before fedBefore
	switch {
	case errors.As(err, &before):
		refuse(w, http.StatusConflict, before.words)
	case err != nil:
		refuse(w, http.StatusInsufficientStorage, err.Error())
	default:
		answer(w, http.StatusOK, map[string]bool{"stored": stored})
	}
}

// check tells what cannot be meant.
func (f *feeding) check(p *plan.Plan, now time.Time) error {
	f.At = f.At.Truncate(time.Second)
	switch {
	case p.TreatmentOf(f.Tray) == "":
		return fmt.Errorf("the plan has no tray %d", f.Tray)
	case f.At.After(now.Add(5 * time.Minute)), f.At.Before(now.Add(-mostWaited)):
		return errors.New("the time of the feeding cannot be right: check the phone's clock, and load the page again")
	case len(f.Given) > mostGiven:
		return errors.New("more products than a tray gets")
	case len(f.Note) > mostNote:
		return fmt.Errorf("the note is too long: %d bytes are kept", mostNote)
	}
	amounts := []*float64{f.WaterML}
	for _, g := range f.Given {
		if strings.TrimSpace(g.Product) == "" || len(g.Product) > 200 {
			return errors.New("an amount is of no product")
		}
		amounts = append(amounts, g.ML)
	}
	for _, ml := range amounts {
		if ml != nil && (!(*ml >= 0) || *ml > mostML) {
			return fmt.Errorf("%g mL cannot be meant: give 0 to %d, or nothing when it was not measured", *ml, mostML)
		}
	}
	return nil
}

// in tells whether this very feeding is in the log.
func (f feeding) in(log []plan.Entry) bool {
	for _, e := range log {
		if e.What == plan.Feeding && e.Tray == f.Tray && e.When.Equal(f.At) {
			return true
		}
	}
	return false
}

// entries are the log's lines of a feeding: one a product, or one with the water alone.
func (f feeding) entries() []plan.Entry {
	line := plan.Entry{When: f.At, Tray: f.Tray, What: plan.Feeding, AmountML: math.NaN(), WaterML: orNaN(f.WaterML), Note: f.Note}
	var list []plan.Entry
	for _, g := range f.Given {
		line.Product, line.AmountML = g.Product, orNaN(g.ML)
		list = append(list, line)
		line.WaterML, line.Note = math.NaN(), "" // said once
	}
	if len(list) == 0 {
		list = append(list, line)
	}
	return list
}

func orNaN(ml *float64) float64 {
	if ml == nil {
		return math.NaN()
	}
	return *ml
}
