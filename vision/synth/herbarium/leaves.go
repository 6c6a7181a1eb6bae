// Package herbarium draws parts of canopies as flat sheets laid over each other, as in a herbarium seen from above: each leaf is an
// outline filled by exact coverage, its surface painted in its own coordinates, low leaves first. What each texel truly shows is kept
// layer by layer along with what it looks like.
package herbarium

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"traygauge/vision/synth/closeup"
)

// The drawings' size: 170.7 mm across.
const (
	drawnSide  = 1024 // texels
	drawnPerMM = 6
)

// Leaves draws a part of a canopy as closeup.NewLeaves(1024, 6). The same r gives the same drawing: to the bit where processors round
// as amd64's do, within such rounding elsewhere, since Go may fuse a product with a sum there.
func Leaves(r *rand.Rand) *closeup.Leaves {
	d := dice{r}
	plan := planOf(d, drawnSide, drawnPerMM)
	return plan.draw(d)
}

// plan is what a drawing is made from.
type plan struct {
	side   int
	perMM  float64
	pitch  float64 // mm
	lamp   lamp
	ground ground
	stand  *stand
	drops  drops
	veil   veil
}

func planOf(d dice, side int, perMM float64) *plan {
	p := &plan{side: side, perMM: perMM, lamp: lampOf(d.split()), pitch: d.between(30, 55)}
	if d.chance(0.35) {
		p.pitch = d.wide(15, 70)
	}
	plain := d.chance(0.5)
	p.stand = standOf(d.split(), p.pitch, perMM, plain)
	p.ground = groundOf(d.split(), p.pitch, perMM, plain, side)
	p.drops, p.veil = dropsOf(d.split()), veilOf(d.split(), side)
	return p
}

// piece is what is laid over the ground: a sheet of a plant, or a thing.
type piece interface {
	order() float64   // mm; what is lower is laid first
	outlines() []ring // texels
	paint(p *painter) // its outlines are in the mask
}

// draw lays the ground and everything on it.
func (p *plan) draw(d dice) *closeup.Leaves {
	c := newCanvas(p.side, p.perMM, p.lamp)
	pieces := p.pieces(d, c)
	c.mark(pieces)
	p.ground.paint(c)
	brush := painter{canvas: c}
	for i, one := range pieces {
		if c.now = int32(i); c.mask.cut(c.Side, one.outlines()...) {
			one.paint(&brush)
		}
	}
	p.drops.paint(d.split(), c)
	own := p.ground.trays[0]
	cell, _ := own.opening(point{float64(p.side) / 2, float64(p.side) / 2})
	middle := own.cell(cell)
	c.Middle, c.Pitch = [2]float64{middle.x, middle.y}, own.pitch
	return c.finish(&p.veil)
}

// pieces draws all that is laid over the ground, low pieces first, and the plants' bases.
func (p *plan) pieces(d dice, c *canvas) []piece {
	var out []piece
	for _, t := range p.ground.trays {
		var sheets []sheet
		sheets, c.Bases = p.stand.plants(d.split(), t, p.side, c.Bases)
		for i := range sheets {
			out = append(out, &sheets[i])
		}
	}
	own := p.ground.trays[0]
	things := append(litter(d.split(), own, p.side), signs(d.split(), own, p.side)...)
	if d.chance(0.05) {
		things = append(things, card(d.split(), p.side, p.perMM))
	}
	for i := range things {
		out = append(out, &things[i])
	}
	slices.SortStableFunc(out, func(a, b piece) int { return cmp.Compare(a.order(), b.order()) })
	return out
}

// order is how high a sheet lies among others, in mm.
func (s *sheet) order() float64 { return s.spine.mean() + s.lift }
