package foliage

import "math"

// plastic is what a tray is made of.
type plastic struct {
	colour  rgb
	gloss   float64
	dirt    float64 // share of the webs that crumbs and dust lie on
	ribs    bool    // a raised line runs round each cell
	ribHigh float64
	scuffs  float64
}

func drawPlastic(d dice, plain bool) plastic {
	kind := d.pick(0.62, 0.14, 0.06, 0.06, 0.07, 0.05)
	if plain {
		kind = 0
	}
	p := plastic{gloss: d.scaled(0.15, 1.6), dirt: d.between(0, 0.5), ribs: d.chance(0.4), ribHigh: d.between(0.2, 0.8),
		scuffs: d.between(0, 1)}
	switch kind {
	case 0:
		p.colour = lch(d.between(6, 24), d.between(0, 3), d.between(0, 360)).linear()
	case 1:
		p.colour = lch(d.between(24, 65), d.between(0, 4), d.between(0, 360)).linear()
	case 2:
		p.colour = lch(d.between(25, 55), d.between(15, 45), d.between(125, 165)).linear()
	case 3:
		p.colour = lch(d.between(80, 94), d.between(0, 5), d.between(60, 110)).linear()
	case 4:
		p.colour, p.gloss = lch(d.between(38, 62), d.between(20, 38), d.between(44, 62)).linear(), 0.2
	default:
		p.colour = lch(d.between(25, 60), d.between(20, 45), d.between(240, 285)).linear()
	}
	return p
}

// filling is how one cell is filled.
type filling struct {
	empty bool    // no medium at all
	level float64 // mm above what is usual
	tone  float64 // its lightness, of what is usual
	green float64 // share of it that films of algae or moss cover
}

// bed is all that is drawn at random about the ground.
type bed struct {
	tray    tray
	plastic plastic
	medium  medium
	film    film
	bench   bench
	seed    int
	uneven  float64 // mm, scatter of the filling
	patchy  float64 // scatter of the cells' wetness
	hollow  float64 // share of cells without medium
}

func (b *bed) filling(i, j int) filling {
	f := filling{level: (hash(i, j, b.seed) - 0.5) * b.uneven, tone: 1 + (hash(i, j, b.seed+1)-0.5)*b.patchy,
		empty: hash(i, j, b.seed+2) < b.hollow}
	f.green = b.film.share * 2 * hash(i, j, b.seed+3)
	return f
}

// lay makes the ground. Where leaves hide it, it has its height and no more.
func (b *bed) lay(d dice, l land, hidden []bool) *ground {
	g := newGround(l)
	last, f := cell{i: endless + 1}, filling{}
	for y := range side {
		for x := range side {
			mx, my := (float64(x)+0.5)/perMM, (float64(y)+0.5)/perMM
			c, t := g.cell(mx, my)
			if c.i != last.i || c.j != last.j {
				last, f = c, b.filling(c.i, c.j)
			}
			switch {
			case !hidden[y/2*(side/2)+x/2]:
				b.layTexel(g, y*side+x, mx, my, c, t, &f)
			case c.within < 0:
				g.h[y*side+x] = float32(l.table)
			case c.inside > 0:
				g.h[y*side+x] = float32(t.medium(c) + f.level)
			}
		}
	}
	b.medium.strew(g, d)
	b.film.grow(g, d, b)
	return g
}

// layTexel lays the texel i, which is at (mx, my) in mm and at c in a tray.
func (b *bed) layTexel(g *ground, i int, mx, my float64, c cell, t *tray, f *filling) {
	if c.within < 0 {
		b.bench.lay(g, i, mx, my, c.within)
		return
	}
	if c.inside < t.slant+1.6 || f.empty {
		b.layPlastic(g, i, mx, my, c, t)
	}
	if c.inside <= 0 {
		return
	}
	if f.empty && !t.block {
		hole := ramp(0.2, -0.2, math.Sqrt(c.x*c.x+c.y*c.y)-0.16*t.pitch)
		g.h[i] = float32(-25 * ramp(0, 0.5*t.open, c.inside))
		g.paint(i, grey(darkest), 0.8*hole)
		return
	}
	noise := tiles().cloud
	depth := t.medium(c) + f.level*ramp(0, 0.5*t.open, c.inside)
	edge := t.slant + 0.5*noise.at(mx*2, my*2)
	soil := ramp(edge-0.35, edge+0.2, c.inside)
	b.medium.layBase(g, i, mx, my, mixed(float64(g.h[i]), depth, soil), soil, f.tone)
}

// layPlastic lays the web or a cell's wall.
func (b *bed) layPlastic(g *ground, i int, x, y float64, c cell, t *tray) {
	noise := tiles()
	colour, h := b.plastic.colour, 0.0
	if t.block {
		colour, h = grey(0.004), -6.0
	}
	k := 1 + 0.06*noise.cloud.at(x*1.2, y*1.2) + 0.05*noise.grain.nearest(x*4, y*4)
	if b.plastic.scuffs > 0 {
		k += 0.25 * b.plastic.scuffs * ramp(1.6, 2.4, noise.cloud.at(x*0.6+y*5, y*0.7-x*0.2))
	}
	wall := ramp(-0.3, t.slant, c.inside)
	if c.inside > -0.3 && !t.block {
		h = -t.depth * wall
		colour = colour.times(1 - 0.25*wall)
	}
	if b.plastic.ribs && c.inside < 0 && !t.block {
		h += b.plastic.ribHigh * ramp(1.2, 0.6, math.Abs(c.inside+1.4))
	}
	if c.within < 3 {
		h -= 1.5 * ramp(2, 0, c.within)
	}
	g.h[i] = float32(h + 0.03*noise.cloud.at(x*1.5, y*1.5))
	dusty := b.plastic.dirt * ramp(0.4, 1.6, noise.cloud.at(x*1.7+50, y*1.7)+0.4*noise.grain.nearest(x*5, y*5))
	dirt := b.medium.base.linear().times(1.3)
	g.gloss[i] = float32(b.plastic.gloss * (1 - dusty))
	g.paint(i, colour.times(k), 1)
	g.paint(i, dirt, dusty)
}
