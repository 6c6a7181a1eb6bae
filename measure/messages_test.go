package measure

import (
	"errors"
	"strings"
	"testing"

	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
)

// A list of plugs with commas, as people write one, is refused with what to write instead.
func TestPlugsWithCommas(t *testing.T) {
	p := &plan.Plan{}
	p.Tray.Rows, p.Tray.Columns = 5, 10
	for _, name := range []string{"B7,B8", "B7;B8", "B7-B9"} {
		if err := checkPlug(p, name); err == nil || !strings.HasSuffix(err.Error(), "only A1 to E10: list plugs one by one with spaces between them, such as B7 B8") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := checkPlug(p, "F1"); err == nil || err.Error() != `the tray has no plug "F1", only A1 to E10` {
		t.Errorf("%v", err)
	}
}

// On a full disk the first three photos are named, and the others counted.
func TestResultsThatCannotBeWritten(t *testing.T) {
	full := errors.New("no space left on device")
	for n, want := range map[int]string{3: "c.jpg: no space left on device", 4: "and 1 more photo with results that could not be written", 5: "and 2 more photos with results that could not be written"} {
		r := &run{}
		for _, name := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg"}[:n] {
			r.files, r.answers = append(r.files, trialdir.File{Name: name}), append(r.answers, answer{err: full})
		}
		if lines := strings.Split(r.errs().Error(), "\n"); lines[len(lines)-1] != want {
			t.Errorf("%d photos: %q, want %q at the end", n, lines, want)
		}
	}
}
