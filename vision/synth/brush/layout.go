package brush

import "math"

// layout is where plugs and holes are.
type layout struct {
	plugs   []plug
	holes   []plug
	bare    []plug  // holes without a plug
	loose   bool    // no tray: plugs lie on a board or cloth
	empty   bool    // the cavity in the middle has no plug
	pitch   float64 // from cell to cell, texels
	across  vec     // direction of the tray's rows
	notches int     // of star-shaped cells, 0 for none
	notch   float64 // their depth, texels
}

// newLayout draws the plugs' shapes and places.
func newLayout(d dice, ordinary bool) *layout {
	y := &layout{across: toward(d.between(-0.08, 0.08)), loose: !ordinary && d.chance(0.2), empty: d.chance(0.03)}
	middle := vec{side / 2, side / 2}.along(d.direction(), float64(2*perMM*math.Sqrt(d.Float64())))
	round, width := true, min(38.5, max(26, 34.2+float64(2.5*d.normal())))
	if !ordinary {
		switch {
		case d.chance(0.07):
			width = d.between(50, 70) // larger than the drawing
		case d.chance(0.35):
			width = d.between(15, 42)
		}
		if d.chance(0.35) {
			round, width = false, d.between(10, 40)
		}
	}
	shape := plug{half: width / 2 * perMM, corner: width / 2 * perMM, turn: y.across}
	if !round {
		shape.corner = float64(shape.half * d.between(0.03, 0.7))
	}
	gap := 0.0
	if d.chance(0.8) {
		gap = float64(d.ratio(0.15, 3) * perMM)
	}
	y.pitch = 2*shape.half + 2*gap + float64(d.ratio(2, 16)*perMM)
	if d.chance(0.05) {
		y.notches, y.notch = d.whole(5, 12), float64(d.between(0.6, 3)*perMM)
	}
	y.fill(d, middle, shape, gap)
	return y
}

// fill sets a plug into each cell that the drawing shows.
func (y *layout) fill(d dice, middle vec, shape plug, gap float64) {
	squareHole := d.chance(0.12)
	for row := -3; row <= 3; row++ {
		for col := -3; col <= 3; col++ {
			first := row == 0 && col == 0
			if y.loose && !first {
				continue
			}
			cell := middle.along(y.across, float64(float64(col)*y.pitch)).along(y.across.quarter(), float64(float64(row)*y.pitch))
			if math.Abs(cell.x-side/2)-shape.half > side/2+30 || math.Abs(cell.y-side/2)-shape.half > side/2+30 {
				continue
			}
			hole := shape
			hole.middle = cell
			hole = hole.grown(gap)
			if squareHole {
				hole.corner *= 0.3
			}
			g := shape
			g.middle = cell.plus(d.direction().times(d.between(0, 0.5*gap)))
			g = g.grown(float64(-0.3 * gap * d.Float64()))
			if y.loose {
				g.turn = d.direction()
			}
			at := len(y.holes)
			y.holes = append(y.holes, hole)
			if first {
				y.holes[0], y.holes[at] = y.holes[at], y.holes[0]
			}
			if !first && d.chance(0.08) || first && y.empty {
				y.bare = append(y.bare, hole)
				continue
			}
			y.plugs = append(y.plugs, g)
		}
	}
}

// distances returns for each texel the greatest distance inside any of the outlines.
func distances(outlines []plug, bend func(g *plug, at vec, inside float64) float64) []float32 {
	out := make([]float32, side*side)
	for i := range out {
		out[i] = -200
	}
	for k := range outlines {
		g := &outlines[k]
		reach := float64(1.45*g.half) + 60
		x0, x1 := span(g.middle.x-reach, g.middle.x+reach)
		y0, y1 := span(g.middle.y-reach, g.middle.y+reach)
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				at := vec{float64(x) + 0.5, float64(y) + 0.5}
				in := bend(g, at, g.inside(at))
				if i := y*side + x; float32(in) > out[i] {
					out[i] = float32(in)
				}
			}
		}
	}
	return out
}

// crumbled is the plugs' rims as crumbs leave them.
type crumbled struct {
	uneven float32 // texels, over mm
	crumby float32 // texels, over texels
}

// rims returns the distances inside the plugs' crumbly rims.
func (y *layout) rims(c crumbled, t *textures) []float32 {
	return distances(y.plugs, func(g *plug, at vec, in float64) float64 {
		if in > 30 || in < -30 {
			return in
		}
		i := min(side-1, int(at.y))*side + int(at.x)
		return in + float64(c.uneven*t.mid[i]) + float64(c.crumby*(t.grain[i]+t.mid.nearest(3*int(at.x), 3*int(at.y))))
	})
}

// edges returns the distances inside the tray's holes.
func (y *layout) edges() []float32 {
	return distances(y.holes, func(g *plug, at vec, in float64) float64 {
		if y.notches > 0 && in < 40 {
			in += float64(y.notch * wave(at.minus(g.middle), y.notches))
		}
		return in
	})
}

// wave is the cosine of n times a vector's angle.
func wave(v vec, n int) float64 {
	u := v.unit()
	w := vec{1, 0}
	for range n {
		w = vec{float64(w.x*u.x) - float64(w.y*u.y), float64(w.x*u.y) + float64(w.y*u.x)}
	}
	return w.x
}
