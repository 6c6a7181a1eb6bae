package brush

import "math"

// plug is the outline of one plug's bottom or of the hole that it hangs in: a disc, or a square with round corners.
type plug struct {
	middle vec
	half   float64 // half the width, texels
	corner float64 // radius of the corners, texels; half for a disc
	turn   vec     // direction of a square's side
}

// inside is the distance from the outline, texels, positive inside.
func (g *plug) inside(at vec) float64 {
	d := at.minus(g.middle)
	if g.corner >= g.half {
		return g.half - d.length()
	}
	flat := g.half - g.corner
	x, y := math.Abs(d.dot(g.turn))-flat, math.Abs(d.cross(g.turn))-flat
	out := vec{max(0, x), max(0, y)}.length()
	return g.corner - out - min(0, max(x, y))
}

// inward is the direction in which inside grows.
func (g *plug) inward(at vec) vec {
	const h = 0.5
	dx := g.inside(vec{at.x + h, at.y}) - g.inside(vec{at.x - h, at.y})
	dy := g.inside(vec{at.x, at.y + h}) - g.inside(vec{at.x, at.y - h})
	return vec{dx, dy}.unit()
}

// grown is the outline moved outwards by so many texels.
func (g plug) grown(by float64) plug {
	g.half += by
	g.corner = max(0.5, g.corner+by)
	return g
}

// somewhere draws a place at least margin texels inside.
func (g *plug) somewhere(d dice, margin float64) vec {
	for range 40 {
		at := g.middle.plus(vec{d.between(-g.half, g.half), d.between(-g.half, g.half)}.times(1.0))
		if g.corner < g.half {
			at = g.middle.along(g.turn, d.between(-g.half, g.half)).along(g.turn.quarter(), d.between(-g.half, g.half))
		}
		if g.inside(at) > margin {
			return at
		}
	}
	return g.middle
}

// onRim returns the place on the outline, moved in by margin texels, that lies in a direction from the middle.
func (g *plug) onRim(way vec, margin float64) vec {
	lo, hi := 0.0, 1.6*g.half
	for range 12 {
		mid := (lo + hi) / 2
		if g.inside(g.middle.along(way, mid)) > margin {
			lo = mid
		} else {
			hi = mid
		}
	}
	return g.middle.along(way, lo)
}

// area in square texels.
func (g *plug) area() float64 {
	return float64(4*g.half*g.half) - float64((4-math.Pi)*g.corner*g.corner)
}
