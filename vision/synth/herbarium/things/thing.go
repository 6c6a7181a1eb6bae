// Package things is what lies or stands in a drawing and is no plant: labels with writing, a paper card, and the plain pieces that litter is
// made of. In go places in mm and texels; out come pieces to be laid on the canvas, under which nothing counts as leaf. It knows no plants.
package things

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
)

// Thing is what lies or stands in the drawing and is no plant: a plant label, a fibre, a petal, a card.
type Thing struct {
	Outline num.Ring // texels
	Z       float64
	Own     closeup.RGB
	Other   closeup.RGB // blended in by the noise
	Plot    num.Plot    // over mm of the drawing
	Streak  float64     // how much longer the noise is along the way
	Way     float64
	Dome    float64 // mm that the middle stands higher than the edge
	Domed   float64 // mm inward that it rises
	Gloss   float64
	Rough   float64
	print   func(p num.Point) float64 // share of ink at a place in mm of the drawing; nil for none
	ink     closeup.RGB
	Flat    bool // lies on the ground, and throws no shadow worth drawing
}

// Order puts what lies flat on the ground below all leaves, even those that droop onto it.
func (t *Thing) Order() float64 {
	if t.Flat {
		return t.Z - 1000
	}
	return t.Z
}

func (t *Thing) Outlines() []num.Ring { return []num.Ring{t.Outline} }

// Paint lays the thing over all that has been laid. Where it lies, nothing is leaf.
func (t *Thing) Paint(p *canvas.Painter) {
	if !t.Flat {
		p.Shade(canvas.Level(t.Z), [3]float32{})
	}
	if t.Dome != 0 {
		p.Deep = p.Mask.Depths(p.Deep)
	}
	t.texture(p)
	p.Light(&canvas.Hide{Gloss: t.Gloss, Rough: max(0.1, t.Rough), Sheen: 0.03}, 0)
}

// texture finds what the thing is in each texel.
func (t *Thing) texture(p *canvas.Painter) {
	m := &p.Mask
	p.Room()
	along := num.Heading(t.Way)
	for y := range m.H {
		for x := range m.W {
			i := y*m.W + x
			if !p.Shown(x, y) {
				continue
			}
			at := num.At(float64(m.X0+x)+0.5, float64(m.Y0+y)+0.5).Times(p.FlatMM)
			noise := t.Plot.In(&num.Tables().Rich, at.Dot(along)/max(1, t.Streak), at.Dot(along.Left()))
			c := canvas.Painted{Z: float32(t.Z)}
			c.Own = num.Blend(t.Own, t.Other, float32(num.Clamp(0.5+0.6*noise, 0, 1)))
			if t.print != nil {
				c.Own = num.Blend(c.Own, t.ink, float32(t.print(at)))
			}
			c.Gloss = float32(0.7 + 0.3*noise)
			if t.Dome != 0 {
				up := 1 - min(1, float64(p.Deep[i])*p.FlatMM/t.Domed)
				c.Bump = float32(t.Dome * (1 - up*up + 0.1*noise))
			}
			p.Cells[i] = c
		}
	}
}

// bar returns a straight piece of the given width with its ends cut off square, in the units of its ends.
func bar(from, to num.Point, wide float64) num.Ring {
	side := to.Minus(from).Unit().Left().Times(wide / 2)
	return num.Ring{from.Plus(side), from.Minus(side), to.Minus(side), to.Plus(side)}.Facing(false)
}

// Bent returns a thin piece that bends on its way.
func Bent(d num.Dice, from num.Point, way, long, wide float64) num.Ring {
	const n = 7
	turn := d.Around(0, 0.9)
	var left, right []num.Point
	at := from
	for i := range n {
		dir := num.Heading(way + turn*float64(i)/n)
		half := wide / 2 * (1 - 0.6*math.Abs(float64(i)/(n-1)-0.4))
		left, right = append(left, at.Plus(dir.Left().Times(half))), append(right, at.Minus(dir.Left().Times(half)))
		at = at.Plus(dir.Times(long / n))
	}
	for i := n - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	return num.Ring(left).Facing(false)
}
