package serve

import (
	"cmp"
	"net/http"
	"slices"

	"traygauge/measure/blind"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report/overlay"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
	"traygauge/report/serve/work"
	"traygauge/report/table"
)

// reviewing is what the page for reviewing photos lists.
type reviewing struct {
	Title  string        `json:"title"`
	Hidden bool          `json:"hidden"` // treatment names, and what could tell them
	Blind  string        `json:"blind"`  // what the report will say of it
	Photos []photoListed `json:"photos"`

	Measuring int      `json:"measuring"` // photos that have no reading yet
	Problems  []string `json:"problems"`  // readings and corrections that cannot be used, photos whose files are gone
}

type photoListed struct {
	ID        string          `json:"id"`
	Label     string          `json:"label"`
	Treatment string          `json:"treatment,omitempty"`
	Tray      int             `json:"tray,omitempty"`
	View      reading.View    `json:"view"`
	Day       *int            `json:"day"`     // null: not known
	Verdict   reading.Verdict `json:"verdict"` // "": not measured yet
	Corrected int             `json:"corrected"`
	Open      bool            `json:"open"` // something has to be settled: which tray, or which day
	Gone      bool            `json:"gone"` // the photo's file is gone; its figures still count

	photo string
}

// photos answers with the list of the trial's photos.
func (s *Server) photos(w http.ResponseWriter, r *http.Request) {
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	hidden, err := s.namesAreHidden()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	words, err := blind.Words(s.o.Dir, p.Sown.Location())
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	readings, broken := s.readings.all(s.o.Dir)
	l := reviewing{Title: p.Title, Hidden: hidden, Blind: words, Photos: []photoListed{}, Problems: []string{}}
	for _, b := range broken {
		l.Problems = append(l.Problems, b.Error())
	}
	named := p
	if l.Hidden {
		l.Title, named = "", nil
	}
	gone := s.gone(readings)
	if words := goneWords(named, gone); words != "" {
		l.Problems = append(l.Problems, words)
	}
	for _, one := range gone {
		l.Photos = append(l.Photos, listedGone(p, one))
	}
	byPhoto := map[string]reading.Reading{}
	for _, one := range amongAll(p, readings) {
		byPhoto[one.Photo] = one
	}
	l.Measuring = s.measureRest(readings)
	for _, name := range trialdir.PhotoNames(s.o.Dir) {
		one, measured := byPhoto[name]
		if !measured {
			one, measured = s.jobs.Said(name)
		}
		l.Photos = append(l.Photos, listed(p, name, one, measured))
	}
	slices.SortFunc(l.Photos, byOccasion)
	if l.Hidden {
		hide(l.Photos)
	}
	web.Answer(w, r, l)
}

func listed(p *plan.Plan, name string, r reading.Reading, measured bool) photoListed {
	l := photoListed{ID: idOf(name), Label: name, photo: name}
	if !measured {
		return l
	}
	l.Verdict, l.Corrected, l.Open = r.Verdict(), len(r.Corrections), len(questionsOn(p, r)) > 0
	l.Tray, l.View = claimed(r)
	l.Treatment = p.TreatmentOf(l.Tray)
	if !r.Taken.IsZero() {
		day := p.DayOf(r.Taken)
		l.Day = &day
	}
	return l
}

// listedGone lists a photo whose file is gone. No one can look into it to settle anything.
func listedGone(p *plan.Plan, r reading.Reading) photoListed {
	l := listed(p, r.Photo, r, true)
	l.Gone, l.Open = true, false
	return l
}

// byOccasion orders photos by day, the latest first, then by tray and view.
func byOccasion(a, b photoListed) int {
	day := func(l photoListed) int {
		if l.Day == nil {
			return -1 << 30 // not measured yet
		}
		return *l.Day
	}
	return cmp.Or(cmp.Compare(day(b), day(a)), cmp.Compare(a.Tray, b.Tray), cmp.Compare(a.View, b.View), cmp.Compare(a.photo, b.photo))
}

// hide takes away what tells a treatment: its name, the photo's name, the tray's number, and the order. The order by ID is none that means anything.
func hide(photos []photoListed) {
	slices.SortFunc(photos, func(a, b photoListed) int { return cmp.Compare(a.ID, b.ID) })
	for i := range photos {
		photos[i].Label, photos[i].Tray, photos[i].Treatment, photos[i].Open = "", 0, "", false
	}
}

// photoSeen is all that the page shows of one photo.
type photoSeen struct {
	Ready bool   `json:"ready"` // false: it is still being measured
	Why   string `json:"why"`   // what it waits for
	photoListed
	Trays     []int            `json:"trays"` // of the plan
	Width     int              `json:"width"`
	Height    int              `json:"height"`
	Overlay   *[4]int          `json:"overlay"` // where the photo is in it: x, y, width, height; null: there is none
	Rows      int              `json:"rows"`
	Columns   int              `json:"columns"`
	Corners   *correct.Corners `json:"corners"` // of the block of plugs; null: not known
	Plugs     []plugSeen       `json:"plugs"`
	Reasons   []reason         `json:"reasons"`
	Questions []question       `json:"questions"`
	History   []correctionSeen `json:"history"`
}

type plugSeen struct {
	Plug     string         `json:"plug"`
	State    reading.State  `json:"state"`
	Flags    []string       `json:"flags"`
	Area     reading.Number `json:"area"` // mm², root or leaf
	U        reading.Number `json:"u"`
	Words    string         `json:"words"`      // area and u, to the place that u reaches; "" for none
	CoverPct reading.Number `json:"cover_pct"`  // roots
	LengthMM reading.Number `json:"length_mm"`  // roots
	ColourPc reading.Number `json:"colour_pct"` // browning, or yellow
	HueDeg   reading.Number `json:"hue_deg"`    // leaves
}

type correctionSeen struct {
	ID       int    `json:"id"`
	Words    string `json:"words"`
	Who      string `json:"who"`
	When     string `json:"when"`
	Why      string `json:"why"`
	Stands   bool   `json:"stands"`
	UndoneBy int    `json:"undone_by,omitempty"`
}

// photo answers with one photo, measured if that is not done.
func (s *Server) photo(w http.ResponseWriter, r *http.Request) {
	id := r.URL.Query().Get("id")
	readings, _ := s.readings.all(s.o.Dir)
	left, gone := s.goneAmong(readings, func(photo string) bool { return idOf(photo) == id })
	name, err := s.byID(id)
	if err != nil && !gone {
		web.Refuse(w, r, http.StatusNotFound, err.Error())
		return
	}
	p, err := s.plan()
	reading := left
	if err == nil && !gone {
		var at *work.Job
		if reading, at, err = s.readingOf(r.Context(), p, name, door.VisitorOf(r).Key); at != nil {
			web.Answer(w, r, photoSeen{photoListed: photoListed{ID: idOf(name)}, Why: s.jobs.Why(at)})
			return
		}
	}
	var hidden bool
	if err == nil {
		hidden, err = s.namesAreHidden()
	}
	var made correct.Log
	if err == nil {
		made, err = correct.Load(s.o.Dir)
	}
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	readings, _ = s.readings.all(s.o.Dir) // this one may be new
	if reading = doubted(p, readings, reading); hidden {
		reading = withoutTrays(reading)
	}
	seen := s.seen(p, reading, made)
	if gone {
		seen.withoutFile()
	}
	if hidden {
		seen.hide()
	}
	web.Answer(w, r, seen)
}

// hide removes what says which tray the photo is of.
func (seen *photoSeen) hide() {
	seen.Label, seen.Tray, seen.Treatment, seen.Open, seen.Trays, seen.Questions = "", 0, "", false, []int{}, []question{}
}

// namesAreHidden reports whether treatment names are hidden from those who correct.
func (s *Server) namesAreHidden() (bool, error) {
	l, err := blind.Load(s.o.Dir)
	return l.Hidden(), err
}

func (s *Server) seen(p *plan.Plan, r reading.Reading, made correct.Log) photoSeen {
	seen := photoSeen{Ready: true, photoListed: listed(p, r.Photo, r, true), Width: r.WidthPx, Height: r.HeightPx, Rows: p.Tray.Rows, Columns: p.Tray.Columns,
		Corners: r.PlugsAt, Plugs: []plugSeen{}, Reasons: reasonsOf(r), Questions: questionsOn(p, r), History: []correctionSeen{}}
	seen.Trays = slices.Sorted(slices.Values(p.TrayNumbers()))
	if r.WidthPx > 0 && s.hasOverlay(r.Photo) {
		at := overlay.PhotoIn(r.WidthPx, r.HeightPx)
		seen.Overlay = &[4]int{at.Min.X, at.Min.Y, at.Dx(), at.Dy()}
	}
	for _, g := range r.Plugs {
		seen.Plugs = append(seen.Plugs, plugOf(g, r.View))
	}
	for _, c := range made.Made {
		if c.SHA256 == r.SHA256 && r.SHA256 != "" {
			seen.History = append(seen.History, correctionSeen{c.ID, c.Does(), c.Who, c.When.In(p.Sown.Location()).Format("2006-01-02 15:04"), c.Why, made.Stands(c), made.UndoneBy(c.ID)})
		}
	}
	return seen
}

func plugOf(g reading.Plug, view reading.View) plugSeen {
	seen := plugSeen{Plug: g.Name, State: g.State, Flags: append([]string{}, g.Flags...), Area: g.RootAreaMM2, U: g.RootAreaUMM2,
		CoverPct: g.RootCoverPct, LengthMM: g.RootLengthMM, ColourPc: g.RootBrowningPct, HueDeg: g.LeafHueDeg}
	if view == reading.Shoots {
		seen.Area, seen.U, seen.ColourPc = g.LeafAreaMM2, g.LeafAreaUMM2, g.ChloroticPct
	}
	seen.Words = table.WithU(seen.Area, seen.U)
	return seen
}
