package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// ground is all that lies below the plants.
type ground struct {
	trays []*tray
	table bench
	low   float64 // mm from the trays' upper side down to the table
}

// groundOf draws the ground: a tray that goes on past all borders of the drawing, or ends in it, alone or beside another.
func groundOf(d dice, pitch, perMM float64, plain bool, side int) ground {
	dark := plain || d.chance(0.4)
	own := trayOf(d, pitch, perMM, dark, side)
	g := ground{trays: []*tray{own}, table: benchOf(d.split()), low: d.between(15, 60)}
	if !d.chance(0.25) {
		return g
	}
	axis := d.IntN(2)
	ends := d.IntN(2) == 0
	beside := d.chance(0.45)
	g.end(d, own, axis, ends, side, beside)
	if !beside && d.chance(0.3) {
		g.end(d, own, 1-axis, d.IntN(2) == 0, side, false)
	}
	return g
}

// end lets a tray end within the drawing, at its right or lower side or, for first, at its left or upper one. Another may stand beside.
func (g *ground) end(d dice, t *tray, axis int, first bool, side int, beside bool) {
	m := [2]float64{t.middle.x, t.middle.y}[axis]
	at := func(v float64) int { return int(math.Floor((v-m)/t.pitch + 0.5)) }
	gap := t.pitch + (2*t.rim+d.wide(0.5, 20))*t.perMM
	step := point{gap, 0}
	if axis == 1 {
		step = point{0, gap}
	}
	other := *t
	other.cells = shuffled(d, t.cells)
	if first {
		t.lo[axis] = at(d.between(0.1, 0.4) * float64(side))
		other.hi[axis], other.middle = t.lo[axis]-1, t.middle.minus(step).plus(t.step(axis))
	} else {
		t.hi[axis] = at(d.between(0.6, 0.9) * float64(side))
		other.lo[axis], other.middle = t.hi[axis]+1, t.middle.plus(step).minus(t.step(axis))
	}
	if beside {
		aside := other.step(1 - axis).times(d.around(0, 0.2))
		other.middle = other.middle.plus(aside)
		g.trays = append(g.trays, &other)
	}
}

// step is the way from a cell to the next to the right or down, in texels.
func (t *tray) step(axis int) point {
	if axis == 0 {
		return point{t.pitch, 0}
	}
	return point{0, t.pitch}
}

func shuffled(d dice, cells [64]cellKind) [64]cellKind {
	d.Shuffle(len(cells), func(i, j int) { cells[i], cells[j] = cells[j], cells[i] })
	return cells
}

// paint lays the ground on an empty canvas.
func (g *ground) paint(c *canvas) {
	row, next := make([]soil, c.Side+1), make([]soil, c.Side+1)
	g.row(c, 0, next)
	for y := range c.Side {
		row, next = next, row
		g.row(c, y+1, next)
		for x := range c.Side {
			if c.top[y*c.Side+x] >= 0 {
				continue
			}
			s := &row[x]
			gx, gy := (row[x+1].z-s.z)*c.PerMM, (next[x].z-s.z)*c.PerMM
			c.lit(y*c.Side+x, s, clamp(gx, -2, 2), clamp(gy, -2, 2))
		}
	}
}

// lit puts a texel of ground on the canvas.
func (c *canvas) lit(i int, s *soil, gx, gy float64) {
	sun := float32(c.lamp.sun * s.sun * c.lamp.direct(gx, gy))
	sky := float32(c.lamp.sky * s.open * c.lamp.around(gx, gy))
	shiny := float32(0)
	if s.gloss > 0 {
		shiny = float32(c.lamp.sun * s.sun * s.gloss * c.lamp.gloss(gx, gy, s.rough))
	}
	c.Light[i] = closeup.RGB{s.own[0]*sun + shiny, s.own[1]*sun + shiny, s.own[2]*sun + shiny}
	c.sky[i] = scaled(s.own, sky)
	c.z[i] = float32(s.z)
}

// row finds what the ground is along a row of texels, where it is seen or the texel to the left or above is, whose slope needs it.
func (g *ground) row(c *canvas, y int, out []soil) {
	seen := func(x, y int) bool { return x >= 0 && y >= 0 && x < c.Side && y < c.Side && c.top[y*c.Side+x] < 0 }
	for x := range out {
		if !seen(x, y) && !seen(x-1, y) && !seen(x, y-1) {
			continue
		}
		out[x] = g.at(point{float64(x) + 0.5, float64(y) + 0.5}, &c.lamp)
	}
}

// at returns the ground at a place in texels.
func (g *ground) at(p point, l *lamp) soil {
	sun, open := 1.0, 1.0
	for _, t := range g.trays {
		in := t.inward(p)
		if in >= 0 {
			return t.at(p, in, l)
		}
		over := t.inward(p.minus(l.fall().times(g.low * t.perMM)))
		soft := 0.3 + l.soft*g.low
		sun *= 1 - ease(-soft, soft, over)
		open *= 1 - 0.6*math.Max(0, 1+in/(0.7*g.low))
	}
	s := g.table.at(p.times(1 / g.trays[0].perMM))
	s.sun, s.open, s.z = sun, open, s.z-g.low
	return s
}

// at returns a tray with what fills it at a place in texels, in mm within its border.
func (t *tray) at(p point, in float64, l *lamp) soil {
	at, within := t.opening(p)
	x, y := p.x/t.perMM, p.y/t.perMM
	if within <= 0 {
		return t.web(x, y, within, in)
	}
	k := t.kind(at)
	depth := within * t.wall
	var s soil
	level := 3 * t.deep
	if !k.bare {
		s = t.medium.at(x+7*k.turn, y, k)
		level = t.deep - k.level - s.z
	}
	if depth < level || k.bare {
		s = t.side(x, y, min(depth, level))
		if k.bare {
			t.drain(&s, within)
		}
	} else {
		depth = level
	}
	s.z = -min(depth, level)
	if deep := -s.z; deep > 0.1 {
		_, toward := t.opening(p.minus(l.fall().times(deep * t.perMM)))
		soft := 0.15 + l.soft*deep
		s.sun = ease(-soft, soft, toward)
		s.open = 0.3 + 0.7*within/(within+0.6*deep)
	}
	return s
}

// web returns the tray's upper side, out mm (below 0) from the nearest opening.
func (t *tray) web(x, y, out, in float64) soil {
	const bevel = 0.9 // mm
	s := t.plastic(x, y)
	if edge := 1 + out/bevel; edge > 0 {
		s.z -= 0.5 * edge * edge
	}
	if lip := 1 - in/2.5; lip > 0 {
		s.z += 1.2 * (1 - lip*lip) * lip * 2
	}
	if t.dirt > 0 {
		u, v := t.medium.coarse.on(x*1.6, y*1.6)
		n := tables()
		share := t.dirt * ease(-0.3, 0.7, float64(n.soft.at(u*0.08, v*0.08)))
		if far, _, kind := n.cells.at(u, v); kind < share && far < 0.15+0.3*kind/share {
			crumb := t.medium.at(x, y, &cellKind{})
			crumb.z += 0.5
			return crumb
		}
	}
	return s
}

// plastic returns bare tray.
func (t *tray) plastic(x, y float64) soil {
	n := tables()
	blotch := t.blotches.in(&n.rich, x, y)
	u, v := t.grain.on(x, y)
	far, _, _ := n.cells.at(u, v)
	dusty := clamp(t.scuffed*(0.7+0.5*blotch+0.8*float64(n.rich.at(u, v))), 0, 0.5)
	return soil{
		own: blend(t.own, closeup.RGB{0.2, 0.18, 0.15}, float32(dusty)), z: 0.012 * far,
		gloss: t.gloss * (1 - dusty) * (0.8 + 0.2*blotch), rough: t.rough, sun: 1, open: 1,
	}
}

// side returns a cell's wall, down mm below the upper side.
func (t *tray) side(x, y, down float64) soil {
	s := t.plastic(x, y)
	s.own = scaled(s.own, 0.9)
	return s
}

// drain draws a hole in a bare cell's bottom.
func (t *tray) drain(s *soil, within float64) {
	hole := 0.72 * t.half
	if within > hole {
		s.own = scaled(s.own, 0.2)
		s.gloss = 0
	}
}
