package roots

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
	"traygauge/vision/tray"
)

// blurredSteps is a profile's light where it changes from one level to the next at places given in mm beyond the network's outline, under a Gaussian blur: each
// step is the normal distribution's integral.
func blurredSteps(sigma float64, levels, places []float64) (p [rimSteps]float64) {
	for k := range p {
		x := float64(k-rimZero) * rimStepMM
		p[k] = levels[0]
		for i, at := range places {
			p[k] += (levels[i+1] - levels[i]) * 0.5 * math.Erfc((at-x)/sigma/math.Sqrt2)
		}
	}
	return p
}

// Profiles whose edge is known, found within a step: how light the parts are, from the inside outwards, and where each ends. The gap's light is a fifth of the
// medium's.
func TestAnEdgeIsWhereTheLightComesUpOutOfTheGap(t *testing.T) {
	const medium, gap, root, sigma, within = 0.04, 0.008, 0.5, 0.15, rimStepMM
	for name, c := range map[string]struct {
		levels, places []float64
		edge           float64
		met            bool
	}{
		"bare medium":                   {[]float64{medium, gap}, []float64{0.1}, 0.1, true},
		"medium, half of it in shade":   {[]float64{medium, medium / 2, gap}, []float64{-0.5, 0.1}, 0.1, true},
		"roots end short of the rim":    {[]float64{root, medium / 2, gap}, []float64{-0.1, 0.4}, 0.4, true},
		"lighter plastic behind a gap":  {[]float64{medium, gap, 3 * medium}, []float64{0.1, 0.9}, 0.1, true},
		"no gap: medium up to the tray": {[]float64{medium, 3 * medium}, []float64{0.1}, 0, false},
		"nothing but gap":               {[]float64{gap, gap}, []float64{0}, 0, false},
		"too far out for a rim":         {[]float64{medium, gap}, []float64{0.9}, 0, false},
	} {
		profile := blurredSteps(sigma, c.levels, c.places)
		newSharpener(sigma / rimStepMM).sharpen(profile[:])
		light, at := darkest(&profile)
		got, met := edgeOf(&profile, at, light, medium)
		if met != c.met || met && math.Abs(got-c.edge) > within {
			t.Errorf("%s: an edge %v at %.3f mm, want %v at %.3f", name, met, got, c.met, c.edge)
		}
	}
}

// fullTray is a small tray of plugs with so many mm of roots each.
func fullTray(rootsMM float64) synth.Spec {
	s := synth.Small(card.Roots)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range s.Tray.Cells() {
		s.Plants[cell] = synth.Plant{Plug: true, RootLengthMM: rootsMM}
	}
	return s
}

// plugsOf draws a small tray and measures its plugs.
func plugsOf(t *testing.T, s synth.Spec) ([]Plug, synth.Truth) {
	t.Helper()
	p, truth := testphoto.Drawn(t, s, 1)
	found, err := scene.FindCard(p, scene.CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	plugs, _, err := Measure(found, smallTray())
	if err != nil {
		t.Fatal(err)
	}
	return plugs, truth
}

// A plug's area is that of the drawing, whether its roots are few or a mat that ends short of the rim. By the network's map alone dense roots make it some 2 % and
// mats some 4 % too small.
func TestAPlugEndsAtItsRimHoweverManyRootsItHas(t *testing.T) {
	for _, c := range []struct {
		rootsMM, most float64
	}{{100, 0.005}, {400, 0.005}, {1100, 0.007}, {2700, 0.02}} {
		plugs, truth := plugsOf(t, fullTray(c.rootsMM))
		var got, want float64
		for _, plug := range plugs {
			got += plug.PlugMM2
		}
		for _, cell := range truth.Cells {
			want += cell.PlugAreaMM2
		}
		t.Logf("%g mm of roots: plugs %+.2f %%", c.rootsMM, 100*(got/want-1))
		if !(math.Abs(got/want-1) <= c.most) {
			t.Errorf("%g mm of roots: plugs of %.0f mm², drawn %.0f", c.rootsMM, got, want)
		}
	}
}

// smallTray is synth.Tray12 as the measuring takes it.
func smallTray() tray.Layout {
	d := synth.Tray12
	return tray.Layout{Rows: d.Rows, Columns: d.Columns, LengthMM: d.LengthMM, WidthMM: d.WidthMM, PitchMM: d.PitchMM,
		FirstU: d.FirstU, FirstV: d.FirstV, PlugMM: d.PlugBottomMM}
}
