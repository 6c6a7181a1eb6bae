package foliage

import "math"

// yellowing is how far a leaf's green has gone, and where: each part is a degree, of which 1 is full yellow and 1.6 bleached.
type yellowing struct {
	full, bleached lab

	whole   float64 // everywhere
	between float64 // between the veins
	edge    float64 // from the edges in
	tip     float64 // from the tip back
	foot    float64 // from the base on
	patch   float64 // in patches
	mottle  float64 // in fine mottles
	along   float64 // along the veins
	reach   float64 // mm that veins stay green round them, or turn yellow
	share   float64 // of the blade in patches
	broken  float64 // how far what lies between the veins is broken up into mottles
	outward float64 // how far it is less towards the midrib
}

const bleaching = 0.6 // from full yellow to bleached, in degrees of yellowing

func (y *yellowing) at(p place, v vein, s *skin, cloud *tile) float64 {
	d := y.whole
	if y.between > 0 {
		k := y.between * ramp(0.1, y.reach, v.near) * mixed(1, ramp(0, 0.9, math.Abs(p.t)), y.outward)
		if y.broken > 0 {
			k *= mixed(1, 1.25*ramp(-0.7, 0.7, cloud.at(s.y+80+p.a*5, s.x+40+p.b*5)), y.broken)
		}
		d += k
	}
	if y.along > 0 {
		d += y.along * ramp(y.reach, 0.1, v.near)
	}
	if y.edge > 0 {
		d += y.edge * ramp(0.25, 0.95, math.Abs(p.t)+0.12*cloud.at(s.x+p.a*2, s.y+p.b*2))
	}
	if y.tip > 0 {
		d += y.tip * ramp(0.2, 0.95, p.u+0.1*cloud.at(s.y+p.a*2, s.x+p.b*2))
	}
	if y.foot > 0 {
		d += y.foot * ramp(0.7, 0.05, p.u)
	}
	if y.patch > 0 {
		d += y.patch * ramp(0, 0.8, cloud.at(s.x+30+p.a*2, s.y+70+p.b*2)+2.4*y.share-1.6)
	}
	if y.mottle > 0 {
		d += y.mottle * ramp(-0.6, 1.2, cloud.at(s.x+60+p.a*7, s.y+20+p.b*7))
	}
	return max(0, d)
}

// colour turns a healthy colour yellow by a degree.
func (y *yellowing) colour(c lab, degree float64) lab {
	if degree <= 0 {
		return c
	}
	yellow := y.full
	yellow.l += 0.25 * (c.l - 40) // what was lighter stays lighter
	if degree <= 1 {
		return c.to(yellow, degree)
	}
	white := y.bleached
	white.l += 0.2 * (c.l - 40)
	return yellow.to(white, min(1, (degree-1)/bleaching))
}

// death is where a leaf has died.
type death struct {
	colour, second lab     // what dead tissue looks like, and what it tends to in places
	whole          bool    // all of it
	tip            float64 // share of the length from the tip back
	edge           float64 // share of the half-width from the edge in
	spots          float64 // share of the blade in spots
	size           float64 // of spots, mm
	halo           float64 // degree of yellow round what is dead
	wide           float64 // mm that the halo reaches
	fray           float64 // how ragged its edge is
}

// at returns the share that is dead, and the degree of yellow that what is near it has.
func (d *death) at(p place, s *skin, cloud *tile) (dead, halo float64) {
	if d.whole {
		return 1, 0
	}
	if d.tip == 0 && d.edge == 0 && d.spots == 0 {
		return 0, 0
	}
	in := -math.MaxFloat64 // mm inside dead tissue
	ragged := d.fray * cloud.at(s.x+110+p.a*3, s.y+p.b*3)
	if d.tip > 0 {
		in = max(in, (p.u-1+d.tip)*s.length+ragged)
	}
	if d.edge > 0 {
		in = max(in, (math.Abs(p.t)-1+d.edge*(1+0.7*cloud.at(s.x+p.a, s.y+130+p.t)))*s.half+0.5*ragged)
	}
	if d.spots > 0 {
		in = max(in, (cloud.at(s.x+150+p.a*8/d.size, s.y+50+p.b*8/d.size)+3*d.spots-2.4)*0.5*d.size)
	}
	return ramp(-0.12, 0.2, in), d.halo * ramp(-d.wide, -0.1, in)
}

// shade is dead tissue's colour where the noise has these values.
func (d *death) shade(broad, speck float64) lab {
	c := d.colour.to(d.second, clamp(0.35+0.35*broad, 0, 1))
	c.l += 1.5 * speck
	return c
}
