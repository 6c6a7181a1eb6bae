package foliage

import "math"

// tag is the coat of a plant label: plastic or paper with lines of writing along it.
type tag struct {
	colour lab
	ink    rgb
	gloss  float64
	lines  float64 // mm between lines of writing
	size   float64 // of the strokes' noise, entries a mm
	start  float64 // where the noise begins
	length float64 // mm
}

func (*tag) isPlant() bool { return false }

func (t *tag) look(p place) look {
	noise := tiles()
	c := t.colour
	c.l += 0.8 * noise.cloud.at(t.start+p.a, p.b)
	v := look{own: c.linear(), gloss: t.gloss, rough: 0.25}
	v.through = v.own.times(0.25)
	line := math.Floor(p.b / t.lines)
	written := noise.cloud.at(t.start+line*19, 4.5) > -0.4 && p.a > 0.3*t.length && p.a < t.length*(0.95-0.2*hash(int(line), 1, 5))
	if off := p.b/t.lines - line; written && !p.under && off > 0.25 && off < 0.75 {
		stroke := noise.grain.at(t.start+p.a*t.size, line*7+off*2.5)
		v.own = v.own.to(t.ink, 0.9*ramp(0.35, 0.7, stroke))
	}
	return v
}

// addTags sticks a few labels into the cells, leaning or upright, or lays them flat.
func (s *scene) addTags(d dice) {
	colour := [...]lab{lch(93, 2, 100), lch(84, 60, 92), lch(55, 45, 140), lch(50, 40, 260), lch(90, 6, 85),
		lch(62, 55, 45)}[d.pick(0.45, 0.15, 0.15, 0.1, 0.1, 0.05)]
	wide, long := d.between(9, 20), d.between(40, 95)
	ink := [...]rgb{grey(0.02), grey(0.06), {0.02, 0.03, 0.15}}[d.IntN(3)]
	for range d.whole(1, 5) {
		x, y := d.between(-10, across+10), d.between(-10, across+10)
		rise := d.between(20, 86) * degree
		if d.chance(0.3) {
			rise = d.between(0, 4) * degree
		}
		f := startFrame(vec{x, y, s.land.floor(x, y) + 0.5}, heading(d.between(0, 2*math.Pi), rise), 0.15*d.bell())
		b := blade{outline: outline{wide: wide / 2 / long, tip: d.between(0.01, 0.3), lean: 1}}
		b.rib = grown(f, bend{length: long, droop: 0.2 * d.bell()}, 12, s.land.floor)
		t := &tag{colour: colour, ink: ink, gloss: d.between(0.3, 1.5), lines: d.between(2.5, 6), size: d.between(2, 5),
			start: d.between(0, 200), length: long}
		b.weave(s.mesh, organ{plant: -1, coat: t}, s.land.floor)
	}
}
