package relief

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
	"traygauge/vision/synth/relief/solids"
)

// fuzz is what is too fine to be a solid: root hairs and threads of moulds, as the share of each texel that they veil.
type fuzz struct {
	share []float32
	light num.RGB
}

// newFuzz draws hairs beside some roots and, rarely, webs; nil where a drawing has none.
func newFuzz(d num.Dice, paths []roots.Path, white num.RGB, area float32) *fuzz {
	hairy, webs := d.Chance(0.2), d.Chance(0.03)
	if !hairy && !webs || len(paths) == 0 {
		return nil
	}
	f := &fuzz{share: make([]float32, solids.Side*solids.Side), light: white.Times(d.Between(0.6, 1))}
	if hairy {
		f.hairs(d, paths)
	}
	if webs {
		f.webs(d, area)
	}
	for i, s := range f.share {
		f.share[i] = min(0.7, s)
	}
	return f
}

func (f *fuzz) hairs(d num.Dice, paths []roots.Path) {
	dense, long, faint := d.Scaled(4, 25), d.Scaled(0.2, 1.4), d.Scaled(0.02, 0.1) // a mm, mm, share
	taken := d.Between(0.2, 1)
	left := 20000
	for i := range paths {
		p := &paths[i]
		if !d.Chance(taken) {
			continue
		}
		bare := d.Between(0, 0.5) * p.Long() // from the base, as hairs fall off, and at the tip
		for at := bare; at < p.Long()-1.5 && left > 0; at += d.Between(0.2, 1.8) / dense {
			if p.Sunk(at) < 0.5 {
				f.hair(d, p, at, long*d.Between(0.3, 1.3), faint*d.Between(0.3, 1.7))
				left--
			}
		}
	}
}

// hair draws one hair that stands on a root at so many mm from its base.
func (f *fuzz) hair(d num.Dice, p *roots.Path, at, long, faint float32) {
	i := int(at / p.Long() * float32(len(p.Points)-1))
	a, b := p.Points[i], p.Points[min(i+1, len(p.Points)-1)]
	n := max(num.Length(b.X-a.X, b.Y-a.Y), 1e-4)
	x, y := num.Turned((b.X-a.X)/n, (b.Y-a.Y)/n, d.Sign()*d.Between(0.17, 0.3))
	start := 0.8 * a.Radius
	f.thread(a.X+float32(x*start), a.Y+float32(y*start), x, y, long, 0.1*d.Bell()/long, faint)
}

// thread draws a thread that fades toward its end; bend in turns per mm.
func (f *fuzz) thread(x, y, alongX, alongY, long, bend, faint float32) {
	steps := int(long/solids.Texel) + 1
	for k := range steps {
		f.splat(x, y, faint*(1-float32(k)/float32(steps)))
		x += float32(alongX * solids.Texel)
		y += float32(alongY * solids.Texel)
		if k&3 == 3 {
			alongX, alongY = num.Turned(alongX, alongY, bend*4*solids.Texel)
		}
	}
}

// splat shares an amount among the four texels around a place.
func (f *fuzz) splat(x, y, amount float32) {
	u, v := float32(x*solids.PerMM)-0.5, float32(y*solids.PerMM)-0.5
	fx, fy := num.Floor(u), num.Floor(v)
	ix, iy := int(fx), int(fy)
	if ix < 0 || iy < 0 || ix+1 >= solids.Side || iy+1 >= solids.Side {
		return
	}
	u, v = u-fx, v-fy
	i := iy*solids.Side + ix
	f.share[i] += float32(amount * (1 - u) * (1 - v))
	f.share[i+1] += float32(amount * u * (1 - v))
	f.share[i+solids.Side] += float32(amount * (1 - u) * v)
	f.share[i+solids.Side+1] += float32(amount * u * v)
}

// webs draws patches of thin threads that run in all directions.
func (f *fuzz) webs(d num.Dice, area float32) {
	for range d.Count(1, 4) {
		cx, cy := d.Between(8, solids.Width-8), d.Between(8, solids.Width-8)
		wide, faint := d.Between(2, 8), d.Scaled(0.03, 0.12)
		for range int(12 * wide * min(1, area/300)) {
			dx, dy := d.Facing()
			off := wide * num.Sqrt(d.Float32())
			x, y := d.Facing()
			f.thread(cx+float32(dx*off), cy+float32(dy*off), x, y, d.Between(1, 5), 0.06*d.Bell(), faint)
		}
	}
}
