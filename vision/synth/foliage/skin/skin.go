// Package skin is what leaves' and stalks' surfaces look like: a sort's colours and veins, what ails a plant, where a leaf has yellowed or
// died, drops on it. In go a leaf's age and size; out comes a coat for its surface, which also says what share of it is dead. It does not
// know where in space the leaf lies, nor the light.
package skin

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// skin is the coat of a blade, a stalk or a stem.
type skin struct {
	length, half float64 // of the surface, mm
	x, y         float64 // where the noise begins

	top, under num.Lab
	blush      num.Lab // the colour of red veins, edges or patches
	blushed    float64 // how much of it lies over the skin, 0 to 1
	veins      Veins
	veinColour num.Lab // what a vein tends to
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
	drops      []surface.Drop
}

// pale is tissue without green that a sort has by birth: edges and splashes.
type pale struct {
	colour  num.Lab
	margin  float64 // mm; 0 for none
	splash  float64 // share of the blade splashed; 0 for none
	feather float64 // mm over which it fades
}

func (*skin) IsPlant() bool { return true }

func (s *skin) Look(p surface.Place) surface.Look {
	noise := num.Tiles()
	v := s.veins.at(p, s.length)
	broad := noise.Cloud.At(s.x+p.A*1.6, s.y+p.B*1.6)
	speck, da, db := noise.Grain.Slope(s.x+p.A*5, s.y+p.B*5)
	cell, ca, cb := noise.Net.Slope(s.y+p.A*11/s.mesh, s.x+p.B*11/s.mesh)

	c := s.top
	if p.Under {
		c = s.under
	}
	c.L += s.mottle*broad + s.cells*(0.5*speck+2.5*(0.45-cell))
	if s.blushed > 0 {
		c = c.To(s.blush, s.blushed*num.Clamp(0.5+0.6*broad, 0, 1))
	}
	c = c.To(s.veinColour, s.veinShows*v.shows)
	c = s.paleEdge.over(c, p, s, noise.Cloud)

	y := s.sick.at(p, v, s, noise.Cloud)
	dead, halo := s.dying.at(p, s, noise.Cloud)
	c = s.sick.colour(c, max(y, halo))
	c = c.To(s.dying.shade(broad, speck), dead)

	own := c.Linear()
	l := surface.Look{Own: own, Dead: dead, Rough: s.rough, Fuzz: s.fuzz, Dust: s.dust}
	l.Gloss = s.gloss * (1 - 0.7*dead)
	l.Through = num.RGB{R: own.R * 1.1, G: own.G * 1.25, B: own.B * 0.4}.Times(s.thin * (1 - 0.6*v.shows))
	bumps := s.bumps * (1 + 2*dead)
	l.TiltA = v.tiltA + bumps*(0.12*da+2*ca)
	l.TiltB = v.tiltB + bumps*(0.12*db+2*cb)
	if len(s.drops) > 0 && !p.Under {
		l.Lens = surface.LensAt(s.drops, p.A, p.B)
	}
	return l
}

// over lays the pale tissue over a colour.
func (e *pale) over(c num.Lab, p surface.Place, s *skin, cloud *num.Tile) num.Lab {
	k := 0.0
	if e.margin > 0 {
		wide := e.margin * (1 + 0.5*cloud.At(s.x+p.A*3, s.y+40))
		k = num.Ramp(wide+e.feather, wide, (1-math.Abs(p.T))*s.half)
	}
	if e.splash > 0 {
		n := cloud.At(s.x+90+p.A*4, s.y+p.B*2)
		k = max(k, num.Ramp(1.6-3*e.splash, 1.9-3*e.splash, n))
	}
	return c.To(e.colour, 0.95*k)
}
