package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure"
	"traygauge/measure/compare"
	"traygauge/measure/compare/planning"
	"traygauge/measure/plan"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

// placesSummary says whether the places were drawn by lot.
type placesSummary struct {
	Given int `json:"given"`          // trays with a place
	Seed  int `json:"seed,omitempty"` // absent when nothing says how they were drawn
}

// showsSummary is what the trial can show with trays and plugs that vary so much.
type showsSummary struct {
	Variation planning.Variation `json:"variation"`
	Of        []planning.Shows   `json:"of"`
}

// variationsFrom reads how much trays varied in past trials; without any it is what is usual.
func variationsFrom(past []string, std *streams) ([]planning.Variation, error) {
	var results []*compare.Result
	for _, dir := range past {
		trial, err := fromfolder.Read(dir, version(), std.Err)
		if err != nil {
			return nil, err
		}
		r, err := trial.Compare(compare.Options{}, std.Err)
		if err != nil {
			return nil, err
		}
		results = append(results, r)
	}
	if len(past) == 0 {
		return []planning.Variation{planning.UsualVariation}, nil
	}
	variations := planning.PastVariation(results...)
	if len(variations) == 0 {
		fmt.Fprintln(std.Err, "No past trial has two trays of one treatment with root or leaf areas: usual values are used instead.")
		return []planning.Variation{planning.UsualVariation}, nil
	}
	return variations, nil
}

// design works out what the trial can show.
func (s *planSummary) design(p *plan.Plan, variations []planning.Variation) {
	s.Places.Seed = p.PlacesSeed
	for _, t := range p.Trays {
		if t.Position > 0 {
			s.Places.Given++
		}
	}
	s.Shows = []showsSummary{}
	for _, v := range variations {
		s.Shows = append(s.Shows, showsSummary{v, planning.WhatPlanShows(p, v)})
	}
}

func (s *planSummary) printDesign(w io.Writer) {
	fmt.Fprintln(w, "\nPositions on the bench")
	switch {
	case s.Places.Seed > 0:
		fmt.Fprintf(w, "  drawn by lot with seed %d; the sheets of `traygauge print` hold the bench map\n", s.Places.Seed)
	case s.Places.Given > 0:
		fmt.Fprintln(w, "  given, but the plan does not say how they were drawn: `traygauge check --draw-places` draws them by lot with a seed to write down")
	default:
		fmt.Fprintln(w, "  none yet: `traygauge check --draw-places` draws them by lot with a seed to write down")
	}
	for _, shows := range s.Shows {
		if len(shows.Of) > 0 {
			printShows(w, shows, s.Plugs)
		}
	}
}

// printShows writes what the trial can show, and what more, smaller trays would gain.
func printShows(w io.Writer, shows showsSummary, plugs int) {
	what := shows.Variation.Quantity
	if what == "" {
		what = "a size such as root or leaf area"
	}
	fmt.Fprintf(w, "\nSmallest difference in %s that shows in 8 of 10 such trials (5 %% false alarms)\n", what)
	head := []string{"treatment", "against", "trays", "as planned"}
	for _, k := range shows.Of[0].Split {
		head = append(head, fmt.Sprintf("%d trays of %d plugs for each of %d", k.TraysForOne, k.PlugsEach, plugs))
	}
	rows := [][]string{head}
	none := false
	for _, o := range shows.Of {
		row := []string{o.Treatment, o.Control, fmt.Sprintf("%d : %d", o.Trays, o.ControlTrays), ratioWords(o.SmallestRatio)}
		for _, k := range o.Split {
			row = append(row, ratioWords(k.SmallestRatio))
		}
		none = none || !o.SmallestRatio.Known()
		rows = append(rows, row)
	}
	var out strings.Builder
	terminal.WriteAligned(&out, rows)
	io.WriteString(w, out.String())
	if none {
		fmt.Fprintln(w, "  none: without a second tray of a treatment, a difference between treatments cannot be separated from one between trays")
	}
	v := shows.Variation
	fmt.Fprintf(w, "  Assumed: trays treated alike vary by %s %% (CV), plugs of one tray by %s %% (%s).\n", terminal.Digits(v.TrayCVPct), terminal.Digits(v.PlugCVPct), v.Source)
}

// ratioWords is a smallest ratio and what it is downwards.
func ratioWords(r measure.Number) string {
	if !r.Known() {
		return "none"
	}
	if r >= 10 {
		return "× " + terminal.Digits(float64(r))
	}
	return fmt.Sprintf("× %.2f or × %.2f", float64(r), 1/float64(r))
}

// movedSummary is work that was done on another day than planned.
type movedSummary struct {
	What    string   `json:"what"`
	Planned int      `json:"planned_day"`
	Done    int      `json:"done_day"`
	Trays   []int    `json:"trays"`
	Why     []string `json:"why"`
}

// photoDays tells which trays were photographed on which days, from the readings; none when nothing was measured yet.
func photoDays(p *plan.Plan, dir string) map[int][]int {
	readings, _ := measure.LoadReadings(dir) // a broken one is reported where readings are used
	days := map[int][]int{}
	for _, r := range readings {
		if day := p.DayOf(r.Taken); r.Tray > 0 && !r.Taken.IsZero() && !slices.Contains(days[day], r.Tray) {
			days[day] = append(days[day], r.Tray)
		}
	}
	return days
}

func (s *planSummary) moves(p *plan.Plan, day int, log []plan.Entry, photographed map[int][]int) {
	s.Moved = []movedSummary{}
	for _, m := range p.Moves(day, log, photographed) {
		s.Moved = append(s.Moved, movedSummary{m.What, m.Planned, m.Done, m.Trays, append([]string{}, m.Why...)})
	}
}

func (s *planSummary) printMoves(w io.Writer) {
	if len(s.Moved) == 0 {
		return
	}
	fmt.Fprintln(w, "\nMoved")
	trays := 0
	for _, t := range s.Treatments {
		trays += len(t.Trays)
	}
	for _, m := range s.Moved {
		which := ""
		if len(m.Trays) < trays {
			which = " for " + terminal.TraysInWords(m.Trays)
		}
		why := "the log does not say why"
		if len(m.Why) > 0 {
			why = "log: " + strings.Join(m.Why, "; ")
		}
		fmt.Fprintf(w, "  the %s of day %d was on day %d%s (%s)\n", m.What, m.Planned, m.Done, which, why)
	}
}

// feedingSummary is what all feeding days take.
type feedingSummary struct {
	Days   []feedingDays  `json:"days"`
	Totals []productTotal `json:"totals"`
}

type feedingDays struct {
	Days  []int        `json:"days"`
	Mixes []feedingMix `json:"mixes"`
}

type feedingMix struct {
	Treatment string        `json:"treatment"`
	Trays     int           `json:"trays"`
	TotalML   float64       `json:"total_ml,omitempty"` // absent when the plan gives no volume
	Doses     []feedingDose `json:"doses"`
}

type feedingDose struct {
	Product     string  `json:"product"`
	Dose        string  `json:"dose"` // as the plan writes it
	MLPerL      float64 `json:"ml_per_l"`
	MLPerGallon float64 `json:"ml_per_us_gallon"`
	TotalML     float64 `json:"total_ml,omitempty"`
}

type productTotal struct {
	Product string  `json:"product"`
	ML      float64 `json:"ml"`
}

func feedingOf(p *plan.Plan) feedingSummary {
	s := feedingSummary{[]feedingDays{}, []productTotal{}}
	for _, f := range p.FeedingPlan() {
		days := feedingDays{f.Days, []feedingMix{}}
		for _, m := range f.Mixes {
			mix := feedingMix{m.Treatment, m.Trays, m.TotalML, []feedingDose{}}
			for _, d := range m.Doses {
				mix.Doses = append(mix.Doses, feedingDose{d.Product, d.Words(), d.MLPerL, d.MLPerGallon(), d.MLFor(m.TotalML)})
			}
			days.Mixes = append(days.Mixes, mix)
		}
		s.Days = append(s.Days, days)
	}
	for _, t := range p.ProductTotals() {
		s.Totals = append(s.Totals, productTotal{t.Product, t.ML})
	}
	return s
}

// printFeeding writes what each feeding day takes for all trays together.
func (s *planSummary) printFeeding(w io.Writer) {
	for _, f := range s.Feeding.Days {
		fmt.Fprintf(w, "\nTo mix for all trays, feeding %s\n", terminal.DaysInWords(f.Days))
		rows := [][]string{}
		for _, m := range f.Mixes {
			trays := "1 tray"
			if m.Trays > 1 {
				trays = strconv.Itoa(m.Trays) + " trays"
			}
			water := ""
			if m.TotalML > 0 {
				water = terminal.Digits(m.TotalML/1000) + " L"
			}
			var doses []string
			for _, d := range m.Doses {
				total := ""
				if d.TotalML > 0 {
					total = terminal.Digits(d.TotalML) + " mL "
				}
				doses = append(doses, fmt.Sprintf("%s%s at %s", total, d.Product, d.Dose))
			}
			if len(doses) == 0 {
				doses = []string{"water"}
			}
			rows = append(rows, []string{m.Treatment, trays, water, strings.Join(doses, ", ")})
		}
		var out strings.Builder
		terminal.WriteAligned(&out, rows)
		io.WriteString(w, out.String())
	}
	var totals []string
	for _, t := range s.Feeding.Totals {
		totals = append(totals, terminal.Digits(t.ML)+" mL "+t.Product)
	}
	if len(totals) > 0 {
		fmt.Fprintf(w, "  The whole trial takes %s.\n", strings.Join(totals, ", "))
	}
}
