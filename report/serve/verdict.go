package serve

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"traygauge/measure"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
	"traygauge/report/serve/work"
	"traygauge/report/table"
)

// judged is what the feeding-day page shows of a photo.
type judged struct {
	Ready   bool            `json:"ready"` // false: it is still being measured; but for Why the rest is blank
	Why     string          `json:"why"`   // what it waits for
	Photo   string          `json:"photo"` // what it is called now
	ID      string          `json:"id"`
	Verdict reading.Verdict `json:"verdict"` // the measure command's word
	Large   string          `json:"large"`   // what to do, in a few words
	Tone    string          `json:"tone"`    // "good", "doubt", "retake", "out", "gone" where the photo's file is gone, or "ask" where a person has to settle something
	Of      string          `json:"of"`      // "tray 7, roots"
	Tray    int             `json:"tray"`
	View    reading.View    `json:"view"`
	Overlay bool            `json:"overlay"` // there is one

	Missed    string     `json:"missed"`    // what was asked for and is still missing; "" if this is it
	Questions []question `json:"questions"` // what has to be settled
	Reasons   []reason   `json:"reasons"`
	Figures   []figure   `json:"figures"` // the tray's, then its controls'
	Note      string     `json:"note"`    // what the figures are
}

type reason struct {
	Words  string `json:"words"`
	Remedy string `json:"remedy"`
}

// figure is a tray's mean over its plugs, or the mean of several trays' means.
type figure struct {
	Who    string         `json:"who"`
	Value  reading.Number `json:"value"` // mm² a plug
	U      reading.Number `json:"u"`     // its uncertainty from measuring, k = 2, in mm²
	Words  string         `json:"words"` // both, to the place that U reaches; "" for none
	Detail string         `json:"detail"`
}

// asked is what a photo was taken for.
type asked struct {
	tray int // 0: nothing special
	view reading.View
}

var large = map[reading.Verdict]string{
	reading.VerdictGood: "Good. Put it back.", reading.VerdictDoubt: "Usable. Put it back.", reading.VerdictRetake: "Retake it.",
	reading.VerdictUnusable: "Not usable.", reading.VerdictExcluded: "Left out.",
}

var tones = map[reading.Verdict]string{
	reading.VerdictGood: "good", reading.VerdictDoubt: "doubt", reading.VerdictRetake: "retake", reading.VerdictUnusable: "retake", reading.VerdictExcluded: "out",
}

// verdict answers with the verdict on a photo, which is measured if necessary.
func (s *Server) verdict(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	photo := s.nowCalled(q.Get("photo"))
	tray, _ := strconv.Atoi(q.Get("tray"))
	what := asked{tray, reading.View(q.Get("view"))}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	if _, err := trialdir.PhotoFile(s.o.Dir, photo); err != nil {
		readings, _ := s.readings.all(s.o.Dir)
		left, gone := s.goneAmong(readings, func(name string) bool { return name == photo })
		if !gone {
			web.Refuse(w, r, http.StatusNotFound, err.Error())
			return
		}
		v := s.judge(p, left, readings, what)
		v.withoutFile()
		web.Answer(w, r, v)
		return
	}
	reading, j, err := s.readingOf(r.Context(), p, photo, door.VisitorOf(r).Key)
	switch {
	case err != nil:
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	case j != nil:
		web.Answer(w, r, s.notYet(photo, j))
		return
	}
	readings, _ := s.readings.all(s.o.Dir) // what is wrong with other photos' is on the day's page
	web.Answer(w, r, s.judge(p, reading, readings, what))
}

// notYet is the answer while a photo is being measured.
func (s *Server) notYet(photo string, j *work.Job) judged {
	return judged{Photo: photo, Why: s.jobs.Why(j), Questions: []question{}, Reasons: []reason{}, Figures: []figure{}}
}

// readingOf returns a photo's reading and measures it if necessary. If that takes longer than VerdictTimeout it returns the running job instead.
func (s *Server) readingOf(ctx context.Context, p *plan.Plan, photo, phone string) (r reading.Reading, at *work.Job, err error) {
	if r, kept, err := measure.Kept(ctx, s.o.Dir, p, photo, work.RunOptions(s.o.Dir, s.o.Version)); err == nil && kept {
		return r, nil, nil
	}
	j := s.jobs.Start(photo, phone)
	if !j.Wait(ctx, work.VerdictTimeout) {
		return r, j, nil
	}
	return j.Reading, nil, j.Err
}

func (s *Server) judge(p *plan.Plan, r reading.Reading, all []reading.Reading, what asked) judged {
	r = doubted(p, all, r)
	verdict := r.Verdict()
	v := judged{Ready: true, Photo: r.Photo, ID: idOf(r.Photo), Verdict: verdict, Large: large[verdict], Tone: tones[verdict], Overlay: s.hasOverlay(r.Photo),
		Questions: questionsOn(p, r), Reasons: reasonsOf(r), Figures: []figure{}}
	v.Tray, v.View = claimed(r)
	v.Of = ofWhat(v.Tray, v.View)
	usable := verdict.Usable()
	otherSide := what.view != "" && r.View != "" && r.View != what.view
	otherTray := what.tray > 0 && r.Tray > 0 && r.Tray != what.tray
	otherDay := what.tray > 0 && !r.Taken.IsZero() && p.DayOf(r.Taken) != p.DayOf(s.o.Now())
	if usable && what.view != "" && (otherSide || otherTray || otherDay) {
		v.Missed = fmt.Sprintf("The %s of tray %d are still missing.", what.view.Words(), what.tray)
	}
	switch {
	case !usable:
	case len(v.Questions) > 0:
		v.Large, v.Tone = v.Questions[0].Large, "ask"
	case otherSide:
		v.Large, v.Tone = fmt.Sprintf("These are the %s.", r.View.Words()), "ask"
	case otherTray:
		v.Large, v.Tone = fmt.Sprintf("Saved as tray %d.", r.Tray), "ask"
	case otherDay:
		v.Large, v.Tone = fmt.Sprintf("Saved under day %d.", p.DayOf(r.Taken)), "ask"
		v.Reasons = append(v.Reasons, reason{Words: fmt.Sprintf("the photo is dated %s; today is day %d", dated(p, r.Taken), p.DayOf(s.o.Now()))})
	}
	if r.Usable() {
		v.Figures, v.Note = figuresOf(p, r, all)
	}
	return v
}

// dated is a photo's day and time at the trial.
func dated(p *plan.Plan, at time.Time) string {
	return fmt.Sprintf("day %d (%s)", p.DayOf(at), at.In(p.Sown.Location()).Format("2 January, 15:04"))
}

// reasonsOf returns a photo's concerns in words for the phone, without those that are asked as questions.
func reasonsOf(r reading.Reading) []reason {
	list := []reason{}
	for _, c := range r.Concerns {
		if !reading.AboutTag(c.Kind) {
			list = append(list, reason{c.Words, forPages(c.Remedy)})
		}
	}
	return list
}

// forPages removes from a remedy what needs a command line, and what the verdict says already.
func forPages(remedy string) string {
	parts := slices.DeleteFunc(strings.Split(remedy, ";"), func(part string) bool {
		return strings.Contains(part, "--") || strings.Contains(part, "`traygauge") || strings.Contains(part, "the photo is usable")
	})
	return strings.TrimSpace(strings.Join(parts, ";"))
}

func ofWhat(tray int, view reading.View) string {
	words := "unknown tray"
	if tray > 0 {
		words = "tray " + strconv.Itoa(tray)
	}
	if view != "" {
		words += ", " + view.Words()
	}
	return words
}

// figuresOf returns the tray's figure and that of each treatment that it is compared with, of the same day. They are those of the report so far:
// a plug that shows no plant from above is in no mean of the roots, once the leaves are photographed.
func figuresOf(p *plan.Plan, r reading.Reading, all []reading.Reading) ([]figure, string) {
	others := slices.DeleteFunc(slices.Clone(all), func(o reading.Reading) bool {
		return p.DayOf(o.Taken) == p.DayOf(r.Taken) && o.Tray == r.Tray && o.View == r.View // of the tray, this photo counts here
	})
	amounts := amountsOf(p, append(others, r), r.View, p.DayOf(r.Taken))
	list := []figure{{Who: fmt.Sprintf("tray %d", r.Tray), Value: reading.Missing, U: reading.Missing, Detail: "nothing to measure"}}
	if a, ok := amounts[r.Tray]; ok {
		list[0] = figure{fmt.Sprintf("tray %d", r.Tray), a.Value, a.U, table.WithU(a.Value, a.U), wording.Counted(a.Plugs, "plant", "plants")}
	}
	note := "Mean " + map[reading.View]string{reading.Roots: "root", reading.Shoots: "leaf"}[r.View] + " area per plant, ± measurement uncertainty."
	treatment := p.Treatment(p.TreatmentOf(r.Tray))
	if treatment == nil || len(treatment.CompareWith) == 0 {
		return list, note
	}
	for _, control := range treatment.CompareWith {
		list = append(list, controlOf(control, p.TraysOf(control), amounts))
	}
	return list, note + " The control’s figure is from photos of the same day. A single tray does not prove a difference between treatments."
}

// amountsOf returns each tray's mean area a plug in one view on one day. It takes the readings of all days, since it may be another day's that show which plugs
// have a plant.
func amountsOf(p *plan.Plan, readings []reading.Reading, view reading.View, day int) map[int]trayfigure.Amount {
	quantity := outcome.RootArea
	if view == reading.Shoots {
		quantity = outcome.LeafArea
	}
	amounts := map[int]trayfigure.Amount{}
	for _, d := range trayfigure.TrayDays(p, readings) {
		if a, ok := d.Amounts[quantity]; ok && d.Day == day {
			amounts[d.Tray] = a
		}
	}
	return amounts
}

// controlOf puts the trays of a control together as a comparison does.
func controlOf(control string, trays []int, amounts map[int]trayfigure.Amount) figure {
	f := figure{Who: control, Value: reading.Missing, U: reading.Missing}
	var seen, unseen []int
	var values, us []float64
	for _, n := range trays {
		if a, ok := amounts[n]; ok {
			seen, values, us = append(seen, n), append(values, float64(a.Value)), append(us, float64(a.U))
		} else {
			unseen = append(unseen, n)
		}
	}
	if len(seen) == 0 {
		f.Detail = wording.Trays(unseen) + " not photographed yet"
		return f
	}
	f.Value, f.U = trayfigure.Together(outcome.Ratio, values, us)
	f.Detail, f.Words = wording.Trays(seen), table.WithU(f.Value, f.U)
	if len(unseen) > 0 {
		f.Detail += fmt.Sprintf("; %s not yet", wording.Trays(unseen))
	}
	return f
}
