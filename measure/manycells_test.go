package measure

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A tray of 288 cells is measured like any other: a plant in all but the two cells that are empty.
func TestATrayOf288Cells(t *testing.T) {
	tray := synth.Tray{Rows: 12, Columns: 24, LengthMM: 540, WidthMM: 280, PitchMM: 21, FirstU: 28.5, FirstV: 24.5, PlugBottomMM: 13}
	for _, face := range []card.Face{card.Shoots} {
		s := synth.Defaults(face)
		s.Resize(2600, 1950)
		s.Light.BlurPX = 0.5
		s.Tray, s.Perlite = tray, 2
		s.Plants = map[string]synth.Plant{}
		for i, cell := range tray.Cells() {
			if cell != "A7" && cell != "L24" {
				s.Plants[cell] = synth.Plant{Plug: true, Leaves: 2, LeafLengthMM: 6, RootLengthMM: float64(20 + i%5*10)}
			}
		}
		r, _ := measured(t, s, testtray.Plan(tray, 0), true)
		if r.Verdict() == reading.VerdictRetake || r.Verdict() == reading.VerdictUnusable || len(r.Plugs) != 288 || len(r.Concerns) > 1 {
			t.Fatalf("%v: %s, %d plugs, %+v", face, r.Verdict(), len(r.Plugs), r.Concerns)
		}
		empty := 0
		for _, p := range r.Plugs {
			empty += count(p.State == reading.Empty)
			if (p.Name == "A7" || p.Name == "L24") && p.State != reading.Empty {
				t.Errorf("%v: %s is %s", face, p.Name, p.State)
			}
		}
		if empty > 8 {
			t.Errorf("%v: %d cells are empty, two are", face, empty)
		}
	}
}

// What the program itself got wrong is called that, with its text, and is no one's fault but the program's; what cannot be read is still the file's.
func TestAnErrorOfTheProgramIsCalledThat(t *testing.T) {
	got := concernOf(fmt.Errorf("coverage: 3 channels instead of 13"))
	if got.Kind != reading.InternalError || !got.Fatal || !strings.Contains(got.Words, "coverage: 3 channels instead of 13") || strings.Contains(got.Remedy, "may read it") {
		t.Errorf("%+v", got)
	}
	r := reading.Reading{Concerns: []reading.Concern{got}}
	if r.Verdict() != reading.VerdictUnusable {
		t.Errorf("the verdict is %q", r.Verdict())
	}
	refusal := &vision.Refusal{Kind: "unreadable", Words: "cannot be read", Remedy: "check that you have permission to read it"}
	if got := concernOf(errors.Join(refusal)); got.Kind != "unreadable" {
		t.Errorf("%+v", got)
	}
}
