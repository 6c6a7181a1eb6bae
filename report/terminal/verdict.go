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

// WriteVerdict writes a photo's line, such as
//
//	day-14/tray-07-roots.jpg: tray 7, day 14, roots: doubt: the light falls off by 40 %: move the lamp
func WriteVerdict(w io.Writer, p *plan.Plan, r reading.Reading) {
	parts := []string{wording.Shown(r.Photo)}
	if what := shotWords(p, r); what != "" {
		parts = append(parts, what)
	}
	parts = append(parts, coloured(w, r.Verdict()))
	var reasons []string
	if c := r.ExcludedBy(); c != nil {
		reasons = append(reasons, "by "+c.Who+", "+c.Why)
	}
	for _, c := range r.Concerns {
		reasons = append(reasons, c.Sentence())
	}
	if len(reasons) > 0 {
		parts = append(parts, strings.Join(reasons, "; "))
	}
	fmt.Fprintln(w, strings.Join(parts, ": "))
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
func coloured(w io.Writer, verdict reading.Verdict) string {
	if os.Getenv("NO_COLOR") != "" || !IsTerminal(w) {
		return string(verdict)
	}
	code := map[reading.Verdict]string{reading.VerdictGood: "32", reading.VerdictDoubt: "33", reading.VerdictRetake: "31", reading.VerdictUnusable: "31"}[verdict]
	return "\x1b[" + code + "m" + string(verdict) + "\x1b[0m"
}

// aboutPhotos names the photos of a concern, the first three of many.
func aboutPhotos(photos []string) []string {
	if len(photos) == 0 {
		return nil
	}
	names := make([]string, len(photos))
	for i, name := range photos {
		names[i] = wording.Shown(name)
	}
	return []string{wording.First(names, 3)}
}
