package skin

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// yellowing is how far a leaf's green has gone, and where: each part is a degree, of which 1 is full yellow and 1.6 bleached.
type yellowing struct {
	full, bleached num.Lab

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

func (y *yellowing) at(p surface.Place, v vein, s *skin, cloud *num.Tile) float64 {
	d := y.whole
	if y.between > 0 {
		k := y.between * num.Ramp(0.1, y.reach, v.near) * num.Mixed(1, num.Ramp(0, 0.9, math.Abs(p.T)), y.outward)
		if y.broken > 0 {
			k *= num.Mixed(1, 1.25*num.Ramp(-0.7, 0.7, cloud.At(s.y+80+p.A*5, s.x+40+p.B*5)), y.broken)
		}
		d += k
	}
	if y.along > 0 {
		d += y.along * num.Ramp(y.reach, 0.1, v.near)
	}
	if y.edge > 0 {
		d += y.edge * num.Ramp(0.25, 0.95, math.Abs(p.T)+0.12*cloud.At(s.x+p.A*2, s.y+p.B*2))
	}
	if y.tip > 0 {
		d += y.tip * num.Ramp(0.2, 0.95, p.U+0.1*cloud.At(s.y+p.A*2, s.x+p.B*2))
	}
	if y.foot > 0 {
		d += y.foot * num.Ramp(0.7, 0.05, p.U)
	}
	if y.patch > 0 {
		d += y.patch * num.Ramp(0, 0.8, cloud.At(s.x+30+p.A*2, s.y+70+p.B*2)+2.4*y.share-1.6)
	}
	if y.mottle > 0 {
		d += y.mottle * num.Ramp(-0.6, 1.2, cloud.At(s.x+60+p.A*7, s.y+20+p.B*7))
	}
	return max(0, d)
}

// colour turns a healthy colour yellow by a degree.
func (y *yellowing) colour(c num.Lab, degree float64) num.Lab {
	if degree <= 0 {
		return c
	}
	yellow := y.full
	yellow.L += 0.25 * (c.L - 40) // what was lighter stays lighter
	if degree <= 1 {
		return c.To(yellow, degree)
	}
	white := y.bleached
	white.L += 0.2 * (c.L - 40)
	return yellow.To(white, min(1, (degree-1)/bleaching))
}

// death is where a leaf has died.
type death struct {
	colour, second num.Lab // what dead tissue looks like, and what it tends to in places
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
func (d *death) at(p surface.Place, s *skin, cloud *num.Tile) (dead, halo float64) {
	if d.whole {
		return 1, 0
	}
	if d.tip == 0 && d.edge == 0 && d.spots == 0 {
		return 0, 0
	}
	in := -math.MaxFloat64 // mm inside dead tissue
	ragged := d.fray * cloud.At(s.x+110+p.A*3, s.y+p.B*3)
	if d.tip > 0 {
		in = max(in, (p.U-1+d.tip)*s.length+ragged)
	}
	if d.edge > 0 {
		in = max(in, (math.Abs(p.T)-1+d.edge*(1+0.7*cloud.At(s.x+p.A, s.y+130+p.T)))*s.half+0.5*ragged)
	}
	if d.spots > 0 {
		in = max(in, (cloud.At(s.x+150+p.A*8/d.size, s.y+50+p.B*8/d.size)+3*d.spots-2.4)*0.5*d.size)
	}
	return num.Ramp(-0.12, 0.2, in), d.halo * num.Ramp(-d.wide, -0.1, in)
}

// shade is dead tissue's colour where the noise has these values.
func (d *death) shade(broad, speck float64) num.Lab {
	c := d.colour.To(d.second, num.Clamp(0.35+0.35*broad, 0, 1))
	c.L += 1.5 * speck
	return c
}
