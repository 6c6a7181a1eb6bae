package ground

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/tray"
)

// plastic is what a tray is made of.
type plastic struct {
	colour  num.RGB
	gloss   float64
	dirt    float64 // share of the webs that crumbs and dust lie on
	ribs    bool    // a raised line runs round each cell
	ribHigh float64
	scuffs  float64
}

func drawPlastic(d num.Dice, plain bool) plastic {
	kind := d.Pick(0.62, 0.14, 0.06, 0.06, 0.07, 0.05)
	if plain {
		kind = 0
	}
	p := plastic{gloss: d.Scaled(0.15, 1.6), dirt: d.Between(0, 0.5), ribs: d.Chance(0.4), ribHigh: d.Between(0.2, 0.8),
		scuffs: d.Between(0, 1)}
	switch kind {
	case 0:
		p.colour = num.Lch(d.Between(6, 24), d.Between(0, 3), d.Between(0, 360)).Linear()
	case 1:
		p.colour = num.Lch(d.Between(24, 65), d.Between(0, 4), d.Between(0, 360)).Linear()
	case 2:
		p.colour = num.Lch(d.Between(25, 55), d.Between(15, 45), d.Between(125, 165)).Linear()
	case 3:
		p.colour = num.Lch(d.Between(80, 94), d.Between(0, 5), d.Between(60, 110)).Linear()
	case 4:
		p.colour, p.gloss = num.Lch(d.Between(38, 62), d.Between(20, 38), d.Between(44, 62)).Linear(), 0.2
	default:
		p.colour = num.Lch(d.Between(25, 60), d.Between(20, 45), d.Between(240, 285)).Linear()
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

// Bed is all that is drawn at random about the ground.
type Bed struct {
	tray    tray.Tray
	plastic plastic
	medium  medium
	film    film
	bench   bench
	seed    int
	uneven  float64 // mm, scatter of the filling
	patchy  float64 // scatter of the cells' wetness
	hollow  float64 // share of cells without medium
}

// DrawBed draws trays, medium, films and bench; plain ones are dark trays of peat or coir.
func DrawBed(d num.Dice, plain bool) Bed {
	b := Bed{tray: tray.DrawTray(d, plain), plastic: drawPlastic(d, plain), medium: drawMedium(d, plain), film: drawFilm(d),
		bench: drawBench(d),
		seed:  d.IntN(1 << 20), uneven: d.Between(0, 2.5), patchy: d.Between(0, 0.35)}
	if d.Chance(0.1) {
		b.hollow = d.Between(0.02, 0.3)
	}
	if b.tray.Field {
		b.medium, b.uneven, b.patchy, b.hollow = drawEarth(d), 0, 0, 0
	}
	return b
}

// DrawLand says where the trays stand.
func (b *Bed) DrawLand(d num.Dice) tray.Land {
	return tray.Land{Trays: b.drawTrays(d), Table: -b.bench.drop}
}

// drawTrays says which trays are in sight: the edge of the one in the middle in some scenes, and there often the next one's.
func (b *Bed) drawTrays(d num.Dice) []tray.Tray {
	if !d.Chance(0.22) {
		return []tray.Tray{b.tray}
	}
	where := d.IntN(4)
	b.tray.Cut(d, where)
	if d.Chance(0.2) {
		b.tray.Cut(d, (where+1)%4)
	}
	if d.Chance(0.25) {
		b.bench.card = drawCard(d, where)
	}
	if d.Chance(0.5) {
		return []tray.Tray{b.tray, b.tray.Beside(d, where, d.Scaled(0.5, 25))}
	}
	return []tray.Tray{b.tray}
}

// Empty reports whether a cell has no medium.
func (b *Bed) Empty(i, j int) bool { return b.filling(i, j).empty }

func (b *Bed) filling(i, j int) filling {
	f := filling{level: (num.Hash(i, j, b.seed) - 0.5) * b.uneven, tone: 1 + (num.Hash(i, j, b.seed+1)-0.5)*b.patchy,
		empty: num.Hash(i, j, b.seed+2) < b.hollow}
	f.green = b.film.share * 2 * num.Hash(i, j, b.seed+3)
	return f
}

// Lay makes the ground. Where leaves hide it, it has its height and no more.
func (b *Bed) Lay(d num.Dice, l tray.Land, hidden []bool) *Ground {
	g := NewGround(l)
	last, f := tray.Cell{I: tray.Endless + 1}, filling{}
	for y := range num.Side {
		for x := range num.Side {
			mx, my := (float64(x)+0.5)/num.PerMM, (float64(y)+0.5)/num.PerMM
			c, t := g.Cell(mx, my)
			if c.I != last.I || c.J != last.J {
				last, f = c, b.filling(c.I, c.J)
			}
			switch {
			case !hidden[y/2*(num.Side/2)+x/2]:
				b.layTexel(g, y*num.Side+x, mx, my, c, t, &f)
			case c.Within < 0:
				g.h[y*num.Side+x] = float32(l.Table)
			case c.Inside > 0:
				g.h[y*num.Side+x] = float32(t.Medium(c) + f.level)
			}
		}
	}
	b.medium.strew(g, d)
	b.film.grow(g, d, b)
	return g
}

// layTexel lays the texel i, which is at (mx, my) in mm and at c in a tray.
func (b *Bed) layTexel(g *Ground, i int, mx, my float64, c tray.Cell, t *tray.Tray, f *filling) {
	if c.Within < 0 {
		b.bench.lay(g, i, mx, my, c.Within)
		return
	}
	if c.Inside < t.Slant+1.6 || f.empty {
		b.layPlastic(g, i, mx, my, c, t)
	}
	if c.Inside <= 0 {
		return
	}
	if f.empty && !t.Block {
		hole := num.Ramp(0.2, -0.2, math.Sqrt(c.X*c.X+c.Y*c.Y)-0.16*t.Pitch)
		g.h[i] = float32(-25 * num.Ramp(0, 0.5*t.Open, c.Inside))
		g.paint(i, num.Grey(num.Darkest), 0.8*hole)
		return
	}
	noise := num.Tiles().Cloud
	depth := t.Medium(c) + f.level*num.Ramp(0, 0.5*t.Open, c.Inside)
	edge := t.Slant + 0.5*noise.At(mx*2, my*2)
	soil := num.Ramp(edge-0.35, edge+0.2, c.Inside)
	b.medium.layBase(g, i, mx, my, num.Mixed(float64(g.h[i]), depth, soil), soil, f.tone)
}

// layPlastic lays the web or a cell's wall.
func (b *Bed) layPlastic(g *Ground, i int, x, y float64, c tray.Cell, t *tray.Tray) {
	noise := num.Tiles()
	colour, h := b.plastic.colour, 0.0
	if t.Block {
		colour, h = num.Grey(0.004), -6.0
	}
	k := 1 + 0.06*noise.Cloud.At(x*1.2, y*1.2) + 0.05*noise.Grain.Nearest(x*4, y*4)
	if b.plastic.scuffs > 0 {
		k += 0.25 * b.plastic.scuffs * num.Ramp(1.6, 2.4, noise.Cloud.At(x*0.6+y*5, y*0.7-x*0.2))
	}
	wall := num.Ramp(-0.3, t.Slant, c.Inside)
	if c.Inside > -0.3 && !t.Block {
		h = -t.Depth * wall
		colour = colour.Times(1 - 0.25*wall)
	}
	if b.plastic.ribs && c.Inside < 0 && !t.Block {
		h += b.plastic.ribHigh * num.Ramp(1.2, 0.6, math.Abs(c.Inside+1.4))
	}
	if c.Within < 3 {
		h -= 1.5 * num.Ramp(2, 0, c.Within)
	}
	g.h[i] = float32(h + 0.03*noise.Cloud.At(x*1.5, y*1.5))
	dusty := b.plastic.dirt * num.Ramp(0.4, 1.6, noise.Cloud.At(x*1.7+50, y*1.7)+0.4*noise.Grain.Nearest(x*5, y*5))
	dirt := b.medium.base.Linear().Times(1.3)
	g.gloss[i] = float32(b.plastic.gloss * (1 - dusty))
	g.paint(i, colour.Times(k), 1)
	g.paint(i, dirt, dusty)
}
