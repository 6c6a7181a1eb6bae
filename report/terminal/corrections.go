package terminal

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/wording"
)

// CorrectionLine says in a line what a correction does, such as
//
//	3: day-14/tray-07-roots.jpg: plug B7 excluded: eaten by slugs (Ana, 2026-03-16 09:30)
func CorrectionLine(c correct.Correction) string {
	words := []string{strconv.Itoa(c.ID)}
	if c.Photo != "" {
		words = append(words, wording.Shown(c.Photo))
	}
	return fmt.Sprintf("%s (%s, %s)", strings.Join(append(words, c.Does(), wording.Shown(c.Why)), ": "), wording.Shown(c.Who), c.When.Format("2006-01-02 15:04"))
}

// WriteCorrections writes all corrections to w, and to tell which lines do not count.
func WriteCorrections(w, tell io.Writer, l correct.List) {
	for _, c := range l.Corrections {
		line := CorrectionLine(c.Correction)
		if c.UndoneBy != 0 {
			line += fmt.Sprintf(", undone by %d", c.UndoneBy)
		}
		fmt.Fprintln(w, line)
	}
	for _, p := range l.Problems {
		fmt.Fprintln(tell, p)
	}
	if len(l.Corrections)+len(l.Problems) == 0 {
		fmt.Fprintln(tell, "Nothing was corrected.")
	}
}
