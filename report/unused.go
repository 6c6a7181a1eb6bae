package report

import (
	"strings"

	"traygauge/measure/reading"
)

// whyUnused says why a photo could not be used and what to do about it.
func whyUnused(r reading.Reading) string {
	switch c := r.ExcludedBy(); {
	case c != nil:
		return "excluded" + byWhom(c.Who) + ": " + c.Why
	case len(r.Concerns) > 0:
		var sentences []string
		for _, concern := range r.Concerns {
			sentences = append(sentences, concern.Sentence())
		}
		return strings.Join(sentences, "; ")
	case r.View == "":
		return "no card was found: put the card beside the tray and take the photo again"
	case r.Tray <= 0:
		return "no tray tag was found: put the tray’s tag beside the card and take the photo again"
	}
	return "no plug was found: step back until the whole tray is in view"
}
