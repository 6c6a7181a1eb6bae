package serve

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"traygauge/measure/finding"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/serve/web"
)

// feedingDay is all that the feeding-day page shows.
type feedingDay struct {
	Now   time.Time `json:"now"`
	Title string    `json:"title"`
	Day   int       `json:"day"`
	Date  string    `json:"date"`
	Notes []string  `json:"notes"` // what is due, or when something is next
	Gone  string    `json:"gone"`  // which photos' files are gone, in words; "": none

	Review  bool        `json:"review"` // every tray is photographed from both sides
	Trays   []trayToday `json:"trays"`  // as they stand on the bench
	Mixes   []mixToday  `json:"mixes"`
	Missing []string    `json:"missing"` // in words; none: all is done
	Open    []openShot  `json:"open"`    // today's photos with something to settle
	Caution []string    `json:"caution"`
}

type trayToday struct {
	Tray      int              `json:"tray"`
	Position  int              `json:"position"` // on the bench; 0: the plan gives none
	Treatment string           `json:"treatment"`
	Due       bool             `json:"due"` // to be fed
	Gets      []dose           `json:"gets"`
	MixML     float64          `json:"mix_ml"` // 0: the plan gives no volume
	Fed       []fedToday       `json:"fed"`    // none: not today
	Withdrawn []withdrawnToday `json:"withdrawn"`
	Roots     *shotToday       `json:"roots"`
	Shoots    *shotToday       `json:"shoots"`
}

type dose struct {
	Product string  `json:"product"`
	Written string  `json:"written"` // as the plan writes it: "7.5 mL/gal (2.0 mL/L)"
	MLPerL  float64 `json:"ml_per_l"`
	ML      float64 `json:"ml"` // 0: the plan gives no volume
}

type mixToday struct {
	Treatment string  `json:"treatment"`
	Trays     []int   `json:"trays"`
	TotalML   float64 `json:"total_ml"`
	Doses     []dose  `json:"doses"`
}

// shotToday is one photo in brief.
type shotToday struct {
	Photo   string          `json:"photo"`
	SHA256  string          `json:"sha"`
	Verdict reading.Verdict `json:"verdict"` // a word of the measure command's; "" while it is not known
	Why     string          `json:"why"`
	Gone    bool            `json:"gone"` // the file is
}

// openShot is a photo with something to settle.
type openShot struct {
	shotToday
	Of    string `json:"of"`
	Words string `json:"words"`
}

// today answers with what there is to do and what is done.
func (s *Server) today(w http.ResponseWriter, r *http.Request) {
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	log, findings, err := logbook.LoadLines(s.o.Dir)
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	readings, broken := s.readings.all(s.o.Dir)
	d := s.dayOf(p, log, amongAll(p, readings))
	switch n := s.measureRest(readings); {
	case n == 1:
		d.Notes = append(d.Notes, "1 photo in the folder is being measured.")
	case n > 1:
		d.Notes = append(d.Notes, fmt.Sprintf("%d photos in the folder are being measured.", n))
	}
	for _, f := range findings {
		if f.Severity == finding.Error {
			d.Notes = append(d.Notes, f.String())
		}
	}
	if n := len(broken); n > 0 {
		d.Notes = append(d.Notes, wording.Counted(n, "reading or correction", "readings or corrections")+" cannot be used: the Review page shows which.")
	}
	web.Answer(w, r, d)
}

// dayOf returns the day by the log's lines and the readings.
func (s *Server) dayOf(p *plan.Plan, lines []logbook.Entry, readings []reading.Reading) feedingDay {
	now := s.o.Now()
	day := p.DayOf(now)
	due := logbook.DueOn(p, day, logbook.Standing(lines))
	gone := s.gone(readings)
	isGone := func(photo string) bool {
		return slices.ContainsFunc(gone, func(g reading.Reading) bool { return g.Photo == photo })
	}
	here := slices.DeleteFunc(slices.Clone(readings), func(r reading.Reading) bool { return isGone(r.Photo) })
	d := feedingDay{Now: now, Title: p.Title, Day: day, Date: p.DateOf(day).Format("Monday, 2 January 2006"), Notes: dueWords(p, due), Review: due.Review, Gone: goneWords(p, gone),
		Mixes: mixesOn(p, day, due.Feed), Missing: []string{}, Open: openOn(p, here, day), Caution: []string{}}
	if len(d.Mixes) > 0 {
		d.Caution = report.MixingCautions()
	}
	for _, t := range p.Trays {
		tray := trayToday{Tray: t.Number, Position: t.Position, Treatment: t.Treatment, Due: slices.Contains(due.Feed, t.Number),
			Gets: dosesOf(p.Treatment(t.Treatment).On(day), p.Volume.MLPerTray), MixML: p.Volume.MLPerTray, Fed: fedOn(p, lines, day, t.Number), Withdrawn: withdrawnOn(p, lines, day, t.Number)}
		tray.Roots = shotOf(p, readings, day, t.Number, reading.Roots)
		tray.Shoots = shotOf(p, readings, day, t.Number, reading.Shoots)
		for _, shot := range []*shotToday{tray.Roots, tray.Shoots} {
			if shot != nil {
				shot.Gone = isGone(shot.Photo)
			}
		}
		d.Trays = append(d.Trays, tray)
	}
	slices.SortStableFunc(d.Trays, func(a, b trayToday) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Tray, b.Tray))
	})
	d.Missing = append(d.Missing, missing(d)...)
	return d
}

// openOn lists the photos of a day, or filed under it, with something to settle.
func openOn(p *plan.Plan, readings []reading.Reading, day int) []openShot {
	list := []openShot{}
	for _, r := range readings {
		n, ours := storedNameOf(r.Photo)
		if p.DayOf(r.Taken) != day && !(ours && n.day == day) {
			continue
		}
		questions := questionsOn(p, r)
		if len(questions) == 0 {
			continue
		}
		tray, view := claimed(r)
		list = append(list, openShot{inBrief(r), ofWhat(tray, view), questions[0].Large + " " + questions[0].Words})
	}
	return list
}

// dueWords says what is due on a day, or when something is next.
func dueWords(p *plan.Plan, due logbook.Due) []string {
	var words []string
	next := func(what string, day int) {
		if day >= 0 {
			words = append(words, fmt.Sprintf("Next %s: %s, day %d.", what, p.DateOf(day).Format("Monday, 2 January"), day))
		}
	}
	switch late := due.Late(); {
	case len(due.Feed) == 0:
		next("feeding", due.NextFeed)
	case late == 1:
		words = append(words, "Yesterday’s feeding has not been done yet.")
	case late > 1:
		words = append(words, fmt.Sprintf("The feeding of day %d, %d days ago, has not been done yet.", due.FeedDay, late))
	default:
		words = append(words, "Feeding day.")
	}
	if due.Review {
		return append(words, "Review day: photograph every tray from both sides.")
	}
	next("review", due.NextReview)
	return words
}

func dosesOf(doses []plan.Dose, volumeML float64) []dose {
	list := []dose{}
	for _, d := range doses {
		list = append(list, dose{d.Product, d.Words(), d.MLPerL, d.MLFor(volumeML)})
	}
	return list
}

// mixesOn says what to mix together for the trays that are to be fed.
func mixesOn(p *plan.Plan, day int, feed []int) []mixToday {
	mixes := []mixToday{}
	for _, t := range p.Treatments {
		var trays []int
		for _, n := range p.TraysOf(t.Name) {
			if slices.Contains(feed, n) {
				trays = append(trays, n)
			}
		}
		if len(trays) > 0 {
			total := float64(len(trays)) * p.Volume.MLPerTray
			mixes = append(mixes, mixToday{t.Name, trays, total, dosesOf(t.On(day), total)})
		}
	}
	return mixes
}

func millilitres(ml float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(ml, 'f', 2, 64), "0"), ".") + " mL"
}

// shotOf returns the photo of a tray that counts, or the latest unusable one; nil if there is none. A photo with something to settle counts
// for no tray yet.
func shotOf(p *plan.Plan, readings []reading.Reading, day, tray int, view reading.View) *shotToday {
	var shots []reading.Reading
	for _, r := range readings {
		if t, v := claimed(r); t == tray && v == view && p.DayOf(r.Taken) == day && len(questionsOn(p, r)) == 0 {
			shots = append(shots, r)
		}
	}
	if len(shots) == 0 {
		return nil
	}
	slices.SortFunc(shots, func(a, b reading.Reading) int {
		return cmp.Or(cmp.Compare(unusable(a), unusable(b)), reading.BetterFirst(a, b))
	})
	shot := inBrief(shots[0])
	return &shot
}

func unusable(r reading.Reading) int {
	if r.Usable() {
		return 0
	}
	return 1
}

func inBrief(r reading.Reading) shotToday {
	var why []string
	for _, c := range r.Concerns {
		why = append(why, c.Words)
	}
	return shotToday{Photo: r.Photo, SHA256: r.SHA256, Verdict: r.Verdict(), Why: strings.Join(why, "; ")}
}

// missing says in words what is still to be done.
func missing(d feedingDay) []string {
	var feed, roots, shoots []int
	for _, t := range d.Trays {
		if t.Due {
			feed = append(feed, t.Tray)
		}
		if d.Review && !t.Roots.counts() {
			roots = append(roots, t.Tray)
		}
		if d.Review && !t.Shoots.counts() {
			shoots = append(shoots, t.Tray)
		}
	}
	var words []string
	for _, m := range []struct {
		what  string
		trays []int
	}{{"photos of roots", roots}, {"photos of leaves", shoots}, {"feeding", feed}} {
		switch n := len(m.trays); {
		case n > 1 && n == len(d.Trays):
			words = append(words, fmt.Sprintf("%s: all %d trays", m.what, n))
		case n > 0:
			words = append(words, m.what+": "+wording.Trays(m.trays))
		}
	}
	return words
}

// counts reports whether a photo can be used.
func (s *shotToday) counts() bool {
	return s != nil && s.Verdict.Usable()
}
