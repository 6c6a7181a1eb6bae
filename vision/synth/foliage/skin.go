package foliage

import "math"

// skin is the coat of a blade, a stalk or a stem.
type skin struct {
	length, half float64 // of the surface, mm
	x, y         float64 // where the noise begins

	top, under lab
	blush      lab     // the colour of red veins, edges or patches
	blushed    float64 // how much of it lies over the skin, 0 to 1
	veins      veins
	veinColour lab     // what a vein tends to
	veinShows  float64 // how far, 0 to 1
	mottle     float64 // unevenness of lightness, in L*
	cells      float64 // fine unevenness, in L*
	paleEdge   pale
	sick       yellowing
	dying      death
	gloss      float64
	rough      float64
	fuzz       float64
	dust       float64
	thin       float64 // share of light that comes through
	bumps      float64 // strength of the fine relief
	mesh       float64 // mm, size of the cells between the finest veins that show
	drops      []drop
}

// pale is tissue without green that a sort has by birth: edges and splashes.
type pale struct {
	colour  lab
	margin  float64 // mm; 0 for none
	splash  float64 // share of the blade splashed; 0 for none
	feather float64 // mm over which it fades
}

func (*skin) isPlant() bool { return true }

func (s *skin) look(p place) look {
	noise := tiles()
	v := s.veins.at(p, s.length)
	broad := noise.cloud.at(s.x+p.a*1.6, s.y+p.b*1.6)
	speck, da, db := noise.grain.slope(s.x+p.a*5, s.y+p.b*5)
	cell, ca, cb := noise.net.slope(s.y+p.a*11/s.mesh, s.x+p.b*11/s.mesh)

	c := s.top
	if p.under {
		c = s.under
	}
	c.l += s.mottle*broad + s.cells*(0.5*speck+2.5*(0.45-cell))
	if s.blushed > 0 {
		c = c.to(s.blush, s.blushed*clamp(0.5+0.6*broad, 0, 1))
	}
	c = c.to(s.veinColour, s.veinShows*v.shows)
	c = s.paleEdge.over(c, p, s, noise.cloud)

	y := s.sick.at(p, v, s, noise.cloud)
	dead, halo := s.dying.at(p, s, noise.cloud)
	c = s.sick.colour(c, max(y, halo))
	c = c.to(s.dying.shade(broad, speck), dead)

	own := c.linear()
	l := look{own: own, dead: dead, rough: s.rough, fuzz: s.fuzz, dust: s.dust}
	l.gloss = s.gloss * (1 - 0.7*dead)
	l.through = rgb{own.r * 1.1, own.g * 1.25, own.b * 0.4}.times(s.thin * (1 - 0.6*v.shows))
	bumps := s.bumps * (1 + 2*dead)
	l.tiltA = v.tiltA + bumps*(0.12*da+2*ca)
	l.tiltB = v.tiltB + bumps*(0.12*db+2*cb)
	if len(s.drops) > 0 && !p.under {
		l.lens = lensAt(s.drops, p.a, p.b)
	}
	return l
}

// over lays the pale tissue over a colour.
func (e *pale) over(c lab, p place, s *skin, cloud *tile) lab {
	k := 0.0
	if e.margin > 0 {
		wide := e.margin * (1 + 0.5*cloud.at(s.x+p.a*3, s.y+40))
		k = ramp(wide+e.feather, wide, (1-math.Abs(p.t))*s.half)
	}
	if e.splash > 0 {
		n := cloud.at(s.x+90+p.a*4, s.y+p.b*2)
		k = max(k, ramp(1.6-3*e.splash, 1.9-3*e.splash, n))
	}
	return c.to(e.colour, 0.95*k)
}
