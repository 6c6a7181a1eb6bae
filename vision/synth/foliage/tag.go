package foliage

import "math"

// tag is the coat of a plant label: plastic, paper or wood, most with lines of writing along it.
type tag struct {
	colour lab
	ink    rgb
	gloss  float64
	rough  float64
	grain  float64 // of wood along it, in L*
	plain  bool    // without writing
	lines  float64 // mm between lines of writing
	size   float64 // of the strokes' noise, entries a mm
	start  float64 // where the noise begins
	length float64 // mm
}

func (*tag) isPlant() bool { return false }

func (t *tag) look(p place) look {
	noise := tiles()
	c := t.colour
	c.l += 0.8*noise.cloud.at(t.start+p.a, p.b) + t.grain*noise.grain.at(t.start+p.a*0.4, p.b*7)
	v := look{own: c.linear(), gloss: t.gloss, rough: t.rough}
	v.through = v.own.times(0.25)
	line := math.Floor(p.b / t.lines)
	written := noise.cloud.at(t.start+line*19, 4.5) > -0.4 && p.a > 0.3*t.length && p.a < t.length*(0.95-0.2*hash(int(line), 1, 5))
	if off := p.b/t.lines - line; written && !t.plain && !p.under && off > 0.25 && off < 0.75 {
		stroke := noise.grain.at(t.start+p.a*t.size, line*7+off*2.5)
		v.own = v.own.to(t.ink, 0.9*ramp(0.35, 0.7, stroke))
	}
	return v
}

// drawTag draws what labels of a drawing are made of.
func drawTag(d dice) tag {
	t := tag{gloss: d.scaled(0.05, 1.5), rough: d.between(0.15, 0.6), plain: d.chance(0.35), lines: d.between(2.5, 6), size: d.between(2, 5)}
	t.ink = [...]rgb{grey(0.02), grey(0.06), {0.02, 0.03, 0.15}}[d.IntN(3)]
	switch d.pick(0.28, 0.2, 0.2, 0.12, 0.08, 0.12) {
	case 0: // white to cream
		t.colour = lch(d.between(78, 95), d.between(0, 14), d.between(85, 110))
	case 1: // yellow
		t.colour = lch(d.between(66, 90), d.between(35, 85), d.between(80, 106))
	case 2: // green, a leaf's greens among them
		t.colour = lch(d.between(28, 70), d.between(18, 60), d.between(106, 150))
	case 3: // red, orange, pink
		t.colour = lch(d.between(38, 70), d.between(30, 65), d.between(0, 60))
	case 4: // blue, violet
		t.colour = lch(d.between(30, 62), d.between(15, 48), d.between(220, 320))
	default: // wood
		t.colour, t.gloss, t.grain = lch(d.between(58, 84), d.between(14, 34), d.between(68, 86)), d.scaled(0.03, 0.3), d.between(0.5, 3)
	}
	return t
}

// addTags sticks a few labels into the cells, leaning or upright, or lays them flat, many under or beside a plant.
func (s *scene) addTags(d dice) {
	kind := drawTag(d)
	wide, long := d.scaled(5, 20), d.between(40, 95)
	mixed, tip := d.chance(0.25), d.between(0.01, 0.3)
	for range d.whole(1, 8) {
		if mixed {
			kind = drawTag(d)
		}
		x, y := d.between(-10, across+10), d.between(-10, across+10)
		rise := d.between(20, 86) * degree
		if d.chance(0.5) {
			rise = d.between(0, 6) * degree
		}
		if len(s.bases) > 0 && d.chance(0.6) {
			at := s.bases[d.IntN(len(s.bases))]
			x, y = at[0]+12*d.bell(), at[1]+12*d.bell()
		}
		f := startFrame(vec{x, y, s.land.floor(x, y) + 0.5}, heading(d.between(0, 2*math.Pi), rise), 0.15*d.bell())
		b := blade{outline: outline{wide: wide / 2 / long, tip: tip, lean: 1}}
		b.rib = grown(f, bend{length: long, droop: 0.2 * d.bell()}, 12, s.land.floor)
		t := kind
		t.colour.l += 2 * d.bell()
		t.start, t.length = d.between(0, 200), long
		b.weave(s.mesh, organ{plant: -1, coat: &t}, s.land.floor)
	}
}
