package relief

// fuzz is what is too fine to be a solid: root hairs and threads of moulds, as the share of each texel that they veil.
type fuzz struct {
	share []float32
	light rgb
}

// newFuzz draws hairs beside some roots and, rarely, webs; nil where a drawing has none.
func newFuzz(d dice, paths []path, white rgb, area float32) *fuzz {
	hairy, webs := d.chance(0.2), d.chance(0.03)
	if !hairy && !webs || len(paths) == 0 {
		return nil
	}
	f := &fuzz{share: make([]float32, side*side), light: white.times(d.between(0.6, 1))}
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

func (f *fuzz) hairs(d dice, paths []path) {
	dense, long, faint := d.scaled(4, 25), d.scaled(0.2, 1.4), d.scaled(0.02, 0.1) // a mm, mm, share
	taken := d.between(0.2, 1)
	left := 20000
	for i := range paths {
		p := &paths[i]
		if !d.chance(taken) {
			continue
		}
		bare := d.between(0, 0.5) * p.long() // from the base, as hairs fall off, and at the tip
		for at := bare; at < p.long()-1.5 && left > 0; at += d.between(0.2, 1.8) / dense {
			if most(p.buried, at) < 0.5 {
				f.hair(d, p, at, long*d.between(0.3, 1.3), faint*d.between(0.3, 1.7))
				left--
			}
		}
	}
}

// hair draws one hair that stands on a root at so many mm from its base.
func (f *fuzz) hair(d dice, p *path, at, long, faint float32) {
	i := int(at / p.long() * float32(len(p.points)-1))
	a, b := p.points[i], p.points[min(i+1, len(p.points)-1)]
	n := max(length(b.x-a.x, b.y-a.y), 1e-4)
	x, y := turned((b.x-a.x)/n, (b.y-a.y)/n, d.sign()*d.between(0.17, 0.3))
	start := 0.8 * a.radius
	f.thread(a.x+float32(x*start), a.y+float32(y*start), x, y, long, 0.1*d.bell()/long, faint)
}

// thread draws a thread that fades toward its end; bend in turns per mm.
func (f *fuzz) thread(x, y, alongX, alongY, long, bend, faint float32) {
	steps := int(long/texel) + 1
	for k := range steps {
		f.splat(x, y, faint*(1-float32(k)/float32(steps)))
		x += float32(alongX * texel)
		y += float32(alongY * texel)
		if k&3 == 3 {
			alongX, alongY = turned(alongX, alongY, bend*4*texel)
		}
	}
}

// splat shares an amount among the four texels around a place.
func (f *fuzz) splat(x, y, amount float32) {
	u, v := float32(x*perMM)-0.5, float32(y*perMM)-0.5
	fx, fy := floor(u), floor(v)
	ix, iy := int(fx), int(fy)
	if ix < 0 || iy < 0 || ix+1 >= side || iy+1 >= side {
		return
	}
	u, v = u-fx, v-fy
	i := iy*side + ix
	f.share[i] += float32(amount * (1 - u) * (1 - v))
	f.share[i+1] += float32(amount * u * (1 - v))
	f.share[i+side] += float32(amount * (1 - u) * v)
	f.share[i+side+1] += float32(amount * u * v)
}

// webs draws patches of thin threads that run in all directions.
func (f *fuzz) webs(d dice, area float32) {
	for range d.count(1, 4) {
		cx, cy := d.between(8, width-8), d.between(8, width-8)
		wide, faint := d.between(2, 8), d.scaled(0.03, 0.12)
		for range int(12 * wide * min(1, area/300)) {
			dx, dy := d.facing()
			off := wide * sqrt(d.Float32())
			x, y := d.facing()
			f.thread(cx+float32(dx*off), cy+float32(dy*off), x, y, d.between(1, 5), 0.06*d.bell(), faint)
		}
	}
}
