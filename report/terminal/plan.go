package terminal

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"traygauge/measure/plan/summary"
	"traygauge/measure/wording"
)

// planWords is a plan's summary while it is put into words.
type planWords struct{ *summary.Plan }

// WriteChecked writes what was found in the trial in folder dir, and the plan's summary.
func WriteChecked(w io.Writer, c summary.Checked, dir string) error {
	var out bytes.Buffer
	WriteFindings(&out, c.Findings, dir)
	if c.Plan != nil {
		planWords{c.Plan}.print(&out)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// print writes the summary for people.
func (s planWords) print(w io.Writer) {
	fmt.Fprintf(w, "%s: %s (%s), trays of %d plugs\n\nTreatments\n", s.Title, todayWords(s.Day), s.Date, s.Plugs)
	for _, t := range s.Treatments {
		control := "no control"
		if len(t.CompareWith) > 0 {
			control = "against " + strings.Join(t.CompareWith, " and against ")
		}
		fmt.Fprintf(w, "  %s: %s; %s\n", t.Name, wording.Trays(t.Trays), control)
	}
	s.printDesign(w)
	s.printDue(w)
	s.printMoves(w)
	s.printMixes(w)
	s.printFeeding(w)
	fmt.Fprintln(w, "  Follow each product’s label. Wear gloves and eye protection. Add concentrate to water, and never mix concentrates.")
}

func (s planWords) printDue(w io.Writer) {
	on := ""
	if s.Day >= 0 {
		on = fmt.Sprintf(" on day %d", s.Day)
	}
	fmt.Fprintf(w, "\nDue%s\n", on)
	if len(s.Due.Feed) > 0 {
		late := ""
		if s.Due.LateDays > 0 {
			late = fmt.Sprintf(", planned for day %d but not in the log", s.Day-s.Due.LateDays)
		}
		fmt.Fprintf(w, "  feed %s%s\n", wording.Trays(s.Due.Feed), late)
	}
	if s.Due.Review {
		fmt.Fprintln(w, "  photograph every tray from above and from below")
	}
	if len(s.Due.Feed) == 0 && !s.Due.Review {
		fmt.Fprintln(w, "  nothing")
	}
	fmt.Fprintf(w, "  next feeding: %s; next review: %s\n", dayWords(s.Due.NextFeed), dayWords(s.Due.NextReview))
}

func (s planWords) printMixes(w io.Writer) {
	if len(s.Due.Feed) == 0 {
		return // nobody mixes anything today
	}
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
				tray = fmt.Sprintf("%s mL for a tray’s %s mL, ", digits(m.MLPerTray), digits(m.TrayML))
			}
			fmt.Fprintf(w, "    %s: %s%s\n", m.Product, tray, m.Dose)
		}
	}
}

// todayWords is the day that a plan is summed up for.
func todayWords(day int) string {
	if day < 0 {
		return wording.Counted(-day, "day", "days") + " before sowing"
	}
	return fmt.Sprintf("day %d", day)
}

func dayWords(day *int) string {
	if day == nil {
		return "none"
	}
	return "day " + strconv.Itoa(*day)
}
