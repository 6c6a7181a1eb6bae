package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// thing is what lies or stands in the drawing and is no plant: a plant label, a fibre, a petal, a card.
type thing struct {
	outline ring // texels
	z       float64
	own     closeup.RGB
	other   closeup.RGB // blended in by the noise
	plot    plot        // over mm of the drawing
	streak  float64     // how much longer the noise is along the way
	way     float64
	dome    float64 // mm that the middle stands higher than the edge
	domed   float64 // mm inward that it rises
	gloss   float64
	rough   float64
	print   func(p point) float64 // share of ink at a place in mm of the drawing; nil for none
	ink     closeup.RGB
	flat    bool // lies on the ground, and throws no shadow worth drawing
}

// order puts what lies flat on the ground below all leaves, even those that droop onto it.
func (t *thing) order() float64 {
	if t.flat {
		return t.z - 1000
	}
	return t.z
}

func (t *thing) outlines() []ring { return []ring{t.outline} }

// paint lays the thing over all that has been laid. Where it lies, nothing is leaf.
func (t *thing) paint(p *painter) {
	if !t.flat {
		p.shade(level(t.z), [3]float32{})
	}
	if t.dome != 0 {
		p.deep = p.mask.depths(p.deep)
	}
	t.texture(p)
	s := skin{surface: surface{gloss: t.gloss, rough: max(0.1, t.rough), sheen: 0.03}}
	p.light(&s, 0)
}

// texture finds what the thing is in each texel.
func (t *thing) texture(p *painter) {
	m := &p.mask
	p.room()
	along := heading(t.way)
	for y := range m.h {
		for x := range m.w {
			i := y*m.w + x
			if !p.shown(x, y) {
				continue
			}
			at := point{float64(m.x0+x) + 0.5, float64(m.y0+y) + 0.5}.times(p.flatMM)
			noise := t.plot.in(&tables().rich, at.dot(along)/max(1, t.streak), at.dot(along.left()))
			c := painted{z: float32(t.z)}
			c.own = blend(t.own, t.other, float32(clamp(0.5+0.6*noise, 0, 1)))
			if t.print != nil {
				c.own = blend(c.own, t.ink, float32(t.print(at)))
			}
			c.gloss = float32(0.7 + 0.3*noise)
			if t.dome != 0 {
				up := 1 - min(1, float64(p.deep[i])*p.flatMM/t.domed)
				c.bump = float32(t.dome * (1 - up*up + 0.1*noise))
			}
			p.cells[i] = c
		}
	}
}

// bar returns a straight piece of the given width with its ends cut off square, in the units of its ends.
func bar(from, to point, wide float64) ring {
	side := to.minus(from).unit().left().times(wide / 2)
	return ring{from.plus(side), from.minus(side), to.minus(side), to.plus(side)}.facing(false)
}

// bent returns a thin piece that bends on its way.
func bent(d dice, from point, way, long, wide float64) ring {
	const n = 7
	turn := d.around(0, 0.9)
	var left, right []point
	at := from
	for i := range n {
		dir := heading(way + turn*float64(i)/n)
		half := wide / 2 * (1 - 0.6*math.Abs(float64(i)/(n-1)-0.4))
		left, right = append(left, at.plus(dir.left().times(half))), append(right, at.minus(dir.left().times(half)))
		at = at.plus(dir.times(long / n))
	}
	for i := n - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	return ring(left).facing(false)
}
