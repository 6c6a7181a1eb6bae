package terminal

import (
	"fmt"
	"strconv"
	"strings"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
)

// CorrectionLine says in a line what a correction does, such as
//
//	3: day-14/tray-07-roots.jpg: plug B7 excluded: eaten by slugs (Ana, 2026-03-16 09:30)
func CorrectionLine(c correct.Correction) string {
	words := []string{strconv.Itoa(c.ID)}
	if c.Photo != "" {
		words = append(words, reading.Shown(c.Photo))
	}
	return fmt.Sprintf("%s (%s, %s)", strings.Join(append(words, c.Does(), reading.Shown(c.Why)), ": "), reading.Shown(c.Who), c.When.Format("2006-01-02 15:04"))
}
