package plugs

import (
	"math"
	"testing"

	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/num"
)

// A straight root of even width: area is width × length and the two round ends, length is what was laid down.
func TestStrokeAreaAndLength(t *testing.T) {
	var c canvas.Canvas
	c.Reset(0, 0, 40, 40, RootPerMM)
	c.WithArc()
	r := &Root{}
	const angle = 0.4
	for i := range 61 {
		s := float64(i) * rootStep
		r.path = append(r.path, canvas.Node{X: 8 + s*math.Cos(angle), Y: 12 + s*math.Sin(angle), Half: 0.25})
	}
	PaintRoots(&c, []*Root{r})
	seen := CountRoots(&c, 0, []*Root{r})
	near(t, "area", seen.RootMM2, 24*0.5+math.Pi*0.25*0.25, 0.06)
	near(t, "length", seen.LengthMM, 24, 0.02)
}

// Of two crossing roots the upper one is seen whole and hides a piece of the lower one as long as it is wide.
func TestUpperRootHidesLower(t *testing.T) {
	var c canvas.Canvas
	c.Reset(0, 0, 40, 40, RootPerMM)
	across, down := &Root{}, &Root{}
	for i := range 51 {
		s := float64(i) * rootStep
		across.path = append(across.path, canvas.Node{X: 10 + s, Y: 20, Half: 0.2})
		down.path = append(down.path, canvas.Node{X: 20, Y: 10 + s, Half: 0.4})
	}
	PaintRoots(&c, []*Root{across, down})
	near(t, "upper root", down.visibleLength(&c, 3), 20, 0.02)
	near(t, "lower root", across.visibleLength(&c, 2), 20-0.8, 0.1)
}

// A circle of diameter 34 has 907.92 mm²; a row of texels is 1/20 mm.
func TestPlugIsCounted(t *testing.T) {
	g := &Plug{X: 20, Y: 20}
	for i := range g.outline {
		g.outline[i] = 17
	}
	var c canvas.Canvas
	c.Reset(0, 0, 40, 40, RootPerMM)
	texels := g.PaintMedium(&c, num.Habit(1), MediumLook{Perlite: 5})
	near(t, "area", float64(texels)*c.TexelMM2(), math.Pi*17*17, 0.5)
}

func TestGrowthKeepsTheHabit(t *testing.T) {
	g := RoundPlug(num.Habit(3), 0, 0, 34)
	young, old := RootsOf(g, 99, 300, 0), RootsOf(g, 99, 800, 0)
	if len(old) <= len(young) {
		t.Errorf("%d roots grew to %d", len(young), len(old))
	}
	later := map[uint64]*Root{}
	for _, r := range old {
		later[r.seed] = r
	}
	var length float64
	for _, r := range young {
		o := later[r.seed]
		if o == nil || len(o.path) < len(r.path) {
			t.Fatalf("root %d shrank or went", r.seed)
		}
		for i, n := range r.path {
			if n.X != o.path[i].X || n.Y != o.path[i].Y {
				t.Fatalf("root %d moved at node %d", r.seed, i)
			}
		}
		length += float64(len(r.path)-1) * rootStep
	}
	near(t, "length drawn", length, 300, 15)
}

func TestRootsStayOnThePlug(t *testing.T) {
	g := RoundPlug(num.Habit(3), 0, 0, 34)
	for _, r := range RootsOf(g, 5, 2500, 0.3) {
		for _, n := range r.path {
			if d := math.Hypot(n.X, n.Y) + n.Half; math.Hypot(n.X-g.X, n.Y-g.Y)+n.Half > g.reach(math.Atan2(n.Y-g.Y, n.X-g.X)) {
				t.Fatalf("a root's edge is %.2f mm from the middle", d)
			}
		}
	}
}

// The mirror of a drop hides what is under it, and is no root.
func TestDropsAreNoRoot(t *testing.T) {
	g := RoundPlug(num.Habit(3), 0, 0, 34)
	var c canvas.Canvas
	c.Reset(-20, -20, 20, 20, RootPerMM)
	texels := g.PaintMedium(&c, num.Habit(1), MediumLook{})
	grown := RootsOf(g, 5, 900, 0)
	PaintRoots(&c, grown)
	before := CountRoots(&c, texels, grown)
	g.PaintDrops(&c, num.Habit(9), 40, len(grown)+2)
	mirrors := 0
	for _, x := range c.T {
		if x.Owner() == len(grown)+2 {
			mirrors++
		}
	}
	after := CountRoots(&c, texels, grown)
	hidden := before.RootMM2 - after.RootMM2
	if mirrors == 0 || hidden < 0 || hidden > float64(mirrors)*c.TexelMM2() {
		t.Errorf("%d texels mirror the lamp and hide %.2f mm² of root", mirrors, hidden)
	}
	near(t, "plug", after.PlugMM2, before.PlugMM2, 0)
}

func TestReflectancesCanBeScaled(t *testing.T) {
	p := MediumPalette().Lit(1.3)
	near(t, "crumb", float64(p[crumbTone+40][0]), 1.3*float64(MediumPalette()[crumbTone+40][0]), 1e-6)
	if p[glintTone] != canvas.Mirror || MediumPalette().Lit(0) != MediumPalette() {
		t.Error("a mirror is the lamp's, whatever it lies on; 0 leaves all as it is")
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
