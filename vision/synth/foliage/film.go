package foliage

import "math"

// film is what grows on the medium without being a plant of the tray: algae, moss, liverwort.
type film struct {
	share  float64 // of the medium covered in a usual cell; 0 for none
	algae  lab
	moss   lab
	tufts  float64 // share of it that is moss, with tufts
	lobes  float64 // liverwort's lobes for each cm²
	size   float64 // mm, of the patches
	litter float64 // bits of debris and petals for each cm²
	petal  lab
	straw  float64 // dry stalks and blades for each cm²
	drops  float64 // drops of water on medium and webs for each cm²
	crumbs float64 // how much of the medium's own light and dark shows through films
	specks float64 // how far single crumbs are green or bare
	offset float64
}

func drawFilm(d dice) film {
	f := film{offset: d.between(0, 99), size: d.scaled(4, 30), specks: 0.5}
	if d.chance(0.38) {
		f.share = d.scaled(0.05, 0.7)
		f.algae = lch(d.between(16, 52), d.between(8, 48), d.between(102, 145)) // up to as green as leaves
		if d.chance(0.15) {
			f.algae = lch(d.between(55, 85), d.between(0, 10), d.between(90, 180)) // salts, mould
		}
		if d.chance(0.6) {
			f.crumbs, f.specks = d.between(0.2, 1.1), d.between(0.3, 1.6)
		}
		if d.chance(0.35) { // a flat stain of a leaf's own green that follows the crumbs
			f.algae, f.crumbs = lch(d.between(26, 58), d.between(22, 46), d.between(108, 132)), d.between(0.5, 1.3)
		}
		f.moss = lch(d.between(25, 58), d.between(18, 46), d.between(103, 128))
		if d.chance(0.5) {
			f.tufts = d.between(0.2, 1)
		}
		if d.chance(0.2) {
			f.lobes = d.scaled(0.05, 1)
		}
	}
	if d.chance(0.12) {
		f.litter = d.scaled(0.01, 0.15)
		f.petal = [4]lab{lch(90, 5, 100), lch(60, 50, 5), lch(82, 60, 90), lch(50, 18, 65)}[d.pick(0.2, 0.15, 0.15, 0.5)]
	}
	if d.chance(0.1) {
		f.straw = d.scaled(0.02, 0.6)
	}
	if d.chance(0.1) {
		f.drops = d.scaled(0.05, 2)
	}
	return f
}

// grow lays films, tufts, lobes, litter and drops on the ground.
func (f *film) grow(g *ground, d dice, b *bed) {
	if f.share > 0 {
		f.cover(g, d, b)
	}
	area := across * across / 100
	for range int(f.lobes * area) {
		f.lobe(g, d, d.Float64()*side, d.Float64()*side)
	}
	for range int(f.litter * area) {
		x, y, long := d.Float64()*side, d.Float64()*side, d.scaled(0.8, 7)*perMM
		c := f.petal
		c.l += 6 * d.bell()
		g.blob(x, y, newLump(long, long*d.between(0.15, 0.7), d.between(0, math.Pi), 0.5, c.linear(), 0.3), 0)
	}
	for range int(f.straw * area) {
		x, y, c := d.Float64()*across, d.Float64()*across, drawDead(d)
		c.l = min(88, c.l+d.between(0, 25))
		g.thread(d, x, y, d.between(0, 2*math.Pi), d.scaled(4, 50), d.scaled(0.2, 1.2), d.between(0.3, 1.5), c.linear(), false)
	}
	for range int(f.drops * area) {
		f.wet(g, d, d.Float64()*side, d.Float64()*side, d.scaled(0.4, 3)*perMM/2)
	}
}

// cover spreads algae and moss in patches.
func (f *film) cover(g *ground, d dice, b *bed) {
	noise, mean := tiles(), g.soilLight()
	for y := range side {
		for x := range side {
			i := y*side + x
			if g.soil[i] < 0.5 {
				continue
			}
			mx, my := float64(x)/perMM, float64(y)/perMM
			c, _ := g.cell(mx, my)
			green := b.filling(c.i, c.j).green
			n := noise.cloud.at(f.offset+mx*20/f.size, my*20/f.size) + f.specks*noise.grain.nearest(mx*4, my*4)
			k := ramp(1.2-3.2*green, 1.9-3.2*green, n)
			if k <= 0 {
				continue
			}
			colour := f.algae
			colour.l += 4*noise.grain.nearest(mx*5+9, my*5) + 3*noise.cloud.at(mx*3, my*3)
			own := colour.linear().times(clamp(math.Pow(g.light(i)/mean, f.crumbs), 0.3, 2.2))
			g.paint(i, own, k*clamp(0.62+0.22*noise.cloud.at(mx*1.3, my*1.3+77), 0.15, 0.95))
			if k > 0.6 && f.tufts > 0 && d.chance(0.09*f.tufts) {
				c := f.moss
				c.l += 7 * d.bell()
				tuft := newLump(d.between(0.8, 2), 0.9, d.between(0, math.Pi), d.between(0.3, 1), c.linear(), 0.2)
				g.blob(float64(x), float64(y), tuft, 0.5)
			}
		}
	}
}

// lobe lays a few flat lobes of liverwort beside each other.
func (f *film) lobe(g *ground, d dice, x, y float64) {
	if g.soil[int(y)*side+int(x)] < 0.5 {
		return
	}
	turn := d.between(0, 2*math.Pi)
	for range d.whole(2, 7) {
		long := d.between(1.2, 3.2) * perMM
		c := f.moss
		c.l += 3 * d.bell()
		turn += d.between(0.5, 1.4)
		g.blob(x+1.1*long*math.Cos(turn), y+1.1*long*math.Sin(turn), newLump(long, 0.6*long, turn, 0.8, c.linear(), 0.9), 0.5)
	}
}

// dropGloss marks the water of drops, which are smoother than all else on the ground.
const dropGloss = 99

// wet lays a drop of water, its radius in texels: a dome that shows what is under it darker, and mirrors.
func (f *film) wet(g *ground, d dice, x, y, r float64) {
	for j := int(max(0, y-r)); j <= int(min(side-1, y+r)); j++ {
		for i := int(max(0, x-r)); i <= int(min(side-1, x+r)); i++ {
			dx, dy := (float64(i)+0.5-x)/r, (float64(j)+0.5-y)/r
			q := dx*dx + dy*dy
			if q >= 1 {
				continue
			}
			at := j*side + i
			g.h[at] += float32(0.45 * r / perMM * math.Sqrt(1-q))
			g.gloss[at] = dropGloss
			g.paint(at, grey(darkest), 0.45*(1-q*q))
		}
	}
}
