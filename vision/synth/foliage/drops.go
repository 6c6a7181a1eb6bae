package foliage

import "math"

// drop is a drop of water lying on a flattened surface, mm.
type drop struct{ a, b, r float64 }

// lens is what a drop does at a place.
type lens struct {
	inside float64 // 1 in the drop, 0 outside, smooth at its rim
	beside float64 // 1 just outside the rim, fading to 0
	a, b   float64 // from the drop's middle, of its radius
}

// lensAt finds the drop at a place, if there is one.
func lensAt(drops []drop, a, b float64) lens {
	for _, d := range drops {
		da, db := (a-d.a)/d.r, (b-d.b)/d.r
		if q := da*da + db*db; q < 2 {
			rho := math.Sqrt(q)
			soft := 0.1 / d.r
			return lens{ramp(1+soft, 1-soft, rho), ramp(1.4, 1, rho) * ramp(1-soft, 1+soft, rho), da, db}
		}
	}
	return lens{}
}

// focus is how a drop changes the light under it, with the lamp's direction along the surface: it darkens the side near the
// lamp, gathers light on the far side, and throws a shadow beyond its rim.
func (l *lens) focus(toA, toB float64) float64 {
	if l.inside == 0 && l.beside == 0 {
		return 1
	}
	along := l.a*toA + l.b*toB // 1 on the rim nearest to a low lamp
	rim := l.a*l.a + l.b*l.b
	in := clamp(0.85-0.8*along-0.25*rim*rim, 0.3, 1.9)
	out := 1 - 0.45*clamp(-along, 0, 1)*l.beside
	return mixed(out, in, l.inside)
}
