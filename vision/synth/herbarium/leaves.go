// Package herbarium draws parts of canopies as flat sheets laid over each other, as in a herbarium seen from above: each leaf is an
// outline filled by exact coverage, its surface painted in its own coordinates, low leaves first. What each texel truly shows is kept
// layer by layer along with what it looks like.
//
// Its rooms: num (points, rings, colours, chance, noise), grid (where cells are), canvas (what sheets are laid on, lamp and shadows), shape
// (blades and how they lie), skin (colours, yellowing), plants (crops and how they grow), things (labels, a card) and ground. Here a drawing
// is planned and put together.
//
// Shares, sizes and colours were settled by eye on sheets of drawings (sheet_test.go), where no source is named. It shares no code with the
// other styles: a mistake in one must not hide in another.
package herbarium

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/ground"
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/plants"
	"traygauge/vision/synth/herbarium/things"
)

// The drawings' size: 170.7 mm across.
const (
	drawnSide  = 1024 // texels
	drawnPerMM = 6
)

// Leaves draws a part of a canopy as closeup.NewLeaves(1024, 6). The same r gives the same drawing: to the bit where processors round
// as amd64's do, within such rounding elsewhere, since Go may fuse a product with a sum there.
func Leaves(r *rand.Rand) *closeup.Leaves {
	d := num.Dice{Rand: r}
	plan := planOf(d, drawnSide, drawnPerMM)
	return plan.draw(d)
}

// plan is what a drawing is made from.
type plan struct {
	side   int
	perMM  float64
	pitch  float64 // mm
	lamp   canvas.Lamp
	ground ground.Ground
	stand  *plants.Stand
	drops  canvas.Drops
	veil   canvas.Veil
}

func planOf(d num.Dice, side int, perMM float64) *plan {
	p := &plan{side: side, perMM: perMM, lamp: canvas.LampOf(d.Split()), pitch: d.Between(30, 55)}
	if d.Chance(0.35) {
		p.pitch = d.Wide(15, 70)
	}
	plain := d.Chance(0.5)
	p.stand = plants.StandOf(d.Split(), p.pitch, perMM, plain)
	p.ground = ground.GroundOf(d.Split(), p.pitch, perMM, plain, side)
	p.drops, p.veil = canvas.DropsOf(d.Split()), canvas.VeilOf(d.Split(), side)
	return p
}

// draw lays the ground and everything on it.
func (p *plan) draw(d num.Dice) *closeup.Leaves {
	c := canvas.NewCanvas(p.side, p.perMM, p.lamp)
	pieces := p.pieces(d, c)
	c.Mark(pieces)
	p.ground.Paint(c)
	c.LayAll(pieces)
	p.drops.Paint(d.Split(), c)
	own := p.ground.Trays[0]
	cell, _ := own.Opening(num.At(float64(p.side)/2, float64(p.side)/2))
	middle := own.Cell(cell)
	c.Middle, c.Pitch = [2]float64{middle.X, middle.Y}, own.Pitch
	return c.Finish(&p.veil)
}

// pieces draws all that is laid over the ground, low pieces first, and the plants' bases.
func (p *plan) pieces(d num.Dice, c *canvas.Canvas) []canvas.Piece {
	var out []canvas.Piece
	for _, t := range p.ground.Trays {
		var sheets []plants.Sheet
		sheets, c.Bases = p.stand.Plants(d.Split(), &t.Grid, p.side, c.Bases)
		for i := range sheets {
			out = append(out, &sheets[i])
		}
	}
	own := p.ground.Trays[0]
	lying := append(ground.Litter(d.Split(), own, p.side), things.Signs(d.Split(), &own.Grid, p.side)...)
	if d.Chance(0.05) {
		lying = append(lying, things.Card(d.Split(), p.side, p.perMM))
	}
	for i := range lying {
		out = append(out, &lying[i])
	}
	slices.SortStableFunc(out, func(a, b canvas.Piece) int { return cmp.Compare(a.Order(), b.Order()) })
	return out
}
