package synth

import (
	"bytes"
	"math"
	"testing"

	"traygauge/vision/card"
)

func TestSmallShowsAllOfItsTray(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s := Small(face)
		_, truth := draw(t, s)
		for name, p := range truth.Corners {
			if p[0] < 10 || p[1] < 10 || p[0] > 1690 || p[1] > 1950 {
				t.Errorf("%v: the tray's corner %s is at %.0f, %.0f of 1700 × 1960", face, name, p[0], p[1])
			}
		}
		// f = 50 / √(36² + 24²) · √(1700² + 1960²) px over 480 mm.
		near(t, "px a mm", math.Hypot(truth.Corners["A1"][0]-truth.Corners["A4"][0], truth.Corners["A1"][1]-truth.Corners["A4"][1])/240,
			50/math.Hypot(36, 24)*math.Hypot(1700, 1960)/480, 1e-6)
	}
}

// Lines on a plug are what the cell's truth says, whatever lies around them.
func TestLinesOnAPlug(t *testing.T) {
	s := Small(card.Roots)
	comb := Comb(card.Pt{}, 16, 3, 30, 0.1, 0.2, 0.4, 0.8)
	s.Plants = map[string]Plant{"B2": {Plug: true, Lines: comb}, "B3": {Plug: true}}
	with, truth := draw(t, s)
	c := truth.Cells["B2"]
	near(t, "area", c.RootAreaMM2, 16*1.5, 1e-9)
	near(t, "length", c.RootLengthMM, 64, 1e-9)
	if c.PlugAreaMM2 == 0 || truth.Cells["B3"].RootAreaMM2 != 0 {
		t.Errorf("the plug has %g mm², the bare one %g mm² of root", c.PlugAreaMM2, truth.Cells["B3"].RootAreaMM2)
	}
	s.Plants["B2"] = Plant{Plug: true}
	without, _ := draw(t, s)
	if bytes.Equal(with.Pix, without.Pix) {
		t.Error("no line is in the picture")
	}
	for name, p := range map[string]Plant{
		"on an empty cell": {Lines: comb},
		"beside roots":     {Plug: true, RootLengthMM: 100, Lines: comb},
		"off the plug":     {Plug: true, Lines: Comb(card.Pt{X: 9}, 16, 3, 0, 0.2)},
		"of one point":     {Plug: true, Lines: []Line{{Points: []card.Pt{{}}, WidthMM: 1}}},
	} {
		s.Plants["B2"] = p
		if _, _, err := Draw(s); err == nil {
			t.Errorf("lines %s: drawn", name)
		}
	}
}

func TestCombIsParallel(t *testing.T) {
	lines := Comb(card.Pt{X: 5, Y: 7}, 10, 2, 35, 0.1, 0.5, 1)
	sin, cos := math.Sincos(rad(35))
	for i, l := range lines {
		near(t, "length", l.LengthMM(), 10, 1e-9)
		a, b := l.Points[0], l.Points[1]
		near(t, "direction", ((b.X-a.X)*cos+(b.Y-a.Y)*sin)/10, 1, 1e-9)
		// The signed distance of the middle from the comb's own middle line.
		mx, my := (a.X+b.X)/2-5, (a.Y+b.Y)/2-7
		near(t, "gap", -mx*sin+my*cos, 2*float64(i-1), 1e-9)
	}
}

// The mirror of a drop hides what is under it, and is no root.
func TestDropsAreNoRoot(t *testing.T) {
	g := roundPlug(habit(3), 0, 0, 34)
	var c canvas
	c.reset(-20, -20, 20, 20, rootPerMM)
	texels := g.paintMedium(&c, habit(1), mediumLook{})
	grown := rootsOf(g, 5, 900, 0)
	paintRoots(&c, grown)
	var before, after CellTruth
	before.countRoots(&c, texels, grown)
	g.paintDrops(&c, habit(9), 40, len(grown)+2)
	mirrors := 0
	for _, x := range c.t {
		if x.owner() == len(grown)+2 {
			mirrors++
		}
	}
	after.countRoots(&c, texels, grown)
	hidden := before.RootAreaMM2 - after.RootAreaMM2
	if mirrors == 0 || hidden < 0 || hidden > float64(mirrors)*c.texelMM2() {
		t.Errorf("%d texels mirror the lamp and hide %.2f mm² of root", mirrors, hidden)
	}
	near(t, "plug", after.PlugAreaMM2, before.PlugAreaMM2, 0)
}

// A neighbour's leaves hide but are not counted, and the tray's own stay the same elsewhere.
func TestNeighboursLeavesAreNotCounted(t *testing.T) {
	s := Small(card.Shoots)
	s.Plants = map[string]Plant{
		"A1": {Plug: true, Leaves: 5, LeafLengthMM: 18}, "C1": {Plug: true, Leaves: 5, LeafLengthMM: 18},
		"C2": {Plug: true, Leaves: 5, LeafLengthMM: 18},
	}
	_, alone := draw(t, s)
	s.NeighbourMM = 45
	_, beside := draw(t, s)
	near(t, "far plant", beside.Cells["A1"].LeafAreaMM2, alone.Cells["A1"].LeafAreaMM2, 0.5)
	rowC := func(x Truth) float64 { return x.Cells["C1"].LeafAreaMM2 + x.Cells["C2"].LeafAreaMM2 }
	if lost := rowC(alone) - rowC(beside); lost < -1 || lost > 0.5*rowC(alone) {
		t.Errorf("the neighbour hides %.1f of %.1f mm²", lost, rowC(alone))
	}
	if beside.Present != 3 {
		t.Errorf("%d plants, want 3", beside.Present)
	}
}

// An even disc of radius r has the variance r²/4 along each axis.
func TestDefocusIsADisc(t *testing.T) {
	p := newPicture(40, 30)
	p.blend(20, 15, rgb{1, 1, 1}, 1)
	p.blend(39, 0, rgb{0, 0, 0}, 1)
	p.defocus(3)
	var sum, square float64
	for i := 0; i < len(p.p); i += 3 {
		v := float64(p.p[i])
		sum += v
		square += v * float64((i/3%40-20)*(i/3%40-20))
	}
	near(t, "light", sum, 1, 1e-5)
	near(t, "variance", square/sum, 9.0/4+1.0/12, 0.1)
}

func TestShadowAndVignette(t *testing.T) {
	l := Light{Shadow: 0.4, ShadowTurn: 90, Vignette: 0.2}
	near(t, "middle", l.falloff(0, 0)[1], 1, 1e-12)
	near(t, "in the shadow", l.falloff(0, 0.6)[1], 0.6*(1-0.2*0.36), 1e-12)
	near(t, "in the corner away from it", l.falloff(-0.8, -0.6)[1], 0.8, 1e-12)
}

func TestReflectancesCanBeScaled(t *testing.T) {
	p := mediumPalette().lit(1.3)
	near(t, "crumb", float64(p[crumbTone+40][0]), 1.3*float64(mediumPalette()[crumbTone+40][0]), 1e-6)
	if p[glintTone] != mirror || mediumPalette().lit(0) != mediumPalette() {
		t.Error("a mirror is the lamp's, whatever it lies on; 0 leaves all as it is")
	}
}

// What a scene adds must be seen: labels on the tray's top.
func TestSticksAreDrawn(t *testing.T) {
	s := Small(card.Shoots)
	bare, _ := draw(t, s)
	s.Sticks = 3
	labelled, _ := draw(t, s)
	changed := 0
	for i := range bare.Pix {
		if d := int(bare.Pix[i]) - int(labelled.Pix[i]); d > 40 || d < -40 {
			changed++
		}
	}
	if changed/3 < 3*20*10*20 { // three labels, 200 mm² each at least
		t.Errorf("%d values changed", changed)
	}
}
