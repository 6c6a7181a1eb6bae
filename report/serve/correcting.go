package serve

import (
	"errors"
	"net/http"

	"traygauge/measure"
	"traygauge/measure/blind"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
	"traygauge/report/serve/work"
)

// wanted is a correction as the review page asks for it. Asked for twice it is made once.
type wanted struct {
	ID      string           `json:"id"` // the photo's
	What    correct.Kind     `json:"what"`
	Plugs   []string         `json:"plugs"` // none: the photo as a whole
	Corners *correct.Corners `json:"corners"`
	Undoes  int              `json:"undoes"`
	Who     string           `json:"who"`
	Why     string           `json:"why"`
}

// corrected says what came of it.
type corrected struct {
	Made    []int `json:"made"`    // their numbers
	Already []int `json:"already"` // stood before
}

// correct keeps corrections of a photo, and shows them in its reading.
func (s *Server) correct(w http.ResponseWriter, r *http.Request) {
	var want wanted
	if !web.Take(w, r, &want) {
		return
	}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	list, err := s.corrections(p, want)
	if err != nil {
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
		return
	}
	done := corrected{Made: []int{}, Already: []int{}}
	for _, c := range list {
		kept, err := correct.Append(s.o.Dir, c)
		switch {
		case errors.Is(err, correct.ErrDone):
			done.Already = append(done.Already, kept.ID)
		case err != nil:
			web.Refuse(w, r, http.StatusBadRequest, err.Error())
			return
		default:
			done.Made = append(done.Made, kept.ID)
		}
	}
	if photo, err := s.byID(want.ID); err == nil {
		s.jobs.Again(r.Context(), photo, door.VisitorOf(r).Key).Wait(r.Context(), work.VerdictTimeout) // a moved grid is measured by; others are shown in the reading
	}
	web.Answer(w, r, done)
}

// corrections puts what the page wants into corrections of the trial, after checking that there is such a photo and plug.
func (s *Server) corrections(p *plan.Plan, want wanted) ([]correct.Correction, error) {
	name, err := s.measuredByID(want.ID)
	if err != nil {
		return nil, err
	}
	c := correct.Correction{What: want.What, Who: want.Who, Why: want.Why}
	if want.What == correct.Undo {
		c.Undoes = want.Undoes
		return []correct.Correction{c}, nil
	}
	if want.What == correct.Move && want.Corners != nil {
		c.Corners, want.Plugs = want.Corners, nil
	}
	return measure.Corrections(s.o.Dir, p, c, name, want.Plugs)
}

// blind hides treatment names from the review page, or shows them, and writes down that it did.
func (s *Server) blind(w http.ResponseWriter, r *http.Request) {
	var want struct {
		Hidden bool   `json:"hidden"`
		Who    string `json:"who"`
	}
	if !web.Take(w, r, &want) {
		return
	}
	l, err := blind.Set(s.o.Dir, want.Who, want.Hidden, s.o.Now())
	if err != nil {
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
		return
	}
	web.Answer(w, r, map[string]bool{"hidden": l.Hidden()})
}
