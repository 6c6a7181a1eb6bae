package logbook

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/plan"
)

// A tray that missed a feeding is no fair match for the others, and a feeding that was forgotten in the log reads the same: the checker asks.
func TestFeedingsThatSomeTraysMissed(t *testing.T) {
	p := departing()
	p.Trays = append(p.Trays, plan.Tray{Number: 3, Treatment: "water"}, plan.Tray{Number: 4, Treatment: "feed"})
	line := func(day int, tray, what string) string {
		return p.DateOf(day).Format("2006-01-02") + "T12:00:00Z," + tray + "," + what + ",,,,\n"
	}
	for _, c := range []struct {
		log  string
		want string
	}{
		{line(7, "1", Feeding) + line(7, "2", Feeding) + line(8, "3", Feeding) + line(14, "4", Feeding), "log.csv:4: warning: tray 4 has no feeding around day 7, when most trays were fed"},
		{line(7, "1", Feeding) + line(7, "2", Feeding) + line(7, "3", Feeding), ""},                                                // the day may not be over
		{line(7, "1", Feeding) + line(7, "2", Feeding) + line(14, "4", Feeding), ""},                                               // half: only what was different is written down
		{line(7, "", Feeding) + line(14, "4", Feeding), ""},                                                                        // all
		{line(7, "1", Feeding) + line(7, "2", Feeding) + line(7, "3", Feeding) + line(7, "4", "note") + line(14, "", "note"), ""},  // somebody wrote why
		{line(5, "4", Feeding) + line(7, "1", Feeding) + line(7, "2", Feeding) + line(7, "3", Feeding) + line(14, "", "note"), ""}, // moved
	} {
		entries, _ := Parse([]byte(Header+"\n"+c.log), FileName)
		var said []string
		for _, f := range Fits(p, entries, FileName) {
			said = append(said, f.String())
		}
		if (len(said) > 0) != (c.want != "") || !strings.HasPrefix(strings.Join(said, "|"), c.want) {
			t.Errorf("%swant %q, found %s", c.log, c.want, fmt.Sprint(said))
		}
	}
}
