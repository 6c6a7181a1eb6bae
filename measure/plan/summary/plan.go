// Package summary summarises a plan on one day: mistakes, what the trial can show, what is due, what was moved and what to mix.
//
//	in    a trial's folder, a day, and how much trays and plugs vary
//	out   findings, and the summary of a plan without mistakes, with the names that scripts read in JSON
//
// It must not depend on the terminal or on how comparisons are made.
package summary

import (
	"errors"
	"time"

	"traygauge/measure/compare/planning"
	"traygauge/measure/finding"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
)

// Checked is all that `check` says.
type Checked struct {
	Findings []finding.Finding `json:"findings"`
	Plan     *Plan             `json:"plan,omitempty"` // absent when the plan has mistakes
}

// Plan sums up a plan without mistakes as of one day.
type Plan struct {
	Title      string      `json:"title"`
	Date       string      `json:"date"`
	Day        int         `json:"day"` // since sowing
	Plugs      int         `json:"plugs_per_tray"`
	Treatments []Treatment `json:"treatments"`
	Due        Due         `json:"due"`

	Places  Places  `json:"places"`
	Shows   []Shows `json:"shows"`
	Moved   []Moved `json:"moved"`
	Feeding Feeding `json:"feeding"`
}

// Treatment is one treatment with its controls and trays.
type Treatment struct {
	Name        string   `json:"name"`
	CompareWith []string `json:"compare_with"`
	Trays       []int    `json:"trays"`
	Mix         []Mix    `json:"mix"` // on that day
}

// Mix is what goes into one tray's volume.
type Mix struct {
	Product     string  `json:"product"`
	Dose        string  `json:"dose"` // as the plan writes it
	MLPerL      float64 `json:"ml_per_l"`
	MLPerGallon float64 `json:"ml_per_us_gallon"`
	MLPerTray   float64 `json:"ml_per_tray,omitempty"` // absent when the plan gives no volume
	TrayML      float64 `json:"tray_ml,omitempty"`
}

// Due is what is to be done on the day.
type Due struct {
	Feed       []int `json:"feed_trays"`
	LateDays   int   `json:"late_days"`
	Review     bool  `json:"review"`
	NextFeed   *int  `json:"next_feeding_day"` // null: none
	NextReview *int  `json:"next_review_day"`
}

// Check checks the plan and the log of the trial in folder dir, and sums the plan up: as of the date on, or where that is zero of the day that
// now falls on at the trial. It is an error if there is no plan or a file cannot be read; mistakes are findings.
func Check(dir string, now, on time.Time, variations []planning.Variation) (Checked, error) {
	p, findings, err := plan.Load(dir)
	var mistakes *finding.MistakesError
	if err != nil && !errors.As(err, &mistakes) {
		return Checked{}, err
	}
	entries, logFindings, err := logbook.Load(dir)
	if err != nil {
		return Checked{}, err
	}
	if p != nil {
		logFindings = append(logFindings, logbook.Fits(p, entries, logbook.FileName)...)
	}
	c := Checked{Findings: append(append([]finding.Finding{}, findings...), logFindings...)} // never nil: a list in JSON
	if p != nil {
		day := p.DayOf(now)
		if !on.IsZero() { // a date on the trial's own calendar, whatever this computer's zone
			day = p.DayOf(time.Date(on.Year(), on.Month(), on.Day(), 12, 0, 0, 0, p.Zone))
		}
		c.Plan = sumUp(p, day, entries)
		c.Plan.design(p, variations)
		c.Plan.moves(p, day, entries, photoDays(p, dir))
	}
	return c, nil
}

// sumUp gathers what the summary says of p on a day.
func sumUp(p *plan.Plan, day int, log []logbook.Entry) *Plan {
	due := logbook.DueOn(p, day, log)
	s := &Plan{
		Title: p.Title, Date: p.DateOf(day).Format("2006-01-02"), Day: day, Plugs: p.Tray.Rows * p.Tray.Columns,
		Due: Due{Feed: append([]int{}, due.Feed...), LateDays: due.Late(), Review: due.Review, NextFeed: known(due.NextFeed), NextReview: known(due.NextReview)},
	}
	for i := range p.Treatments {
		t := &p.Treatments[i]
		ts := Treatment{t.Name, append([]string{}, t.CompareWith...), append([]int{}, p.TraysOf(t.Name)...), []Mix{}}
		for _, d := range t.On(day) {
			ts.Mix = append(ts.Mix, Mix{d.Product, d.Words(), d.MLPerL, d.MLPerGallon(), d.MLFor(p.Volume.MLPerTray), p.Volume.MLPerTray})
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
