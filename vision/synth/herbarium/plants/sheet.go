package plants

import (
	"math"

	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
	"traygauge/vision/synth/herbarium/skin"
)

// Sheet is one piece of a plant, laid in the drawing: a blade, a leaflet, a stalk.
type Sheet struct {
	plant uint8
	spine shape.Spine
	blade *shape.Blade
	skin  *skin.Skin
	lift  float64    // mm that it counts as higher than it is, where sheets lie over each other
	laid  []num.Ring // its outlines in the drawing, once they have been asked for
}

// Outlines returns the sheet's outlines as they lie in the drawing.
func (s *Sheet) Outlines() []num.Ring {
	if s.laid == nil {
		for _, g := range s.blade.Rings {
			laid := make(num.Ring, len(g))
			for k, p := range g {
				laid[k] = s.spine.Place(p)
			}
			s.laid = append(s.laid, laid)
		}
	}
	return s.laid
}

// Paint lays one sheet over all that has been laid.
func (s *Sheet) Paint(p *canvas.Painter) {
	p.Shade(s.spine.Plane().Raised(0.4*s.lift), s.skin.Shadow())
	if !s.skin.Tube {
		p.Deep = p.Mask.Depths(p.Deep)
	}
	s.texture(p)
	p.Light(s.skin.Hide(), s.plant)
}

// texture finds what the sheet is in each texel.
func (s *Sheet) texture(p *canvas.Painter) {
	m := &p.Mask
	p.Room()
	hint := 0
	for y := range m.H {
		for x := range m.W {
			i := y*m.W + x
			if !p.Shown(x, y) {
				continue
			}
			at := s.spine.Find(num.At(float64(m.X0+x)+0.5, float64(m.Y0+y)+0.5), hint)
			hint = at.I
			c := &p.Cells[i]
			inward := 1.0
			if !s.skin.Tube {
				inward = float64(p.Deep[i]) * p.FlatMM
			}
			under := s.lie(c, at)
			c.Texture = s.skin.At(s.blade, at, inward, under)
		}
	}
}

// lie fills in how the smooth sheet lies at a spot, and returns the share of its underside that shows.
func (s *Sheet) lie(c *canvas.Painted, at shape.Spot) (under float64) {
	a, b := &s.spine.Stations[at.I], &s.spine.Stations[at.I+1]
	half := s.blade.HalfAt(at.S)
	left, right := num.Mix(a.Lift[0], b.Lift[0], at.F), num.Mix(a.Lift[1], b.Lift[1], at.F)
	out := num.Clamp(at.Y/half, -1.3, 1.3)
	crease := num.Clamp(0.5+0.5*at.Y/(0.15*half+0.2), 0, 1)
	across := num.Mix(-right, left, crease)
	if s.skin.Tube {
		across = -1.1 * out
	} else {
		across += s.skin.Cup * out * math.Abs(out)
	}
	rise := num.Mix(a.Rise, b.Rise, at.F)
	along := a.Along.Toward(b.Along, at.F)
	c.Gx = float32(rise*along.X - across*along.Y)
	c.Gy = float32(rise*along.Y + across*along.X)
	lifted := left
	if at.Side == 1 {
		lifted = right
	}
	c.Z = float32(num.Mix(a.Z, b.Z, at.F) + num.Clamp(lifted, -1, 1)*math.Abs(at.Y))
	return num.Mix(a.Under[at.Side], b.Under[at.Side], at.F)
}

// Order is how high a sheet lies among others, in mm.
func (s *Sheet) Order() float64 { return s.spine.Mean() + s.lift }
