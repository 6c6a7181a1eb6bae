package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// lamps are linear factors on red, green and blue: what a phone's white balance leaves of each light. Coloured ones are what
// growers use: red and blue lamps without green, and sodium lamps, nearly without blue.
var lamps = map[string]struct {
	gains    [3]float64
	coloured bool
}{
	"warm white":        {[3]float64{1, 0.85, 0.6}, false},
	"shade":             {[3]float64{0.75, 0.9, 1}, false},
	"red and blue":      {[3]float64{0.9, 0.12, 1}, true},
	"sodium, corrected": {[3]float64{1, 0.8, 0.25}, true},
}

// Hue means nothing under coloured light: yellowing is withheld with the reason, areas are measured all the same.
func TestUnderColouredLightYellowingIsWithheldAndAreasAreNot(t *testing.T) {
	for name, lamp := range lamps {
		s := synth.Small(card.Shoots)
		s.Resize(1200, 1383)
		s.Light.Gains = lamp.gains
		s.Plants = map[string]synth.Plant{}
		for i, cell := range s.Tray.Cells() {
			s.Plants[cell] = synth.Plant{Plug: true, Leaves: 3 + i%3, LeafLengthMM: 14, Yellow: 0.3}
		}
		r, truth := measured(t, s, testtray.Plan(s.Tray, 0), true)
		var got, want float64
		var kinds []string
		for _, c := range r.Concerns {
			kinds = append(kinds, string(c.Kind)+": "+c.Words)
		}
		withheld := 0
		for _, p := range r.Plugs {
			if p.LeafAreaMM2.Known() {
				got, want = got+float64(p.LeafAreaMM2), want+truth.Cells[p.Name].Leaf
				if !p.ChloroticPct.Known() && !p.LeafHueDeg.Known() && !p.DGCI.Known() {
					withheld++
				}
			}
		}
		t.Logf("%-18s %d plants, leaf area %+.1f %%, yellowing withheld in %d; %s", name, len(r.Plugs), 100*(got/want-1), withheld, strings.Join(kinds, "; "))
		said := strings.Contains(fmt.Sprint(kinds), "coloured light")
		if said != lamp.coloured || (withheld == len(s.Plants)) != lamp.coloured {
			t.Errorf("%s: said to be coloured: %v, yellowing withheld in %d of %d plants", name, said, withheld, len(s.Plants))
		}
		if !(math.Abs(got/want-1) < 0.05) {
			t.Errorf("%s: leaf area is off by %+.1f %%", name, 100*(got/want-1))
		}
	}
}

func TestUnderColouredLightBrowningIsWithheld(t *testing.T) {
	s := synth.Small(card.Roots)
	s.Resize(1200, 1383)
	s.Light.Gains = lamps["red and blue"].gains
	s.Plants = map[string]synth.Plant{"A1": {Plug: true, RootLengthMM: 800, RootBrown: 0.3}}
	r, _ := measured(t, s, testtray.Plan(s.Tray, 0), true)
	var kinds []string
	for _, c := range r.Concerns {
		kinds = append(kinds, string(c.Kind))
	}
	if !strings.Contains(fmt.Sprint(kinds), "coloured light") {
		t.Errorf("nothing said of the light: %v", kinds)
	}
	for _, p := range r.Plugs {
		if p.Name == "A1" && (!(p.RootAreaMM2 > 0) || p.RootBrowningPct.Known()) {
			t.Errorf("root area %v mm², browning %v %%", p.RootAreaMM2, p.RootBrowningPct)
		}
	}
}
