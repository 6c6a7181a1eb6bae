package foliage

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/surface"
)

// tag is the coat of a plant label: plastic, paper or wood, most with lines of writing along it.
type tag struct {
	colour num.Lab
	ink    num.RGB
	gloss  float64
	rough  float64
	grain  float64 // of wood along it, in L*
	plain  bool    // without writing
	lines  float64 // mm between lines of writing
	size   float64 // of the strokes' noise, entries a mm
	start  float64 // where the noise begins
	length float64 // mm
}

func (*tag) IsPlant() bool { return false }

func (t *tag) Look(p surface.Place) surface.Look {
	noise := num.Tiles()
	c := t.colour
	c.L += 0.8*noise.Cloud.At(t.start+p.A, p.B) + t.grain*noise.Grain.At(t.start+p.A*0.4, p.B*7)
	v := surface.Look{Own: c.Linear(), Gloss: t.gloss, Rough: t.rough}
	v.Through = v.Own.Times(0.25)
	line := math.Floor(p.B / t.lines)
	written := noise.Cloud.At(t.start+line*19, 4.5) > -0.4 && p.A > 0.3*t.length && p.A < t.length*(0.95-0.2*num.Hash(int(line), 1, 5))
	if off := p.B/t.lines - line; written && !t.plain && !p.Under && off > 0.25 && off < 0.75 {
		stroke := noise.Grain.At(t.start+p.A*t.size, line*7+off*2.5)
		v.Own = v.Own.To(t.ink, 0.9*num.Ramp(0.35, 0.7, stroke))
	}
	return v
}

// drawTag draws what labels of a drawing are made of.
func drawTag(d num.Dice) tag {
	t := tag{gloss: d.Scaled(0.05, 1.5), rough: d.Between(0.15, 0.6), plain: d.Chance(0.35), lines: d.Between(2.5, 6), size: d.Between(2, 5)}
	t.ink = [...]num.RGB{num.Grey(0.02), num.Grey(0.06), {R: 0.02, G: 0.03, B: 0.15}}[d.IntN(3)]
	switch d.Pick(0.28, 0.2, 0.2, 0.12, 0.08, 0.12) {
	case 0: // white to cream
		t.colour = num.Lch(d.Between(78, 95), d.Between(0, 14), d.Between(85, 110))
	case 1: // yellow
		t.colour = num.Lch(d.Between(66, 90), d.Between(35, 85), d.Between(80, 106))
	case 2: // green, a leaf's greens among them
		t.colour = num.Lch(d.Between(28, 70), d.Between(18, 60), d.Between(106, 150))
	case 3: // red, orange, pink
		t.colour = num.Lch(d.Between(38, 70), d.Between(30, 65), d.Between(0, 60))
	case 4: // blue, violet
		t.colour = num.Lch(d.Between(30, 62), d.Between(15, 48), d.Between(220, 320))
	default: // wood
		t.colour, t.gloss, t.grain = num.Lch(d.Between(58, 84), d.Between(14, 34), d.Between(68, 86)), d.Scaled(0.03, 0.3), d.Between(0.5, 3)
	}
	return t
}

// addTags sticks a few labels into the cells, leaning or upright, or lays them flat, many under or beside a plant.
func (s *scene) addTags(d num.Dice) {
	kind := drawTag(d)
	wide, long := d.Scaled(5, 20), d.Between(40, 95)
	mixed, tip := d.Chance(0.25), d.Between(0.01, 0.3)
	for range d.Whole(1, 8) {
		if mixed {
			kind = drawTag(d)
		}
		x, y := d.Between(-10, num.Across+10), d.Between(-10, num.Across+10)
		rise := d.Between(20, 86) * num.Degree
		if d.Chance(0.5) {
			rise = d.Between(0, 6) * num.Degree
		}
		if len(s.bases) > 0 && d.Chance(0.6) {
			at := s.bases[d.IntN(len(s.bases))]
			x, y = at[0]+12*d.Bell(), at[1]+12*d.Bell()
		}
		f := shape.StartFrame(num.At(x, y, s.land.Floor(x, y)+0.5), num.Heading(d.Between(0, 2*math.Pi), rise), 0.15*d.Bell())
		b := shape.Blade{Outline: shape.Outline{Wide: wide / 2 / long, Tip: tip, Lean: 1}}
		b.Rib = shape.Grown(f, shape.Bend{Length: long, Droop: 0.2 * d.Bell()}, 12, s.land.Floor)
		t := kind
		t.colour.L += 2 * d.Bell()
		t.start, t.length = d.Between(0, 200), long
		b.Weave(s.mesh, surface.Organ{Plant: -1, Coat: &t}, s.land.Floor)
	}
}
