package tray

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// Layout is where plugs and holes are.
type Layout struct {
	Plugs   []Plug
	holes   []Plug
	bare    []Plug  // holes without a plug
	Loose   bool    // no tray: plugs lie on a board or cloth
	empty   bool    // the cavity in the middle has no plug
	pitch   float64 // from cell to cell, texels
	across  num.Vec // direction of the tray's rows
	notches int     // of star-shaped cells, 0 for none
	notch   float64 // their depth, texels
}

// NewLayout draws the plugs' shapes and places.
func NewLayout(d num.Dice, ordinary bool) *Layout {
	y := &Layout{across: num.Toward(d.Between(-0.08, 0.08)), Loose: !ordinary && d.Chance(0.2), empty: d.Chance(0.03)}
	middle := num.At(canvas.Side/2, canvas.Side/2).Along(d.Direction(), float64(2*canvas.PerMM*math.Sqrt(d.Float64())))
	round, width := true, min(38.5, max(26, 34.2+float64(2.5*d.Normal())))
	if !ordinary {
		switch {
		case d.Chance(0.07):
			width = d.Between(50, 70) // larger than the drawing
		case d.Chance(0.35):
			width = d.Between(15, 42)
		}
		if d.Chance(0.35) {
			round, width = false, d.Between(10, 40)
		}
	}
	shape := Plug{Half: width / 2 * canvas.PerMM, Corner: width / 2 * canvas.PerMM, turn: y.across}
	if !round {
		shape.Corner = float64(shape.Half * d.Between(0.03, 0.7))
	}
	gap := 0.0
	if d.Chance(0.8) {
		gap = float64(d.Ratio(0.15, 3) * canvas.PerMM)
	}
	y.pitch = 2*shape.Half + 2*gap + float64(d.Ratio(2, 16)*canvas.PerMM)
	if d.Chance(0.05) {
		y.notches, y.notch = d.Whole(5, 12), float64(d.Between(0.6, 3)*canvas.PerMM)
	}
	y.fill(d, middle, shape, gap)
	return y
}

// fill sets a plug into each cell that the drawing shows.
func (y *Layout) fill(d num.Dice, middle num.Vec, shape Plug, gap float64) {
	squareHole := d.Chance(0.12)
	for row := -3; row <= 3; row++ {
		for col := -3; col <= 3; col++ {
			first := row == 0 && col == 0
			if y.Loose && !first {
				continue
			}
			cell := middle.Along(y.across, float64(float64(col)*y.pitch)).Along(y.across.Quarter(), float64(float64(row)*y.pitch))
			if math.Abs(cell.X-canvas.Side/2)-shape.Half > canvas.Side/2+30 || math.Abs(cell.Y-canvas.Side/2)-shape.Half > canvas.Side/2+30 {
				continue
			}
			hole := shape
			hole.Middle = cell
			hole = hole.grown(gap)
			if squareHole {
				hole.Corner *= 0.3
			}
			g := shape
			g.Middle = cell.Plus(d.Direction().Times(d.Between(0, 0.5*gap)))
			g = g.grown(float64(-0.3 * gap * d.Float64()))
			if y.Loose {
				g.turn = d.Direction()
			}
			at := len(y.holes)
			y.holes = append(y.holes, hole)
			if first {
				y.holes[0], y.holes[at] = y.holes[at], y.holes[0]
			}
			if !first && d.Chance(0.08) || first && y.empty {
				y.bare = append(y.bare, hole)
				continue
			}
			y.Plugs = append(y.Plugs, g)
		}
	}
}

// distances returns for each texel the greatest distance inside any of the outlines.
func distances(outlines []Plug, bend func(g *Plug, at num.Vec, inside float64) float64) []float32 {
	out := make([]float32, canvas.Side*canvas.Side)
	for i := range out {
		out[i] = -200
	}
	for k := range outlines {
		g := &outlines[k]
		reach := float64(1.45*g.Half) + 60
		x0, x1 := canvas.Span(g.Middle.X-reach, g.Middle.X+reach)
		y0, y1 := canvas.Span(g.Middle.Y-reach, g.Middle.Y+reach)
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				at := num.At(float64(x)+0.5, float64(y)+0.5)
				in := bend(g, at, g.Inside(at))
				if i := y*canvas.Side + x; float32(in) > out[i] {
					out[i] = float32(in)
				}
			}
		}
	}
	return out
}

// Crumbled is the plugs' rims as crumbs leave them.
type Crumbled struct {
	Uneven float32 // texels, over mm
	Crumby float32 // texels, over texels
}

// Rims returns the distances inside the plugs' crumbly rims.
func (y *Layout) Rims(c Crumbled, t *texture.Textures) []float32 {
	return distances(y.Plugs, func(g *Plug, at num.Vec, in float64) float64 {
		if in > 30 || in < -30 {
			return in
		}
		i := min(canvas.Side-1, int(at.Y))*canvas.Side + int(at.X)
		return in + float64(c.Uneven*t.Mid[i]) + float64(c.Crumby*(t.Grain[i]+t.Mid.Nearest(3*int(at.X), 3*int(at.Y))))
	})
}

// Edges returns the distances inside the tray's holes.
func (y *Layout) Edges() []float32 {
	return distances(y.holes, func(g *Plug, at num.Vec, in float64) float64 {
		if y.notches > 0 && in < 40 {
			in += float64(y.notch * wave(at.Minus(g.Middle), y.notches))
		}
		return in
	})
}

// wave is the cosine of n times a vector's angle.
func wave(v num.Vec, n int) float64 {
	u := v.Unit()
	w := num.At(1, 0)
	for range n {
		w = num.At(float64(w.X*u.X)-float64(w.Y*u.Y), float64(w.X*u.Y)+float64(w.Y*u.X))
	}
	return w.X
}
