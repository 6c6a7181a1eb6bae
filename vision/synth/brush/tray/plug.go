package tray

import (
	"math"

	"traygauge/vision/synth/brush/num"
)

// UsualArea is the area of a plug 34 mm wide, mm²: the one that amounts on a plug are given for.
const UsualArea = 908.0

// Plug is the outline of one plug's bottom or of the hole that it hangs in: a disc, or a square with round corners.
type Plug struct {
	Middle num.Vec
	Half   float64 // half the width, texels
	Corner float64 // radius of the corners, texels; half for a disc
	turn   num.Vec // direction of a square's side
}

// Inside is the distance from the outline, texels, positive inside.
func (g *Plug) Inside(at num.Vec) float64 {
	d := at.Minus(g.Middle)
	if g.Corner >= g.Half {
		return g.Half - d.Length()
	}
	flat := g.Half - g.Corner
	x, y := math.Abs(d.Dot(g.turn))-flat, math.Abs(d.Cross(g.turn))-flat
	out := num.At(max(0, x), max(0, y)).Length()
	return g.Corner - out - min(0, max(x, y))
}

// Inward is the direction in which inside grows.
func (g *Plug) Inward(at num.Vec) num.Vec {
	const h = 0.5
	dx := g.Inside(num.At(at.X+h, at.Y)) - g.Inside(num.At(at.X-h, at.Y))
	dy := g.Inside(num.At(at.X, at.Y+h)) - g.Inside(num.At(at.X, at.Y-h))
	return num.At(dx, dy).Unit()
}

// grown is the outline moved outwards by so many texels.
func (g Plug) grown(by float64) Plug {
	g.Half += by
	g.Corner = max(0.5, g.Corner+by)
	return g
}

// Somewhere draws a place at least margin texels inside.
func (g *Plug) Somewhere(d num.Dice, margin float64) num.Vec {
	for range 40 {
		at := g.Middle.Plus(num.At(d.Between(-g.Half, g.Half), d.Between(-g.Half, g.Half)).Times(1.0))
		if g.Corner < g.Half {
			at = g.Middle.Along(g.turn, d.Between(-g.Half, g.Half)).Along(g.turn.Quarter(), d.Between(-g.Half, g.Half))
		}
		if g.Inside(at) > margin {
			return at
		}
	}
	return g.Middle
}

// OnRim returns the place on the outline, moved in by margin texels, that lies in a direction from the middle.
func (g *Plug) OnRim(way num.Vec, margin float64) num.Vec {
	lo, hi := 0.0, 1.6*g.Half
	for range 12 {
		mid := (lo + hi) / 2
		if g.Inside(g.Middle.Along(way, mid)) > margin {
			lo = mid
		} else {
			hi = mid
		}
	}
	return g.Middle.Along(way, lo)
}

// Area in square texels.
func (g *Plug) Area() float64 {
	return float64(4*g.Half*g.Half) - float64((4-math.Pi)*g.Corner*g.Corner)
}
