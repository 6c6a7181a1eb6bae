package terminal

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"traygauge/measure/plan/summary"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

func (s planWords) printDesign(w io.Writer) {
	fmt.Fprintln(w, "\nPositions on the bench")
	switch {
	case s.Places.Seed > 0:
		fmt.Fprintf(w, "  assigned at random with seed %d; `traygauge print` makes the bench map\n", s.Places.Seed)
	case s.Places.Given > 0:
		fmt.Fprintln(w, "  set in the plan, but without places_seed, so they may not be random: `traygauge check --draw-places` assigns positions at random and prints the seed")
	default:
		fmt.Fprintln(w, "  none yet: `traygauge check --draw-places` assigns positions at random and prints the seed")
	}
	for _, shows := range s.Shows {
		if len(shows.Of) > 0 {
			printShows(w, shows)
		}
	}
}

// printShows writes what the trial can show, and what more, smaller trays would gain.
func printShows(w io.Writer, shows summary.Shows) {
	what := shows.Variation.Quantity
	if what == "" {
		what = "a size such as root or leaf area"
	}
	fmt.Fprintf(w, "\nSmallest difference in %s that 8 of 10 such trials would detect (5 %% false alarms)\n", what)
	head := []string{"treatment", "against", "trays", "as planned"}
	for _, k := range shows.Of[0].Split {
		head = append(head, fmt.Sprintf("with %d trays of %d plugs each", k.TraysForOne, k.PlugsEach))
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
	WriteAligned(&out, rows)
	io.WriteString(w, out.String())
	if none {
		fmt.Fprintln(w, "  none: with one tray per treatment, the trial cannot tell a treatment’s effect from the difference between two trays")
	}
	v := shows.Variation
	fmt.Fprintf(w, "  Assumed variation (CV): %s %% between trays treated alike, %s %% between plugs in a tray (%s).\n", digits(v.TrayCVPct), digits(v.PlugCVPct), v.Source)
}

// ratioWords is a smallest ratio and what it is downwards.
func ratioWords(r reading.Number) string {
	if !r.Known() {
		return "none"
	}
	if r >= 10 {
		return "× " + digits(float64(r))
	}
	return fmt.Sprintf("× %.2f or × %.2f", float64(r), 1/float64(r))
}

func (s planWords) printMoves(w io.Writer) {
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
			which = " for " + wording.Trays(m.Trays)
		}
		why := "no reason in the log"
		if len(m.Why) > 0 {
			why = "log: " + strings.Join(m.Why, "; ")
		}
		fmt.Fprintf(w, "  the %s of day %d was on day %d%s (%s)\n", m.What, m.Planned, m.Done, which, why)
	}
}

// printFeeding writes what each feeding day takes for all trays together.
func (s planWords) printFeeding(w io.Writer) {
	for _, f := range s.Feeding.Days {
		fmt.Fprintf(w, "\nTo mix for all trays, feeding %s\n", wording.Days(f.Days))
		rows := [][]string{}
		for _, m := range f.Mixes {
			trays := "1 tray"
			if m.Trays > 1 {
				trays = strconv.Itoa(m.Trays) + " trays"
			}
			water := ""
			if m.TotalML > 0 {
				water = digits(m.TotalML/1000) + " L"
			}
			var doses []string
			for _, d := range m.Doses {
				total := ""
				if d.TotalML > 0 {
					total = digits(d.TotalML) + " mL "
				}
				doses = append(doses, fmt.Sprintf("%s%s at %s", total, d.Product, d.Dose))
			}
			if len(doses) == 0 {
				doses = []string{"water"}
			}
			rows = append(rows, []string{m.Treatment, trays, water, strings.Join(doses, ", ")})
		}
		var out strings.Builder
		WriteAligned(&out, rows)
		io.WriteString(w, out.String())
	}
	var totals []string
	for _, t := range s.Feeding.Totals {
		totals = append(totals, digits(t.ML)+" mL "+t.Product)
	}
	if len(totals) > 0 {
		fmt.Fprintf(w, "  Total for the whole trial: %s.\n", strings.Join(totals, ", "))
	}
}
