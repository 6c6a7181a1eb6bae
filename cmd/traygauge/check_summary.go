package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"traygauge/measure/plan"
	"traygauge/report/terminal"
)

// checked is all that `check` says.
type checked struct {
	Findings []plan.Finding `json:"findings"`
	Plan     *planSummary   `json:"plan,omitempty"` // absent when the plan has mistakes
}

// planSummary sums up a plan without mistakes as of one day.
type planSummary struct {
	Title      string             `json:"title"`
	Date       string             `json:"date"`
	Day        int                `json:"day"` // since sowing
	Plugs      int                `json:"plugs_per_tray"`
	Treatments []treatmentSummary `json:"treatments"`
	Due        dueSummary         `json:"due"`

	Places  placesSummary  `json:"places"`
	Shows   []showsSummary `json:"shows"`
	Moved   []movedSummary `json:"moved"`
	Feeding feedingSummary `json:"feeding"`
}

type treatmentSummary struct {
	Name        string   `json:"name"`
	CompareWith []string `json:"compare_with"`
	Trays       []int    `json:"trays"`
	Mix         []mix    `json:"mix"` // on that day
}

// mix is what goes into one tray's volume.
type mix struct {
	Product     string  `json:"product"`
	Dose        string  `json:"dose"` // as the plan writes it
	MLPerL      float64 `json:"ml_per_l"`
	MLPerGallon float64 `json:"ml_per_us_gallon"`
	MLPerTray   float64 `json:"ml_per_tray,omitempty"` // absent when the plan gives no volume
	TrayML      float64 `json:"tray_ml,omitempty"`
}

type dueSummary struct {
	Feed       []int `json:"feed_trays"`
	LateDays   int   `json:"late_days"`
	Review     bool  `json:"review"`
	NextFeed   *int  `json:"next_feeding_day"` // null: none
	NextReview *int  `json:"next_review_day"`
}

// sumUp gathers what the summary says of p on a day.
func sumUp(p *plan.Plan, day int, log []plan.Entry) *planSummary {
	due := p.DueOn(day, log)
	s := &planSummary{
		Title: p.Title, Date: p.DateOf(day).Format("2006-01-02"), Day: day, Plugs: p.Tray.Rows * p.Tray.Columns,
		Due: dueSummary{Feed: append([]int{}, due.Feed...), LateDays: due.Late(), Review: due.Review, NextFeed: known(due.NextFeed), NextReview: known(due.NextReview)},
	}
	for i := range p.Treatments {
		t := &p.Treatments[i]
		ts := treatmentSummary{t.Name, append([]string{}, t.CompareWith...), append([]int{}, p.TraysOf(t.Name)...), []mix{}}
		for _, d := range t.On(day) {
			ts.Mix = append(ts.Mix, mix{d.Product, d.Words(), d.MLPerL, d.MLPerGallon(), d.MLFor(p.Volume.MLPerTray), p.Volume.MLPerTray})
		}
		s.Treatments = append(s.Treatments, ts)
	}
	s.Feeding = feedingOf(p)
	return s
}

// known returns nil for a day that there is not.
func known(day int) *int {
	if day < 0 {
		return nil
	}
	return &day
}

// print writes the summary for people.
func (s *planSummary) print(w io.Writer) {
	fmt.Fprintf(w, "%s: day %d (%s), trays of %d plugs\n\nTreatments\n", s.Title, s.Day, s.Date, s.Plugs)
	for _, t := range s.Treatments {
		control := "no control"
		if len(t.CompareWith) > 0 {
			control = "against " + strings.Join(t.CompareWith, " and against ")
		}
		fmt.Fprintf(w, "  %s: %s; %s\n", t.Name, terminal.TraysInWords(t.Trays), control)
	}
	s.printDesign(w)
	s.printDue(w)
	s.printMoves(w)
	s.printMixes(w)
	s.printFeeding(w)
	fmt.Fprintln(w, "  Follow each product's label. Wear gloves and eye protection, add concentrate to water, never mix concentrates.")
}

func (s *planSummary) printDue(w io.Writer) {
	fmt.Fprintf(w, "\nDue on day %d\n", s.Day)
	if len(s.Due.Feed) > 0 {
		late := ""
		if s.Due.LateDays > 0 {
			late = fmt.Sprintf(", planned for day %d and not in the log", s.Day-s.Due.LateDays)
		}
		fmt.Fprintf(w, "  feed %s%s\n", terminal.TraysInWords(s.Due.Feed), late)
	}
	if s.Due.Review {
		fmt.Fprintln(w, "  photograph every tray from above and from below")
	}
	if len(s.Due.Feed) == 0 && !s.Due.Review {
		fmt.Fprintln(w, "  nothing")
	}
	fmt.Fprintf(w, "  next feeding: %s; next review: %s\n", dayWords(s.Due.NextFeed), dayWords(s.Due.NextReview))
}

func (s *planSummary) printMixes(w io.Writer) {
	fmt.Fprintf(w, "\nMixes on day %d (a gallon is the US gallon)\n", s.Day)
	for _, t := range s.Treatments {
		if len(t.Mix) == 0 {
			fmt.Fprintf(w, "  %s: water\n", t.Name)
			continue
		}
		fmt.Fprintf(w, "  %s\n", t.Name)
		for _, m := range t.Mix {
			tray := ""
			if m.TrayML > 0 {
				tray = fmt.Sprintf("%s mL for a tray's %s mL, ", terminal.Digits(m.MLPerTray), terminal.Digits(m.TrayML))
			}
			fmt.Fprintf(w, "    %s: %s%s\n", m.Product, tray, m.Dose)
		}
	}
}

func dayWords(day *int) string {
	if day == nil {
		return "none"
	}
	return "day " + strconv.Itoa(*day)
}
