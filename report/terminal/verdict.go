package terminal

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// The verdicts on a photo, as they are printed.
const (
	good   = string(reading.VerdictGood)
	doubt  = string(reading.VerdictDoubt)
	retake = string(reading.VerdictRetake)
	unfit  = string(reading.VerdictUnusable)
)

// verdictOn returns the verdict on a photo as it is printed.
func verdictOn(r reading.Reading) string { return string(r.Verdict()) }

// WriteVerdict writes a photo's line, such as
//
//	day-14/tray-07-roots.jpg: tray 7, day 14, roots: doubt: the light falls off by 40 %: move the lamp
func WriteVerdict(w io.Writer, p *plan.Plan, r reading.Reading) {
	parts := []string{wording.Shown(r.Photo)}
	if what := shotWords(p, r); what != "" {
		parts = append(parts, what)
	}
	parts = append(parts, coloured(w, verdictOn(r)))
	var reasons []string
	if c := r.ExcludedBy(); c != nil {
		reasons = append(reasons, "by "+c.Who+", "+c.Why)
	}
	for _, c := range r.Concerns {
		reasons = append(reasons, concernWords(c))
	}
	if len(reasons) > 0 {
		parts = append(parts, strings.Join(reasons, "; "))
	}
	fmt.Fprintln(w, strings.Join(parts, ": "))
}

func concernWords(c reading.Concern) string {
	words := c.Words
	if c.Bias != "" {
		words += "; " + c.Bias
	}
	if c.Remedy == "" {
		return words
	}
	return words + ": " + c.Remedy
}

// shotWords says what the photo is of, as far as it is known.
func shotWords(p *plan.Plan, r reading.Reading) string {
	var words []string
	if r.Tray > 0 {
		words = append(words, "tray "+strconv.Itoa(r.Tray))
	}
	if r.View == "" {
		return strings.Join(words, ", ")
	}
	if !r.Taken.IsZero() {
		words = append(words, "day "+strconv.Itoa(p.DayOf(r.Taken)))
	}
	return strings.Join(append(words, r.View.Words()), ", ")
}

// coloured colours a verdict on a terminal that shows colours and whose user wants them (no-color.org). The word says the same.
func coloured(w io.Writer, verdict string) string {
	if os.Getenv("NO_COLOR") != "" || !IsTerminal(w) {
		return verdict
	}
	code := map[string]string{good: "32", doubt: "33", retake: "31", unfit: "31"}[verdict]
	return "\x1b[" + code + "m" + verdict + "\x1b[0m"
}

// aboutPhotos names the photos of a concern, the first three of many.
func aboutPhotos(photos []string) []string {
	const most = 3
	var names []string
	for _, name := range photos[:min(len(photos), most)] {
		names = append(names, wording.Shown(name))
	}
	if len(photos) == 0 {
		return nil
	}
	words := strings.Join(names, ", ")
	if more := len(photos) - most; more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return []string{words}
}
