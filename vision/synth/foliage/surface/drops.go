package surface

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Drop is a drop of water lying on a flattened surface, mm.
type Drop struct{ A, B, R float64 }

// Lens is what a drop does at a place.
type Lens struct {
	Inside float64 // 1 in the drop, 0 outside, smooth at its rim
	Beside float64 // 1 just outside the rim, fading to 0
	A, B   float64 // from the drop's middle, of its radius
}

// LensAt finds the drop at a place, if there is one.
func LensAt(drops []Drop, a, b float64) Lens {
	for _, d := range drops {
		da, db := (a-d.A)/d.R, (b-d.B)/d.R
		if q := da*da + db*db; q < 2 {
			rho := math.Sqrt(q)
			soft := 0.1 / d.R
			return Lens{num.Ramp(1+soft, 1-soft, rho), num.Ramp(1.4, 1, rho) * num.Ramp(1-soft, 1+soft, rho), da, db}
		}
	}
	return Lens{}
}

// Focus is how a drop changes the light under it, with the lamp's direction along the surface: it darkens the side near the
// lamp, gathers light on the far side, and throws a shadow beyond its rim.
func (l *Lens) Focus(toA, toB float64) float64 {
	if l.Inside == 0 && l.Beside == 0 {
		return 1
	}
	along := l.A*toA + l.B*toB // 1 on the rim nearest to a low lamp
	rim := l.A*l.A + l.B*l.B
	in := num.Clamp(0.85-0.8*along-0.25*rim*rim, 0.3, 1.9)
	out := 1 - 0.45*num.Clamp(-along, 0, 1)*l.Beside
	return num.Mixed(out, in, l.Inside)
}
