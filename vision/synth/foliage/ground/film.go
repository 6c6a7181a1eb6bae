package ground

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/skin"
)

// film is what grows on the medium without being a plant of the tray: algae, moss, liverwort.
type film struct {
	share  float64 // of the medium covered in a usual cell; 0 for none
	algae  num.Lab
	moss   num.Lab
	tufts  float64 // share of it that is moss, with tufts
	lobes  float64 // liverwort's lobes for each cm²
	size   float64 // mm, of the patches
	litter float64 // bits of debris and petals for each cm²
	petal  num.Lab
	straw  float64 // dry stalks and blades for each cm²
	drops  float64 // drops of water on medium and webs for each cm²
	crumbs float64 // how much of the medium's own light and dark shows through films
	specks float64 // how far single crumbs are green or bare
	offset float64
}

func drawFilm(d num.Dice) film {
	f := film{offset: d.Between(0, 99), size: d.Scaled(4, 30), specks: 0.5}
	if d.Chance(0.38) {
		f.share = d.Scaled(0.05, 0.7)
		f.algae = num.Lch(d.Between(16, 52), d.Between(8, 48), d.Between(102, 145)) // up to as green as leaves
		if d.Chance(0.15) {
			f.algae = num.Lch(d.Between(55, 85), d.Between(0, 10), d.Between(90, 180)) // salts, mould
		}
		if d.Chance(0.6) {
			f.crumbs, f.specks = d.Between(0.2, 1.1), d.Between(0.3, 1.6)
		}
		if d.Chance(0.35) { // a flat stain of a leaf's own green that follows the crumbs
			f.algae, f.crumbs = num.Lch(d.Between(26, 58), d.Between(22, 46), d.Between(108, 132)), d.Between(0.5, 1.3)
		}
		f.moss = num.Lch(d.Between(25, 58), d.Between(18, 46), d.Between(103, 128))
		if d.Chance(0.5) {
			f.tufts = d.Between(0.2, 1)
		}
		if d.Chance(0.2) {
			f.lobes = d.Scaled(0.05, 1)
		}
	}
	if d.Chance(0.12) {
		f.litter = d.Scaled(0.01, 0.15)
		f.petal = [4]num.Lab{num.Lch(90, 5, 100), num.Lch(60, 50, 5), num.Lch(82, 60, 90), num.Lch(50, 18, 65)}[d.Pick(0.2, 0.15, 0.15, 0.5)]
	}
	if d.Chance(0.1) {
		f.straw = d.Scaled(0.02, 0.6)
	}
	if d.Chance(0.1) {
		f.drops = d.Scaled(0.05, 2)
	}
	return f
}

// grow lays films, tufts, lobes, litter and drops on the ground.
func (f *film) grow(g *Ground, d num.Dice, b *Bed) {
	if f.share > 0 {
		f.cover(g, d, b)
	}
	area := num.Across * num.Across / 100
	for range int(f.lobes * area) {
		f.lobe(g, d, d.Float64()*num.Side, d.Float64()*num.Side)
	}
	for range int(f.litter * area) {
		x, y, long := d.Float64()*num.Side, d.Float64()*num.Side, d.Scaled(0.8, 7)*num.PerMM
		c := f.petal
		c.L += 6 * d.Bell()
		g.blob(x, y, newLump(long, long*d.Between(0.15, 0.7), d.Between(0, math.Pi), 0.5, c.Linear(), 0.3), 0)
	}
	for range int(f.straw * area) {
		x, y, c := d.Float64()*num.Across, d.Float64()*num.Across, skin.DrawDead(d)
		c.L = min(88, c.L+d.Between(0, 25))
		g.thread(d, x, y, d.Between(0, 2*math.Pi), d.Scaled(4, 50), d.Scaled(0.2, 1.2), d.Between(0.3, 1.5), c.Linear(), false)
	}
	for range int(f.drops * area) {
		f.wet(g, d, d.Float64()*num.Side, d.Float64()*num.Side, d.Scaled(0.4, 3)*num.PerMM/2)
	}
}

// cover spreads algae and moss in patches.
func (f *film) cover(g *Ground, d num.Dice, b *Bed) {
	noise, mean := num.Tiles(), g.soilLight()
	for y := range num.Side {
		for x := range num.Side {
			i := y*num.Side + x
			if g.soil[i] < 0.5 {
				continue
			}
			mx, my := float64(x)/num.PerMM, float64(y)/num.PerMM
			c, _ := g.Cell(mx, my)
			green := b.filling(c.I, c.J).green
			n := noise.Cloud.At(f.offset+mx*20/f.size, my*20/f.size) + f.specks*noise.Grain.Nearest(mx*4, my*4)
			k := num.Ramp(1.2-3.2*green, 1.9-3.2*green, n)
			if k <= 0 {
				continue
			}
			colour := f.algae
			colour.L += 4*noise.Grain.Nearest(mx*5+9, my*5) + 3*noise.Cloud.At(mx*3, my*3)
			own := colour.Linear().Times(num.Clamp(math.Pow(g.light(i)/mean, f.crumbs), 0.3, 2.2))
			g.paint(i, own, k*num.Clamp(0.62+0.22*noise.Cloud.At(mx*1.3, my*1.3+77), 0.15, 0.95))
			if k > 0.6 && f.tufts > 0 && d.Chance(0.09*f.tufts) {
				c := f.moss
				c.L += 7 * d.Bell()
				tuft := newLump(d.Between(0.8, 2), 0.9, d.Between(0, math.Pi), d.Between(0.3, 1), c.Linear(), 0.2)
				g.blob(float64(x), float64(y), tuft, 0.5)
			}
		}
	}
}

// lobe lays a few flat lobes of liverwort beside each other.
func (f *film) lobe(g *Ground, d num.Dice, x, y float64) {
	if g.soil[int(y)*num.Side+int(x)] < 0.5 {
		return
	}
	turn := d.Between(0, 2*math.Pi)
	for range d.Whole(2, 7) {
		long := d.Between(1.2, 3.2) * num.PerMM
		c := f.moss
		c.L += 3 * d.Bell()
		turn += d.Between(0.5, 1.4)
		g.blob(x+1.1*long*math.Cos(turn), y+1.1*long*math.Sin(turn), newLump(long, 0.6*long, turn, 0.8, c.Linear(), 0.9), 0.5)
	}
}

// dropGloss marks the water of drops, which are smoother than all else on the ground.
const dropGloss = 99

// wet lays a drop of water, its radius in texels: a dome that shows what is under it darker, and mirrors.
func (f *film) wet(g *Ground, d num.Dice, x, y, r float64) {
	for j := int(max(0, y-r)); j <= int(min(num.Side-1, y+r)); j++ {
		for i := int(max(0, x-r)); i <= int(min(num.Side-1, x+r)); i++ {
			dx, dy := (float64(i)+0.5-x)/r, (float64(j)+0.5-y)/r
			q := dx*dx + dy*dy
			if q >= 1 {
				continue
			}
			at := j*num.Side + i
			g.h[at] += float32(0.45 * r / num.PerMM * math.Sqrt(1-q))
			g.gloss[at] = dropGloss
			g.paint(at, num.Grey(num.Darkest), 0.45*(1-q*q))
		}
	}
}
