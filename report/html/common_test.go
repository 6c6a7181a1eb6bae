package html

import (
	"strings"
	"testing"
)

// Where all treatments have one control, the buttons that choose a treatment do not repeat it: of twenty treatments they were two screens of a
// phone.
func TestOneControlIsNamedOnce(t *testing.T) {
	_, text := sixtyOnce(t)
	_, pairs, _ := strings.Cut(text, `class="pairs"`)
	pairs, _, _ = strings.Cut(pairs, "</fieldset>")
	if n := strings.Count(pairs, "ater only"); strings.Count(pairs, "<label") < 15 || n > strings.Count(pairs, `value="`)+1 {
		t.Errorf("the control is named %d times: %.300s", n, pairs)
	}
	_, text = threeOnce(t) // two controls
	_, pairs, _ = strings.Cut(text, `class="pairs"`)
	pairs, _, _ = strings.Cut(pairs, "</fieldset>")
	if !strings.Contains(pairs, "and water only") || !strings.Contains(pairs, "and base feed") {
		t.Errorf("a pair lacks its control: %.400s", pairs)
	}
}
