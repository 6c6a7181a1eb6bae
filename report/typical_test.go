package report

import (
	"testing"

	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

func plugNames(plugs []PlugRow) (names []string) {
	for _, p := range plugs {
		names = append(names, p.Name)
	}
	return names
}

func TestTypicalIsNearestTheMedianAndNotTheBest(t *testing.T) {
	// The median of 10 20 31 40 500 is 31. From it A2 is 11 away, A4 9, A1 21 and A5 469.
	plugs := testtrial.Placed(testtrial.RootPlug("A1", 10, 0), testtrial.RootPlug("A2", 20, 0), testtrial.RootPlug("A3", 31, 0), testtrial.RootPlug("A4", 40, 0), testtrial.RootPlug("A5", 500, 0),
		testtrial.NoPlug("B1", reading.Empty), testtrial.NoPlug("B2", reading.Hidden))
	out := testtrial.RootPlug("B3", 31, 0)
	out.State, out.Place = reading.Excluded, &reading.Place{AlongX: 4}
	plugs = append(plugs, out)
	trial := Collect(testtrial.Plan(), []reading.Reading{testtrial.Reading("a.jpg", 7, "roots", testtrial.Taken(10, 9, 0), plugs...)})
	for n, want := range map[int]string{0: "", 1: "A3", 2: "A3 A4", 3: "A3 A4 A2", 9: "A3 A4 A2 A1 A5"} {
		got := ""
		for _, name := range plugNames(trial.Typical(7, 10, "roots", n)) {
			if got != "" {
				got += " "
			}
			got += name
		}
		if got != want {
			t.Errorf("%d typical plugs are %q, want %q", n, got, want)
		}
	}
	if got := trial.Typical(7, 10, "shoots", 1); len(got) != 0 {
		t.Errorf("in a view that was not photographed: %v", got)
	}
}

// Two as near the median of 10 and 30, which is 20: the first in reading order, whatever the order in the reading.
func TestTypicalOfTwoAsNearIsTheFirstInReadingOrder(t *testing.T) {
	trial := Collect(testtrial.Plan(), []reading.Reading{testtrial.Reading("a.jpg", 7, "shoots", testtrial.Taken(10, 9, 0),
		testtrial.Placed(testtrial.LeafPlug("A10", 10, 0), testtrial.LeafPlug("A2", 30, 0))...)})
	if got := trial.Typical(7, 10, "shoots", 1); len(got) != 1 || got[0].Name != "A2" {
		t.Errorf("the typical plug is %v, want A2", plugNames(got))
	}
}

func TestTypicalLeavesSparePhotosAndUnknownPlacesOut(t *testing.T) {
	lost := testtrial.RootPlug("A1", 20, 0) // the median itself, but where it is was not kept
	used := append(testtrial.Placed(testtrial.RootPlug("A2", 19, 0), testtrial.RootPlug("A3", 22, 0)), lost)
	trial := Collect(testtrial.Plan(), []reading.Reading{
		testtrial.Reading("later.jpg", 7, "roots", testtrial.Taken(10, 10, 0), used...),
		testtrial.Reading("spare.jpg", 7, "roots", testtrial.Taken(10, 9, 0), testtrial.Placed(testtrial.RootPlug("A1", 20, 0))...)})
	if got := trial.Typical(7, 10, "roots", 1); len(got) != 1 || got[0].Name != "A2" || got[0].Photo != "later.jpg" {
		t.Errorf("the typical plug is %v, want A2 of later.jpg", got)
	}
}
