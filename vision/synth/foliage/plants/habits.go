package plants

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/skin"
	"traygauge/vision/synth/foliage/surface"
)

// leaf is one leaf to grow. Lengths without a unit are shares of its own.
type leaf struct {
	azimuth, elevation float64
	length             float64 // mm, stalk and blade
	age                float64 // 0 youngest, 1 oldest
	stalk              float64
	outline            shape.Outline
	hinge, droop       float64
	fold, curl         float64
	veins              skin.Veins
}

func (p *plant) growLeaf(f shape.Frame, azimuth float64, i, count int) {
	d, c := p.d, p.crop
	age := 1.0
	if count > 1 {
		age = 1 - float64(i)/float64(count-1)
	}
	grown := num.Clamp(0.2+1.1*math.Pow(age, 0.8), 0.15, 1) * (0.7 + 0.3*min(1, float64(i)/2))
	switch {
	case p.monocot() && age == 1:
		grown = d.Between(0.7, 1)
	case p.stage == seedLeaves:
		grown = d.Between(0.08, 0.35)
	case count == 1:
		grown = d.Between(0.3, 1)
	}
	l := leaf{
		azimuth: azimuth, elevation: num.Mixed(c.young, c.old, math.Pow(age, 0.7)) + 9*num.Degree*d.Bell(), age: age,
		length: max(1.5, p.reach*1.1*grown*num.Clamp(d.Near(1, 0.1), 0.75, 1.25)), stalk: c.stalk * d.Between(0.8, 1.2),
		hinge: c.hinge * d.Between(0.5, 1.3) * age, droop: c.droop*d.Between(0.5, 1.4)*num.Mixed(0.4, 1, age) + 0.1*d.Bell(),
		fold: num.Mixed(c.foldYoung, c.fold, num.Ramp(0, 0.6, age)) * d.Between(0.6, 1.4), curl: c.curl*d.Between(0.5, 1.5) + 0.15*d.Bell(),
		outline: c.outline, veins: c.veins,
	}
	l.outline.Wide *= num.Clamp(d.Near(1, 0.08), 0.8, 1.2)
	l.outline.Irregular = d.Between(0, 200)
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
func (p *plant) growStalk(f shape.Frame, l leaf, long, wide float64) shape.Rib {
	d := p.d
	start := shape.StartFrame(f.At, num.Heading(l.azimuth, l.elevation), 0.1*d.Bell())
	way := shape.Bend{Length: long, Droop: 0.4*l.droop + 0.1*d.Bell(), Aside: 0.7 * p.crop.aside * d.Bell(), Wobble: 0.4 * p.crop.wobble,
		Start: d.Between(0, 99)}
	r := shape.Grown(start, way, int(num.Clamp(long/2.5, 3, 12)), p.floor)
	t := shape.Tube{Rib: r, Sides: 5, Radius: func(k float64) float64 { return wide / 2 * (1 - 0.35*k) }}
	t.Weave(p.mesh, surface.Organ{Plant: p.index, Coat: p.tissue.Stalk(l.age, long, wide)})
	return r
}

func (p *plant) stalkWide(l leaf) float64 { return num.Clamp(l.length*p.crop.stalkWide, 0.35, 4) }

func (p *plant) growBlade(f shape.Frame, l leaf) {
	stalk := l.stalk * l.length
	at := shape.StartFrame(f.At, num.Heading(l.azimuth, l.elevation), 0)
	if stalk > 0.8 {
		at = p.growStalk(f, l, stalk, p.stalkWide(l)).End()
	}
	at = at.Turned(num.At(-at.Along.Y, at.Along.X, 0).Unit(), l.hinge)
	p.addBlade(at, l, l.length-stalk)
}

// addBlade weaves a blade of a length in mm from a frame on.
func (p *plant) addBlade(at shape.Frame, l leaf, long float64) {
	d, c := p.d, p.crop
	at = at.Turned(at.Along, 0.15*d.Bell())
	b := shape.Blade{Outline: l.outline, Fold: l.fold, Curl: l.curl, Phase: d.Between(0, 200)}
	way := shape.Bend{Length: long, Droop: l.droop, Late: c.late, Aside: c.aside * d.Bell(), Twist: c.twist * d.Bell(), Wobble: c.wobble,
		Start: d.Between(0, 99)}
	b.Rib = shape.Grown(at, way, int(num.Clamp(long/2, 6, 24)), p.floor)
	half := long * b.Outline.Wide
	if c.habit == broad && l.outline != c.seedLeaf {
		b.Waves, b.Swing = c.waves*d.Between(0.8, 1.2), c.swing*d.Between(0.5, 1.4)
		b.Blister, b.Blobs = c.blister*half*d.Between(0.5, 1.4), max(1.5, c.blobs*half)
	}
	b.Pressed, b.Lift = 0.55, min(3, 0.1*long)*d.Float64()
	if c.habit == strap {
		b.Pressed = 0.2
	}
	s := p.tissue.Blade(l.age, l.veins, long, half, p.monocot())
	o := surface.Organ{Plant: p.index, Coat: s}
	if d.Chance(p.eaten) {
		o.Holes = p.holes(long, half)
	}
	b.Weave(p.mesh, o, p.floor)
}

// holes are round holes in a blade, and bites from its edge.
func (p *plant) holes(long, half float64) []surface.Disc {
	var holes []surface.Disc
	for range p.d.Whole(1, 7) {
		h := surface.Disc{A: p.d.Between(0.1, 1) * long, B: p.d.Between(-1, 1) * half, R: p.d.Scaled(0.4, max(0.6, 0.3*half))}
		holes = append(holes, h)
		for range p.d.Whole(0, 3) { // holes are seldom round
			holes = append(holes, surface.Disc{A: h.A + h.R*p.d.Bell()*0.6, B: h.B + h.R*p.d.Bell()*0.6, R: h.R * p.d.Between(0.5, 0.9)})
		}
	}
	return holes
}

func (p *plant) growCompound(f shape.Frame, l leaf) {
	d, c := p.d, p.crop
	rachis := p.growStalk(f, l, l.length*0.85, p.stalkWide(l))
	long := rachis.Length()
	leaflet := l
	leaflet.hinge, leaflet.stalk = 0, 0
	for i := range c.leaflets {
		k := num.Mixed(c.first, 0.92, float64(i)/float64(c.leaflets))
		if c.leaflets == 1 {
			k = num.Mixed(c.first, 1, 0.6)
		}
		at := rachis.At(k * long)
		size := l.length * (1 - c.first) * d.Between(0.45, 0.62) * (1 - 0.3*math.Abs(k-0.7))
		for _, half := range []float64{1, -1} {
			leaflet.outline.Irregular = d.Between(0, 200)
			g := at.Turned(at.Up, half*(70-25*k)*num.Degree*d.Between(0.8, 1.2))
			p.addBlade(g, leaflet, size*d.Between(0.85, 1.15))
		}
	}
	p.addBlade(rachis.End(), leaflet, l.length*(1-c.first)*d.Between(0.5, 0.7))
}

func (p *plant) growStrap(f shape.Frame, l leaf) {
	d := p.d
	wide := min(p.crop.wide*d.Between(0.7, 1.2)*num.Mixed(0.6, 1, l.age), 0.25*l.length)
	l.outline.Wide = wide / 2 / l.length
	l.length *= d.Between(0.9, 1.3)
	at := shape.StartFrame(f.At, num.Heading(l.azimuth, l.elevation), 0.3*d.Bell())
	l.curl = 0.3 * d.Bell()
	p.addBlade(at, l, l.length)
}

func (p *plant) growThread(f shape.Frame, l leaf) {
	d := p.d
	wide := min(p.crop.wide*d.Between(0.7, 1.2), 0.12*l.length)
	start := shape.StartFrame(f.At, num.Heading(l.azimuth, l.elevation), 0)
	r := shape.Grown(start, shape.Bend{Length: l.length * d.Between(0.9, 1.3), Droop: l.droop, Late: p.crop.late,
		Aside: p.crop.aside * d.Bell(), Wobble: p.crop.wobble, Start: d.Between(0, 99)},
		int(num.Clamp(l.length/2.5, 6, 30)), p.floor)
	t := shape.Tube{Rib: r, Sides: 6, Radius: func(k float64) float64 { return wide / 2 * math.Sqrt(max(0.02, 1-k*k*k)) }}
	s := p.tissue.Blade(l.age, l.veins, r.Length(), wide/2, p.monocot())
	t.Weave(p.mesh, surface.Organ{Plant: p.index, Coat: s})
}

// growFeather grows a leaf cut into threads, twice over.
func (p *plant) growFeather(f shape.Frame, l leaf) {
	d, c := p.d, p.crop
	rachis := p.growStalk(f, l, l.length, max(p.stalkWide(l), c.wide))
	s := p.tissue.Blade(l.age, l.veins, l.length, c.wide, p.monocot())
	weave := func(at shape.Frame, long float64, n int) shape.Rib {
		r := shape.Grown(at, shape.Bend{Length: long, Droop: 0.3 * d.Bell(), Aside: 0.3 * d.Bell()}, n, p.floor)
		t := shape.Tube{Rib: r, Sides: 3, Radius: func(k float64) float64 { return c.wide / 2 * (1 - 0.5*k) }}
		t.Weave(p.mesh, surface.Organ{Plant: p.index, Coat: s})
		return r
	}
	for i := range c.leaflets {
		k := num.Mixed(c.first, 0.95, float64(i)/float64(c.leaflets))
		at := rachis.At(k * rachis.Length())
		for _, half := range []float64{1, -1} {
			long := l.length * 0.5 * (1.05 - k) * d.Between(0.8, 1.3)
			g := at.Turned(at.Up, half*d.Between(40, 65)*num.Degree)
			g = g.Turned(g.Left, -0.3*d.Bell())
			branch := weave(g, long, 3)
			if long < 3 {
				continue
			}
			for _, q := range []float64{0.35, 0.6, 0.85} {
				for _, side := range []float64{1, -1} {
					twig := branch.At(q * long)
					weave(twig.Turned(twig.Up, side*d.Between(25, 55)*num.Degree), long*d.Between(0.25, 0.5), 2)
				}
			}
		}
	}
}
