package serve

import (
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
)

// feeding is what a page says was given to a tray. Its moment is its key: a page that does not know whether it was heard
// sends the same again, and it is written down once.
type feeding struct {
	Tray    int         `json:"tray"`
	At      time.Time   `json:"at"`
	Given   []given     `json:"given"`
	WaterML *float64    `json:"water_ml"` // of the mix, or of water; null: not measured
	Note    string      `json:"note"`
	More    bool        `json:"more"`    // on top of what the tray was given on that day
	Sure    bool        `json:"sure"`    // amounts far from the plan's are meant
	Instead *feedingKey `json:"instead"` // of a feeding that was entered wrongly, which is withdrawn; null: none
	Why     string      `json:"why"`     // and why that was wrong
}

type given struct {
	Product string   `json:"product"`
	ML      *float64 `json:"ml"` // null: not measured
}

// feedingKey is what a feeding in the log is known by.
type feedingKey struct {
	Tray int       `json:"tray"`
	At   time.Time `json:"at"`
}

func (k feedingKey) of(e logbook.Entry) bool { return e.Tray == k.Tray && e.When.Equal(k.At) }

// Limits of a feeding.
const (
	mostML     = 100_000
	mostGiven  = 40
	mostNote   = 500
	mostWaited = 14 * 24 * time.Hour // for a connection
)

// doubtful is a feeding that needs confirmation; ask names what has to be confirmed.
type doubtful struct{ ask, words string }

func (d doubtful) Error() string { return d.words }

// fed writes a feeding into the log, replacing another if Instead is set.
func (s *Server) fed(w http.ResponseWriter, r *http.Request) {
	var f feeding
	if !web.Take(w, r, &f) {
		return
	}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	f.At = f.At.Truncate(time.Second)
	stored := false
	err = s.addToLog(p, func(lines []logbook.Entry) ([]logbook.Entry, error) {
		if err := f.check(p, lines, s.o.Now()); err != nil {
			return nil, err
		}
		add, err := f.lines(p, lines, door.VisitorOf(r).Name, s.o.Now())
		stored = len(add) > 0
		return add, err
	})
	answerLogged(w, r, stored, err)
}

// withdraw withdraws a feeding. Repeating the request changes nothing.
func (s *Server) withdraw(w http.ResponseWriter, r *http.Request) {
	var want struct {
		feedingKey
		Why string `json:"why"`
	}
	if !web.Take(w, r, &want) {
		return
	}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	if len(want.Why) > mostNote {
		web.Refuse(w, r, http.StatusBadRequest, "the reason is too long: give it in a few words")
		return
	}
	want.At = want.At.Truncate(time.Second)
	stored := false
	err = s.addToLog(p, func(lines []logbook.Entry) ([]logbook.Entry, error) {
		if !slices.ContainsFunc(lines, want.of) {
			return nil, wrong("this feeding is not in the log: reload the page")
		}
		if !stands(lines, want.feedingKey) {
			return nil, nil
		}
		stored = true
		return []logbook.Entry{withdrawal(p, want.feedingKey, want.Why, door.VisitorOf(r).Name, s.o.Now())}, nil
	})
	answerLogged(w, r, stored, err)
}

func (s *Server) addToLog(p *plan.Plan, add func(lines []logbook.Entry) ([]logbook.Entry, error)) error {
	return logbook.Add(s.o.Dir, p.Sown.Location(), add)
}

// wrong is what is wrong with a request.
type wrong string

func (w wrong) Error() string { return string(w) }

func wrongf(format string, args ...any) error { return wrong(fmt.Sprintf(format, args...)) }

// answerLogged answers a request that writes into the log.
func answerLogged(w http.ResponseWriter, r *http.Request, stored bool, err error) {
	var doubt doubtful
	var bad wrong
	switch {
	case errors.As(err, &doubt):
		web.RefuseWith(w, r, http.StatusConflict, doubt.words, map[string]any{"ask": doubt.ask})
	case errors.As(err, &bad):
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
	case err != nil:
		web.Refuse(w, r, http.StatusInsufficientStorage, err.Error())
	default:
		web.Answer(w, r, map[string]bool{"stored": stored})
	}
}

// stands reports whether a feeding is in the log and was not withdrawn.
func stands(lines []logbook.Entry, key feedingKey) bool {
	return slices.ContainsFunc(logbook.Standing(lines), func(e logbook.Entry) bool { return e.What == logbook.Feeding && key.of(e) })
}

// withdrawal is the line that withdraws a feeding: its tray and moment, and in the note why, when and by whom.
func withdrawal(p *plan.Plan, key feedingKey, why, who string, now time.Time) logbook.Entry {
	note := fmt.Sprintf("%s, %s", now.In(p.Sown.Location()).Format("2006-01-02 15:04"), who)
	if why = strings.TrimSpace(why); why != "" {
		note = why + "; " + note
	}
	return logbook.Entry{When: key.At, Tray: key.Tray, What: logbook.Withdrawn, AmountML: math.NaN(), WaterML: math.NaN(), Note: note}
}

// check returns what is wrong with f.
func (f *feeding) check(p *plan.Plan, lines []logbook.Entry, now time.Time) error {
	switch {
	case p.TreatmentOf(f.Tray) == "":
		return wrongf("the plan has no tray %d", f.Tray)
	case f.At.After(now.Add(5 * time.Minute)), f.At.Before(now.Add(-mostWaited)):
		return wrong("the time of the feeding is not possible: check the phone’s clock, and reload the page")
	case len(f.Given) > mostGiven:
		return wrong("there are more products than a tray can get")
	case len(f.Note) > mostNote || len(f.Why) > mostNote:
		return wrongf("the note is too long: the limit is %d bytes", mostNote)
	}
	amounts := []*float64{f.WaterML}
	for _, g := range f.Given {
		if strings.TrimSpace(g.Product) == "" {
			return wrong("an amount has no product")
		}
		if !known(p, lines, g.Product) {
			return wrongf("the plan has no product %q: reload the page and enter the feeding again", g.Product)
		}
		amounts = append(amounts, g.ML)
	}
	for _, ml := range amounts {
		if ml != nil && (!(*ml >= 0) || *ml > mostML) {
			return wrongf("%g mL is not possible: enter 0 to %d, or leave it blank if it was not measured", *ml, mostML)
		}
	}
	return nil
}

// known reports whether a product is in the plan, or in an earlier feeding.
func known(p *plan.Plan, lines []logbook.Entry, product string) bool {
	for _, t := range p.Treatments {
		if slices.ContainsFunc(t.Gets, func(d plan.Dose) bool { return d.Product == product }) {
			return true
		}
	}
	return slices.ContainsFunc(lines, func(e logbook.Entry) bool { return e.What == logbook.Feeding && e.Product == product })
}

// lines returns the lines to add for a feeding: none if it is in the log already, withdrawn or not.
func (f feeding) lines(p *plan.Plan, before []logbook.Entry, who string, now time.Time) ([]logbook.Entry, error) {
	if f.Instead != nil {
		return f.linesInstead(p, before, who, now)
	}
	if there := f.sameMoment(before); len(there) > 0 {
		if slices.ContainsFunc(f.entries(), func(e logbook.Entry) bool {
			return !slices.ContainsFunc(there, func(o logbook.Entry) bool { return sameEntry(e, o) })
		}) {
			return nil, f.taken()
		}
		return nil, nil
	}
	if given := fedOn(p, before, p.DayOf(f.At), f.Tray); len(given) > 0 && !f.More {
		return nil, doubtful{"more", fmt.Sprintf("tray %d was already fed on that day, at %s (%s)", f.Tray, given[0].Clock, given[0].Words)}
	}
	if words := f.unusual(p); words != "" && !f.Sure {
		return nil, doubtful{"amount", words}
	}
	return f.entries(), nil
}

// linesInstead withdraws the wrong feeding and enters this one.
func (f feeding) linesInstead(p *plan.Plan, before []logbook.Entry, who string, now time.Time) ([]logbook.Entry, error) {
	old := *f.Instead
	old.At = old.At.Truncate(time.Second)
	own := feedingKey{f.Tray, f.At}
	standing := f.sameMoment(logbook.Standing(before))
	if slices.EqualFunc(standing, f.entries(), sameEntry) && (own == old || !stands(before, old)) {
		return nil, nil // done before: the answer to an earlier request was lost
	}
	if !stands(before, old) {
		return nil, wrong("that feeding was changed or withdrawn on another phone: reload the page")
	}
	if own != old && len(standing) > 0 {
		return nil, f.taken()
	}
	if words := f.unusual(p); words != "" && !f.Sure {
		return nil, doubtful{"amount", words}
	}
	return append([]logbook.Entry{withdrawal(p, old, f.Why, who, now)}, f.entries()...), nil
}

// sameMoment returns the lines among lines that record a feeding of the same tray at the same moment.
func (f feeding) sameMoment(lines []logbook.Entry) []logbook.Entry {
	var list []logbook.Entry
	for _, e := range lines {
		if e.What == logbook.Feeding && (feedingKey{f.Tray, f.At}).of(e) {
			list = append(list, e)
		}
	}
	return list
}

// taken is the error of a feeding whose tray and moment already belong to another feeding.
func (f feeding) taken() error {
	return wrongf("not saved, because another phone recorded a feeding of tray %d at the same moment, with other amounts: reload the page, and change that entry if it is wrong", f.Tray)
}

// sameEntry reports whether two lines of feedings are equal, to the hundredth of a millilitre that the log keeps.
func sameEntry(a, b logbook.Entry) bool {
	same := func(x, y float64) bool { return math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) < 0.006 }
	return a.Tray == b.Tray && a.When.Equal(b.When) && a.Product == b.Product && same(a.AmountML, b.AmountML) && same(a.WaterML, b.WaterML)
}

// unusual names the first amount far from the plan's, or "". A product is compared with the dose for the volume that was given.
func (f feeding) unusual(p *plan.Plan) string {
	volume := p.Volume.MLPerTray
	if f.WaterML != nil && logbook.FarOff(*f.WaterML, volume) {
		return fmt.Sprintf("%s for tray %d is %s the %s in the plan", millilitres(*f.WaterML), f.Tray, timesWords(*f.WaterML/volume), millilitres(volume))
	}
	if f.WaterML != nil {
		volume = *f.WaterML
	}
	for _, d := range p.Treatment(p.TreatmentOf(f.Tray)).On(p.DayOf(f.At)) {
		for _, g := range f.Given {
			if planned := d.MLFor(volume); g.Product == d.Product && g.ML != nil && logbook.FarOff(*g.ML, planned) {
				return fmt.Sprintf("%s %s for tray %d is %s the %s in the plan", millilitres(*g.ML), g.Product, f.Tray, timesWords(*g.ML/planned), millilitres(planned))
			}
		}
	}
	return ""
}

// timesWords writes a ratio to two digits.
func timesWords(times float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(times))-1)
	words := strconv.FormatFloat(math.Round(times/unit)*unit, 'f', max(0, int(-math.Floor(math.Log10(unit)))), 64)
	if strings.Contains(words, ".") {
		words = strings.TrimSuffix(strings.TrimRight(words, "0"), ".")
	}
	if times < 1 {
		return "only " + words + " times"
	}
	return words + " times"
}

// entries are the log's lines of a feeding: one a product, or one with the water alone.
func (f feeding) entries() []logbook.Entry {
	line := logbook.Entry{When: f.At, Tray: f.Tray, What: logbook.Feeding, AmountML: math.NaN(), WaterML: orNaN(f.WaterML), Note: f.Note}
	var list []logbook.Entry
	for _, g := range f.Given {
		line.Product, line.AmountML = g.Product, orNaN(g.ML)
		list = append(list, line)
		line.WaterML, line.Note = math.NaN(), "" // only on the first line
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

func orNull(ml float64) *float64 {
	if math.IsNaN(ml) {
		return nil
	}
	return &ml
}

// fedToday is one feeding of a day by the log.
type fedToday struct {
	At      time.Time `json:"at"`
	Clock   string    `json:"clock"` // in the trial's zone
	Words   string    `json:"words"` // what was given
	ForAll  bool      `json:"for_all"`
	Given   []given   `json:"given"`
	WaterML *float64  `json:"water_ml"`
	Note    string    `json:"note"`
}

// fedOn returns the feedings of a tray on a day that were not withdrawn, in the log's order.
func fedOn(p *plan.Plan, lines []logbook.Entry, day, tray int) []fedToday {
	list := []fedToday{}
	for _, e := range logbook.Standing(lines) {
		if e.What != logbook.Feeding || e.Tray != 0 && e.Tray != tray || p.DayOf(e.When) != day {
			continue
		}
		i := slices.IndexFunc(list, func(f fedToday) bool { return f.At.Equal(e.When) && f.ForAll == (e.Tray == 0) })
		if i < 0 {
			i = len(list)
			list = append(list, fedToday{At: e.When, Clock: e.When.In(p.Sown.Location()).Format("15:04"), ForAll: e.Tray == 0, Given: []given{}})
		}
		f := &list[i]
		if e.Product != "" {
			f.Given = append(f.Given, given{e.Product, orNull(e.AmountML)})
		}
		if !math.IsNaN(e.WaterML) {
			f.WaterML = orNull(e.WaterML)
		}
		if e.Note != "" {
			f.Note = strings.TrimPrefix(f.Note+"; "+e.Note, "; ")
		}
	}
	for i := range list {
		list[i].Words = list[i].inWords()
	}
	return list
}

func (f fedToday) inWords() string {
	var words []string
	if f.WaterML != nil && len(f.Given) == 0 {
		words = append(words, millilitres(*f.WaterML))
	} else if f.WaterML != nil {
		words = append(words, millilitres(*f.WaterML)+" in total")
	}
	for _, g := range f.Given {
		if g.ML != nil {
			words = append(words, millilitres(*g.ML)+" "+g.Product)
		} else {
			words = append(words, g.Product)
		}
	}
	if f.Note != "" {
		words = append(words, f.Note)
	}
	return strings.Join(words, ", ")
}

// withdrawnToday is a feeding of a day that was withdrawn.
type withdrawnToday struct {
	At    time.Time `json:"at"` // of the feeding
	Words string    `json:"words"`
}

// withdrawnOn returns the feedings of a tray on a day that were withdrawn, with why.
func withdrawnOn(p *plan.Plan, lines []logbook.Entry, day, tray int) []withdrawnToday {
	list := []withdrawnToday{}
	for _, e := range lines {
		if e.What == logbook.Withdrawn && e.Tray == tray && p.DayOf(e.When) == day {
			words := fmt.Sprintf("Withdrawn: fed at %s; %s", e.When.In(p.Sown.Location()).Format("15:04"), e.Note)
			list = append(list, withdrawnToday{e.When, strings.TrimSuffix(words, "; ")})
		}
	}
	return list
}
