package demo

import (
	"bytes"
	_ "embed"
	"fmt"
	"strconv"
	"time"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
)

//go:embed trial.yaml
var trialYAML []byte

// movedFeeding was given a day late: what was done counts, not what was planned.
var movedFeeding = map[int]int{17: 18}

// notes are the log's lines beside the feedings.
var notes = map[int]string{
	0:  ",note,,,,all trays sown and covered",
	4:  ",lamp,,,,covers off and lamp on: 16 hours a day",
	16: "6,note,,,,a tray of water was left under it overnight",
	18: ",note,,,,fed a day late",
	23: ",lamp,,,,raised by 10 cm",
}

// logOf writes the log of a trial that was fed as planned but for one day. Times are in the trial's zone.
func logOf(p *plan.Plan) []byte {
	var out bytes.Buffer
	fmt.Fprintln(&out, logbook.Header)
	fed := map[int]int{} // the day it was done → the day it was planned for
	for _, day := range p.FeedDays {
		done := day
		if moved, ok := movedFeeding[day]; ok {
			done = moved
		}
		fed[done] = day
	}
	for day := range p.ReviewDays[len(p.ReviewDays)-1] + 1 {
		morning := p.DateOf(day).Add(8 * time.Hour)
		if note, ok := notes[day]; ok {
			fmt.Fprintf(&out, "%s,%s\n", morning.Format(time.RFC3339), note)
		}
		if _, ok := fed[day]; ok {
			feed(&out, p, day, morning.Add(2*time.Hour+30*time.Minute))
		}
	}
	return out.Bytes()
}

// feed writes a line for each tray and product; a tray that gets no product has a line with its water only.
func feed(out *bytes.Buffer, p *plan.Plan, day int, from time.Time) {
	for i, t := range p.Trays {
		when := from.Add(time.Duration(i) * 4 * time.Minute).Format(time.RFC3339)
		water := strconv.FormatFloat(p.Volume.MLPerTray, 'f', -1, 64)
		given := false
		for _, d := range p.Treatment(t.Treatment).Gets {
			if d.FromDay > day {
				continue
			}
			if given { // one can of water for all of the tray's products
				water = ""
			}
			given = true
			fmt.Fprintf(out, "%s,%d,%s,%s,%.2f,%s,\n", when, t.Number, logbook.Feeding, d.Product, d.MLFor(p.Volume.MLPerTray), water)
		}
		if !given {
			fmt.Fprintf(out, "%s,%d,%s,,,%s,\n", when, t.Number, logbook.Feeding, water)
		}
	}
}
