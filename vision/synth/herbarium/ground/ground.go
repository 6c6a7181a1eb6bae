// Package ground is all that lies below the plants: trays with what fills them, what they stand on, and litter. In go chance and the lamp; it
// paints those texels of the canvas that no piece will hide, and returns the trays' grids and the litter as things. It knows no plants.
package ground

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/grid"
	"traygauge/vision/synth/herbarium/num"
)

// Ground is all that lies below the plants.
type Ground struct {
	Trays []*Tray
	table bench
	low   float64 // mm from the trays' upper side down to the table
}

// GroundOf draws the ground: a tray that goes on past all borders of the drawing, or ends in it, alone or beside another.
func GroundOf(d num.Dice, pitch, perMM float64, plain bool, side int) Ground {
	dark := plain || d.Chance(0.4)
	own := trayOf(d, pitch, perMM, dark, side)
	g := Ground{Trays: []*Tray{own}, table: benchOf(d.Split()), low: d.Between(15, 60)}
	if !d.Chance(0.25) {
		return g
	}
	axis := d.IntN(2)
	ends := d.IntN(2) == 0
	beside := d.Chance(0.45)
	g.end(d, own, axis, ends, side, beside)
	if !beside && d.Chance(0.3) {
		g.end(d, own, 1-axis, d.IntN(2) == 0, side, false)
	}
	return g
}

// end lets a tray end within the drawing, at its right or lower side or, for first, at its left or upper one. Another may stand beside.
func (g *Ground) end(d num.Dice, t *Tray, axis int, first bool, side int, beside bool) {
	m := [2]float64{t.Middle.X, t.Middle.Y}[axis]
	at := func(v float64) int { return int(math.Floor((v-m)/t.Pitch + 0.5)) }
	gap := t.Pitch + (2*t.Rim+d.Wide(0.5, 20))*t.PerMM
	step := num.At(gap, 0)
	if axis == 1 {
		step = num.At(0, gap)
	}
	other := *t
	other.Cells = shuffled(d, t.Cells)
	if first {
		t.Lo[axis] = at(d.Between(0.1, 0.4) * float64(side))
		other.Hi[axis], other.Middle = t.Lo[axis]-1, t.Middle.Minus(step).Plus(t.Step(axis))
	} else {
		t.Hi[axis] = at(d.Between(0.6, 0.9) * float64(side))
		other.Lo[axis], other.Middle = t.Hi[axis]+1, t.Middle.Plus(step).Minus(t.Step(axis))
	}
	if beside {
		aside := other.Step(1 - axis).Times(d.Around(0, 0.2))
		other.Middle = other.Middle.Plus(aside)
		g.Trays = append(g.Trays, &other)
	}
}

func shuffled(d num.Dice, cells [64]grid.CellKind) [64]grid.CellKind {
	d.Shuffle(len(cells), func(i, j int) { cells[i], cells[j] = cells[j], cells[i] })
	return cells
}

// Paint lays the ground on an empty canvas.
func (g *Ground) Paint(c *canvas.Canvas) {
	row, next := make([]soil, c.Side+1), make([]soil, c.Side+1)
	g.row(c, 0, next)
	for y := range c.Side {
		row, next = next, row
		g.row(c, y+1, next)
		for x := range c.Side {
			if c.Top[y*c.Side+x] >= 0 {
				continue
			}
			s := &row[x]
			gx, gy := (row[x+1].z-s.z)*c.PerMM, (next[x].z-s.z)*c.PerMM
			lit(c, y*c.Side+x, s, num.Clamp(gx, -2, 2), num.Clamp(gy, -2, 2))
		}
	}
}

// lit puts a texel of ground on the canvas.
func lit(c *canvas.Canvas, i int, s *soil, gx, gy float64) {
	sun := float32(c.Lamp.Sun * s.sun * c.Lamp.Direct(gx, gy))
	sky := float32(c.Lamp.Sky * s.open * c.Lamp.Around(gx, gy))
	shiny := float32(0)
	if s.gloss > 0 {
		shiny = float32(c.Lamp.Sun * s.sun * s.gloss * c.Lamp.Gloss(gx, gy, s.rough))
	}
	c.Light[i] = closeup.RGB{s.own[0]*sun + shiny, s.own[1]*sun + shiny, s.own[2]*sun + shiny}
	c.Sky[i] = num.Scaled(s.own, sky)
	c.Z[i] = float32(s.z)
}

// row finds what the ground is along a row of texels, where it is seen or the texel to the left or above is, whose slope needs it.
func (g *Ground) row(c *canvas.Canvas, y int, out []soil) {
	seen := func(x, y int) bool { return x >= 0 && y >= 0 && x < c.Side && y < c.Side && c.Top[y*c.Side+x] < 0 }
	for x := range out {
		if !seen(x, y) && !seen(x-1, y) && !seen(x, y-1) {
			continue
		}
		out[x] = g.at(num.At(float64(x)+0.5, float64(y)+0.5), &c.Lamp)
	}
}

// at returns the ground at a place in texels.
func (g *Ground) at(p num.Point, l *canvas.Lamp) soil {
	sun, open := 1.0, 1.0
	for _, t := range g.Trays {
		in := t.Inward(p)
		if in >= 0 {
			return t.at(p, in, l)
		}
		over := t.Inward(p.Minus(l.Fall().Times(g.low * t.PerMM)))
		soft := 0.3 + l.Soft*g.low
		sun *= 1 - num.Ease(-soft, soft, over)
		open *= 1 - 0.6*math.Max(0, 1+in/(0.7*g.low))
	}
	s := g.table.at(p.Times(1 / g.Trays[0].PerMM))
	s.sun, s.open, s.z = sun, open, s.z-g.low
	return s
}

// at returns a tray with what fills it at a place in texels, in mm within its border.
func (t *Tray) at(p num.Point, in float64, l *canvas.Lamp) soil {
	at, within := t.Opening(p)
	x, y := p.X/t.PerMM, p.Y/t.PerMM
	if within <= 0 {
		return t.web(x, y, within, in)
	}
	k := t.Kind(at)
	depth := within * t.Wall
	var s soil
	level := 3 * t.Deep
	if !k.Bare {
		s = t.medium.at(x+7*k.Turn, y, k)
		level = t.Deep - k.Level - s.z
	}
	if depth < level || k.Bare {
		s = t.side(x, y, min(depth, level))
		if k.Bare {
			t.drain(&s, within)
		}
	} else {
		depth = level
	}
	s.z = -min(depth, level)
	if deep := -s.z; deep > 0.1 {
		_, toward := t.Opening(p.Minus(l.Fall().Times(deep * t.PerMM)))
		soft := 0.15 + l.Soft*deep
		s.sun = num.Ease(-soft, soft, toward)
		s.open = 0.3 + 0.7*within/(within+0.6*deep)
	}
	return s
}

// web returns the tray's upper side, out mm (below 0) from the nearest opening.
func (t *Tray) web(x, y, out, in float64) soil {
	const bevel = 0.9 // mm
	s := t.plastic(x, y)
	if edge := 1 + out/bevel; edge > 0 {
		s.z -= 0.5 * edge * edge
	}
	if lip := 1 - in/2.5; lip > 0 {
		s.z += 1.2 * (1 - lip*lip) * lip * 2
	}
	if t.dirt > 0 {
		u, v := t.medium.coarse.On(x*1.6, y*1.6)
		n := num.Tables()
		share := t.dirt * num.Ease(-0.3, 0.7, float64(n.Soft.At(u*0.08, v*0.08)))
		if far, _, kind := n.Cells.At(u, v); kind < share && far < 0.15+0.3*kind/share {
			crumb := t.medium.at(x, y, &grid.CellKind{})
			crumb.z += 0.5
			return crumb
		}
	}
	return s
}

// plastic returns bare tray.
func (t *Tray) plastic(x, y float64) soil {
	n := num.Tables()
	blotch := t.blotches.In(&n.Rich, x, y)
	u, v := t.grain.On(x, y)
	far, _, _ := n.Cells.At(u, v)
	dusty := num.Clamp(t.scuffed*(0.7+0.5*blotch+0.8*float64(n.Rich.At(u, v))), 0, 0.5)
	return soil{
		own: num.Blend(t.own, closeup.RGB{0.2, 0.18, 0.15}, float32(dusty)), z: 0.012 * far,
		gloss: t.gloss * (1 - dusty) * (0.8 + 0.2*blotch), rough: t.rough, sun: 1, open: 1,
	}
}

// side returns a cell's wall, down mm below the upper side.
func (t *Tray) side(x, y, down float64) soil {
	s := t.plastic(x, y)
	s.own = num.Scaled(s.own, 0.9)
	return s
}

// drain draws a hole in a bare cell's bottom.
func (t *Tray) drain(s *soil, within float64) {
	hole := 0.72 * t.Half
	if within > hole {
		s.own = num.Scaled(s.own, 0.2)
		s.gloss = 0
	}
}
