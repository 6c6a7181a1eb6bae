package foliage

import "math"

// leaf is one leaf to grow. Lengths without a unit are shares of its own.
type leaf struct {
	azimuth, elevation float64
	length             float64 // mm, stalk and blade
	age                float64 // 0 youngest, 1 oldest
	stalk              float64
	outline            outline
	hinge, droop       float64
	fold, curl         float64
	veins              veins
}

func (p *plant) growLeaf(f frame, azimuth float64, i, count int) {
	d, c := p.d, p.crop
	age := 1.0
	if count > 1 {
		age = 1 - float64(i)/float64(count-1)
	}
	grown := clamp(0.2+1.1*math.Pow(age, 0.8), 0.15, 1) * (0.7 + 0.3*min(1, float64(i)/2))
	switch {
	case p.monocot() && age == 1:
		grown = d.between(0.7, 1)
	case p.stage == seedLeaves:
		grown = d.between(0.08, 0.35)
	case count == 1:
		grown = d.between(0.3, 1)
	}
	l := leaf{
		azimuth: azimuth, elevation: mixed(c.young, c.old, math.Pow(age, 0.7)) + 9*degree*d.bell(), age: age,
		length: max(1.5, p.reach*1.1*grown*clamp(d.near(1, 0.1), 0.75, 1.25)), stalk: c.stalk * d.between(0.8, 1.2),
		hinge: c.hinge * d.between(0.5, 1.3) * age, droop: c.droop*d.between(0.5, 1.4)*mixed(0.4, 1, age) + 0.1*d.bell(),
		fold: mixed(c.foldYoung, c.fold, ramp(0, 0.6, age)) * d.between(0.6, 1.4), curl: c.curl*d.between(0.5, 1.5) + 0.15*d.bell(),
		outline: c.outline, veins: c.veins,
	}
	l.outline.wide *= clamp(d.near(1, 0.08), 0.8, 1.2)
	l.outline.irregular = d.between(0, 200)
	switch c.habit {
	case broad:
		p.growBlade(f, l)
	case compound:
		p.growCompound(f, l)
	case strap:
		p.growStrap(f, l)
	case thread:
		p.growThread(f, l)
	default:
		p.growFeather(f, l)
	}
}

// growStalk grows the stalk of a leaf and returns its curve.
func (p *plant) growStalk(f frame, l leaf, long, wide float64) rib {
	d := p.d
	start := startFrame(f.at, heading(l.azimuth, l.elevation), 0.1*d.bell())
	way := bend{length: long, droop: 0.4*l.droop + 0.1*d.bell(), aside: 0.7 * p.crop.aside * d.bell(), wobble: 0.4 * p.crop.wobble,
		start: d.between(0, 99)}
	r := grown(start, way, int(clamp(long/2.5, 3, 12)), p.floor)
	t := tube{rib: r, sides: 5, radius: func(k float64) float64 { return wide / 2 * (1 - 0.35*k) }}
	t.weave(p.mesh, organ{plant: p.index, coat: p.stalkSkin(l.age, long, wide)})
	return r
}

func (p *plant) stalkWide(l leaf) float64 { return clamp(l.length*p.crop.stalkWide, 0.35, 4) }

func (p *plant) growBlade(f frame, l leaf) {
	stalk := l.stalk * l.length
	at := startFrame(f.at, heading(l.azimuth, l.elevation), 0)
	if stalk > 0.8 {
		at = p.growStalk(f, l, stalk, p.stalkWide(l)).end()
	}
	at = at.turned(vec{-at.along.y, at.along.x, 0}.unit(), l.hinge)
	p.addBlade(at, l, l.length-stalk)
}

// addBlade weaves a blade of a length in mm from a frame on.
func (p *plant) addBlade(at frame, l leaf, long float64) {
	d, c := p.d, p.crop
	at = at.turned(at.along, 0.15*d.bell())
	b := blade{outline: l.outline, fold: l.fold, curl: l.curl, phase: d.between(0, 200)}
	way := bend{length: long, droop: l.droop, late: c.late, aside: c.aside * d.bell(), twist: c.twist * d.bell(), wobble: c.wobble,
		start: d.between(0, 99)}
	b.rib = grown(at, way, int(clamp(long/2, 6, 24)), p.floor)
	half := long * b.outline.wide
	if c.habit == broad && l.outline != c.seedLeaf {
		b.waves, b.swing = c.waves*d.between(0.8, 1.2), c.swing*d.between(0.5, 1.4)
		b.blister, b.blobs = c.blister*half*d.between(0.5, 1.4), max(1.5, c.blobs*half)
	}
	b.pressed, b.lift = 0.55, min(3, 0.1*long)*d.Float64()
	if c.habit == strap {
		b.pressed = 0.2
	}
	s := p.bladeSkin(l, long, half)
	o := organ{plant: p.index, coat: s}
	if d.chance(p.eaten) {
		o.holes = p.holes(long, half)
	}
	b.weave(p.mesh, o, p.floor)
}

// holes are round holes in a blade, and bites from its edge.
func (p *plant) holes(long, half float64) []disc {
	var holes []disc
	for range p.d.whole(1, 7) {
		h := disc{p.d.between(0.1, 1) * long, p.d.between(-1, 1) * half, p.d.scaled(0.4, max(0.6, 0.3*half))}
		holes = append(holes, h)
		for range p.d.whole(0, 3) { // holes are seldom round
			holes = append(holes, disc{h.a + h.r*p.d.bell()*0.6, h.b + h.r*p.d.bell()*0.6, h.r * p.d.between(0.5, 0.9)})
		}
	}
	return holes
}

func (p *plant) growCompound(f frame, l leaf) {
	d, c := p.d, p.crop
	rachis := p.growStalk(f, l, l.length*0.85, p.stalkWide(l))
	long := rachis.length()
	leaflet := l
	leaflet.hinge, leaflet.stalk = 0, 0
	for i := range c.leaflets {
		k := mixed(c.first, 0.92, float64(i)/float64(c.leaflets))
		if c.leaflets == 1 {
			k = mixed(c.first, 1, 0.6)
		}
		at := rachis.at(k * long)
		size := l.length * (1 - c.first) * d.between(0.45, 0.62) * (1 - 0.3*math.Abs(k-0.7))
		for _, half := range []float64{1, -1} {
			leaflet.outline.irregular = d.between(0, 200)
			g := at.turned(at.up, half*(70-25*k)*degree*d.between(0.8, 1.2))
			p.addBlade(g, leaflet, size*d.between(0.85, 1.15))
		}
	}
	p.addBlade(rachis.end(), leaflet, l.length*(1-c.first)*d.between(0.5, 0.7))
}

func (p *plant) growStrap(f frame, l leaf) {
	d := p.d
	wide := min(p.crop.wide*d.between(0.7, 1.2)*mixed(0.6, 1, l.age), 0.25*l.length)
	l.outline.wide = wide / 2 / l.length
	l.length *= d.between(0.9, 1.3)
	at := startFrame(f.at, heading(l.azimuth, l.elevation), 0.3*d.bell())
	l.curl = 0.3 * d.bell()
	p.addBlade(at, l, l.length)
}

func (p *plant) growThread(f frame, l leaf) {
	d := p.d
	wide := min(p.crop.wide*d.between(0.7, 1.2), 0.12*l.length)
	start := startFrame(f.at, heading(l.azimuth, l.elevation), 0)
	r := grown(start, bend{length: l.length * d.between(0.9, 1.3), droop: l.droop, late: p.crop.late,
		aside: p.crop.aside * d.bell(), wobble: p.crop.wobble, start: d.between(0, 99)},
		int(clamp(l.length/2.5, 6, 30)), p.floor)
	t := tube{rib: r, sides: 6, radius: func(k float64) float64 { return wide / 2 * math.Sqrt(max(0.02, 1-k*k*k)) }}
	s := p.bladeSkin(l, r.length(), wide/2)
	t.weave(p.mesh, organ{plant: p.index, coat: s})
}

// growFeather grows a leaf cut into threads, twice over.
func (p *plant) growFeather(f frame, l leaf) {
	d, c := p.d, p.crop
	rachis := p.growStalk(f, l, l.length, max(p.stalkWide(l), c.wide))
	s := p.bladeSkin(l, l.length, c.wide)
	weave := func(at frame, long float64, n int) rib {
		r := grown(at, bend{length: long, droop: 0.3 * d.bell(), aside: 0.3 * d.bell()}, n, p.floor)
		t := tube{rib: r, sides: 3, radius: func(k float64) float64 { return c.wide / 2 * (1 - 0.5*k) }}
		t.weave(p.mesh, organ{plant: p.index, coat: s})
		return r
	}
	for i := range c.leaflets {
		k := mixed(c.first, 0.95, float64(i)/float64(c.leaflets))
		at := rachis.at(k * rachis.length())
		for _, half := range []float64{1, -1} {
			long := l.length * 0.5 * (1.05 - k) * d.between(0.8, 1.3)
			g := at.turned(at.up, half*d.between(40, 65)*degree)
			g = g.turned(g.left, -0.3*d.bell())
			branch := weave(g, long, 3)
			if long < 3 {
				continue
			}
			for _, q := range []float64{0.35, 0.6, 0.85} {
				for _, side := range []float64{1, -1} {
					twig := branch.at(q * long)
					weave(twig.turned(twig.up, side*d.between(25, 55)*degree), long*d.between(0.25, 0.5), 2)
				}
			}
		}
	}
}
