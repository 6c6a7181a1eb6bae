package serve

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/report"
)

// patience is how long a page is kept waiting for a verdict before it is told to ask again.
const patience = 20 * time.Second

// judged is what the feeding-day page shows of a photo.
type judged struct {
	Ready   bool   `json:"ready"` // false: it is still being measured; the rest is blank
	Photo   string `json:"photo"`
	ID      string `json:"id"`
	Verdict string `json:"verdict"` // the measure command's word
	Large   string `json:"large"`   // what to do, in two or three words
	Of      string `json:"of"`      // "tray 7, roots"
	Tray    int    `json:"tray"`
	View    string `json:"view"`
	Overlay bool   `json:"overlay"` // there is one

	Reasons []reason `json:"reasons"`
	Figures []figure `json:"figures"` // the tray's, then its controls'
	Note    string   `json:"note"`    // what the figures are
}

type reason struct {
	Words  string `json:"words"`
	Remedy string `json:"remedy"`
}

// figure is a tray's mean over its plugs, or the mean of several trays' means.
type figure struct {
	Who    string         `json:"who"`
	Value  measure.Number `json:"value"` // mm² a plug
	Detail string         `json:"detail"`
}

var large = map[string]string{
	"good": "Good. Put it back.", "doubt": "Usable. Have a look.", "retake": "Take it again.", "not usable": "Not usable.", "excluded": "Excluded.",
}

// verdict measures a photo, unless that is done, and says what came of it.
func (s *Server) verdict(w http.ResponseWriter, r *http.Request) {
	photo := r.URL.Query().Get("photo")
	if _, err := measure.PhotoFile(s.o.Dir, photo); err != nil {
		refuse(w, http.StatusNotFound, err.Error())
		return
	}
	j := s.bench.start(photo)
	if !j.wait(r.Context(), patience) {
		answer(w, http.StatusOK, judged{Photo: photo, Reasons: []reason{}, Figures: []figure{}})
		return
	}
	p, err := s.plan()
	if err == nil {
		err = j.err
	}
	if err != nil {
		refuse(w, http.StatusInternalServerError, err.Error())
		return
	}
	readings, _ := measure.LoadReadings(s.o.Dir) // what is wrong with other photos' is told on the day's page
	answer(w, http.StatusOK, s.judge(p, j.reading, readings))
}

func (s *Server) judge(p *plan.Plan, r measure.Reading, all []measure.Reading) judged {
	v := judged{Ready: true, Photo: r.Photo, ID: idOf(r.Photo), Verdict: s.o.Verdict(r), Reasons: []reason{}, Figures: []figure{}}
	v.Large = large[v.Verdict]
	v.Tray, v.View = claimed(r)
	v.Of = ofWhat(v.Tray, v.View)
	v.Overlay = s.hasOverlay(r.Photo)
	for _, c := range r.Concerns {
		v.Reasons = append(v.Reasons, reason{c.Words, c.Remedy})
	}
	if day, today := p.DayOf(r.Taken), p.DayOf(s.o.Now()); day != today && !r.Taken.IsZero() {
		v.Reasons = append(v.Reasons, reason{fmt.Sprintf("the photo is dated day %d (%s), today is day %d", day, r.Taken.Format("2006-01-02 15:04"), today),
			"check the phone's clock; it is filed under its own date"})
	}
	if v.Tray > 0 && p.TreatmentOf(v.Tray) == "" {
		v.Reasons = append(v.Reasons, reason{fmt.Sprintf("the plan has no tray %d", v.Tray), "check the tag beside the tray"})
	}
	if r.Usable() {
		v.Figures, v.Note = figuresOf(p, r, all)
	}
	return v
}

func ofWhat(tray int, view string) string {
	words := "no tray known"
	if tray > 0 {
		words = "tray " + strconv.Itoa(tray)
	}
	return words + map[string]string{"roots": ", roots", "shoots": ", leaves", "": ""}[view]
}

// figuresOf returns the tray's figure and that of each treatment that it is compared with, of the same day.
func figuresOf(p *plan.Plan, r measure.Reading, all []measure.Reading) ([]figure, string) {
	own := meansOf(report.Collect(p, []measure.Reading{r}).Trays)
	list := []figure{{fmt.Sprintf("tray %d", r.Tray), measure.Missing, "nothing to measure"}}
	if m, ok := own[r.Tray]; ok {
		list[0].Value, list[0].Detail = m.mean, fmt.Sprintf("%d plugs", m.plugs)
	}
	note := "Mean " + map[string]string{"roots": "root", "shoots": "leaf"}[r.View] + " area a plug."
	treatment := p.Treatment(p.TreatmentOf(r.Tray))
	if treatment == nil || len(treatment.CompareWith) == 0 {
		return list, note
	}
	day := slices.DeleteFunc(slices.Clone(all), func(o measure.Reading) bool { return o.View != r.View || p.DayOf(o.Taken) != p.DayOf(r.Taken) })
	means := meansOf(report.Collect(p, day).Trays)
	for _, control := range treatment.CompareWith {
		list = append(list, controlOf(control, p.TraysOf(control), means))
	}
	return list, note + " Beside it what the tray is compared with, photographed on the same day. A single tray proves no difference between treatments."
}

// trayMean is the mean over a tray's plugs.
type trayMean struct {
	mean  measure.Number
	plugs int
}

func meansOf(rows []report.TrayRow) map[int]trayMean {
	means := map[int]trayMean{}
	for _, row := range rows {
		sum := row.RootAreaMM2
		if row.View == "shoots" {
			sum = row.LeafAreaMM2
		}
		if sum.Mean.Known() {
			means[row.Tray] = trayMean{sum.Mean, sum.N}
		}
	}
	return means
}

// controlOf puts the trays of a control together. Trays count alike, as in a comparison.
func controlOf(control string, trays []int, means map[int]trayMean) figure {
	f := figure{Who: control, Value: measure.Missing}
	var seen, unseen []int
	sum := 0.0
	for _, n := range trays {
		if m, ok := means[n]; ok {
			seen = append(seen, n)
			sum += float64(m.mean)
		} else {
			unseen = append(unseen, n)
		}
	}
	if len(seen) == 0 {
		f.Detail = traysInWords(unseen) + " not photographed yet"
		return f
	}
	f.Value, f.Detail = measure.Number(sum/float64(len(seen))), traysInWords(seen)
	if len(unseen) > 0 {
		f.Detail += fmt.Sprintf("; %s not yet", traysInWords(unseen))
	}
	return f
}
