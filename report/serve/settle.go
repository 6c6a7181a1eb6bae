package serve

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
	"traygauge/report/serve/work"
)

// question is something about a photo that only a person can settle, with its answers.
type question struct {
	About   string   `json:"about"` // "tray" or "day"
	Large   string   `json:"large"` // in a few words
	Words   string   `json:"words"`
	Choices []choice `json:"choices"`
}

// choice is one answer.
type choice struct {
	Label string `json:"label"`
	Tray  int    `json:"tray,omitempty"`
	Day   *int   `json:"day,omitempty"`
}

// questionsOn returns what has to be settled about a usable photo: which tray it shows if that is uncertain, and which day it is of if its
// date differs from the day it is filed under.
func questionsOn(p *plan.Plan, r reading.Reading) []question {
	list := []question{}
	if !r.Verdict().Usable() {
		return list
	}
	if q, open := trayQuestion(p, r); open {
		list = append(list, q)
	}
	if q, open := dayQuestion(p, r); open {
		list = append(list, q)
	}
	return list
}

func trayQuestion(p *plan.Plan, r reading.Reading) (q question, open bool) {
	named := reading.TrayInName(r.Photo)
	says := "The file’s name says"
	if _, ours := storedNameOf(r.Photo); ours {
		says = "It was sent for"
	}
	q = question{About: "tray", Large: "Which tray is it?"}
	has := func(kind reading.Kind) bool {
		return slices.ContainsFunc(r.Concerns, func(c reading.Concern) bool { return c.Kind == kind })
	}
	var trays []int
	switch {
	case has(reading.TagAgainstName):
		q.Large = fmt.Sprintf("Tray %d or tray %d?", r.Tray, named)
		q.Words = fmt.Sprintf("%s tray %d. The tag in the photo says tray %d.", says, named, r.Tray)
		trays = []int{named, r.Tray}
	case has(reading.SeveralTags):
		q.Words = fmt.Sprintf("The photo shows the tags of %s.", wording.Trays(r.Tags))
		trays = r.Tags
	case has(reading.NoTag):
		q.Words = "The photo shows no tray tag."
	case r.Tray > 0 && p.TreatmentOf(r.Tray) == "":
		q.Words = fmt.Sprintf("The tag says tray %d, which is not in the plan.", r.Tray)
	default:
		return q, false
	}
	trays = slices.DeleteFunc(slices.Clone(trays), func(n int) bool { return p.TreatmentOf(n) == "" })
	if len(trays) == 0 {
		trays = slices.Sorted(slices.Values(p.TrayNumbers()))
	}
	for _, n := range trays {
		q.Choices = append(q.Choices, choice{Label: fmt.Sprintf("It is tray %d", n), Tray: n})
	}
	return q, true
}

func dayQuestion(p *plan.Plan, r reading.Reading) (q question, open bool) {
	n, ours := storedNameOf(r.Photo)
	day := p.DayOf(r.Taken)
	if !ours || n.day == day || r.Taken.IsZero() || r.TakenFrom == reading.FromHand || n.day < 0 && day < 0 {
		return q, false
	}
	q = question{About: "day", Large: fmt.Sprintf("This photo is from day %d.", day), Words: fmt.Sprintf("It is dated %s but was sent on day %d.", dated(p, r.Taken), n.day)}
	if day >= 0 {
		q.Choices = append(q.Choices, choice{Label: fmt.Sprintf("Keep it under day %d", day), Day: &day})
	} else {
		q.Large = "This photo is from before sowing."
		q.Words = fmt.Sprintf("It is dated %s, which is before sowing.", r.Taken.In(p.Sown.Location()).Format("2 January, 15:04"))
	}
	if n.day >= 0 {
		q.Choices = append(q.Choices, choice{Label: fmt.Sprintf("The date is wrong: it is from day %d", n.day), Day: &n.day})
	}
	return q, true
}

// settling is the answer to a question.
type settling struct {
	ID       string `json:"id"` // the photo's
	Tray     int    `json:"tray"`
	Day      *int   `json:"day"`
	LeaveOut bool   `json:"leave_out"`
	Who      string `json:"who"` // "": the phone's name is taken
	Why      string `json:"why"` // "": the question is

	AskedTray int          `json:"asked_tray"` // what the photo was taken for
	AskedView reading.View `json:"asked_view"`
}

// settle stores an answer: as a correction if it contradicts the photo, and in the photo's name, so that the question is not asked again.
func (s *Server) settle(w http.ResponseWriter, r *http.Request) {
	var want settling
	if !web.Take(w, r, &want) {
		return
	}
	p, err := s.plan()
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	if hidden, err := s.namesAreHidden(); err != nil || hidden {
		web.Refuse(w, r, http.StatusConflict, "treatment names are hidden, and a tray number would reveal one: show the names first")
		return
	}
	photo, err := s.byID(want.ID)
	if err != nil {
		web.Refuse(w, r, http.StatusNotFound, err.Error())
		return
	}
	phone := door.VisitorOf(r)
	if want.Who == "" {
		want.Who = phone.Name
	}
	reading, at, err := s.readingOf(r.Context(), p, photo, phone.Key)
	switch {
	case err != nil:
	case at != nil:
		err = errors.New("the photo is still being measured: wait a moment and try again")
	default:
		photo, err = s.settled(p, reading, want)
	}
	if err != nil {
		web.Refuse(w, r, http.StatusBadRequest, err.Error())
		return
	}
	j := s.jobs.Again(r.Context(), photo, phone.Key)
	if !j.Wait(r.Context(), work.VerdictTimeout) {
		web.Answer(w, r, s.notYet(photo, j))
		return
	}
	if j.Err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, j.Err.Error())
		return
	}
	readings, _ := s.readings.all(s.o.Dir)
	web.Answer(w, r, s.judge(p, j.Reading, readings, asked{want.AskedTray, want.AskedView}))
}

// settled stores an answer and returns the photo's new name.
func (s *Server) settled(p *plan.Plan, r reading.Reading, want settling) (photo string, err error) {
	if want.Tray > 0 && p.TreatmentOf(want.Tray) == "" {
		return "", fmt.Errorf("the plan has no tray %d", want.Tray)
	}
	why := want.Why
	if why == "" {
		var words []string
		for _, q := range questionsOn(p, r) {
			words = append(words, q.Words)
		}
		why = strings.Join(words, " ")
	}
	if why == "" {
		why = "settled by hand"
	}
	made := correct.Correction{Who: want.Who, Why: why}
	if made.Photo, made.SHA256, err = trialdir.PhotoNamed(s.o.Dir, r.Photo); err != nil {
		return "", err
	}
	keep := func(what correct.Kind, number int) {
		c := made
		c.What, c.Number = what, number
		if _, failed := correct.Append(s.o.Dir, c); failed != nil && !errors.Is(failed, correct.ErrDone) && err == nil {
			err = failed
		}
	}
	byTag := len(r.Tags) == 1 && r.Tags[0] == want.Tray && r.TrayFrom != reading.FromHand
	if want.Tray > 0 && !byTag {
		keep(correct.Tray, want.Tray)
	}
	byDate := want.Day != nil && *want.Day == p.DayOf(r.Taken) && r.TakenFrom != reading.FromHand
	if want.Day != nil && !byDate {
		keep(correct.Day, *want.Day)
	}
	if want.LeaveOut {
		keep(correct.Exclude, 0)
	}
	n, ours := storedNameOf(r.Photo)
	if err != nil || !ours || want.LeaveOut {
		return r.Photo, err
	}
	if want.Tray > 0 {
		n.tray = want.Tray
	}
	if want.Day != nil {
		n.day = *want.Day
	}
	if r.View != "" && (n.tray > 0 || n.view != "") {
		n.view = r.View
	}
	if n.String() == r.Photo {
		return r.Photo, nil
	}
	return n.String(), s.rename(r.Photo, n.String())
}
