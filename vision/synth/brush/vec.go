package brush

import "math"

// vec is a place or a direction in the drawing, in texels, x to the right and y down.
type vec struct{ x, y float64 }

func (a vec) plus(b vec) vec             { return vec{a.x + b.x, a.y + b.y} }
func (a vec) minus(b vec) vec            { return vec{a.x - b.x, a.y - b.y} }
func (a vec) times(k float64) vec        { return vec{float64(a.x * k), float64(a.y * k)} }
func (a vec) dot(b vec) float64          { return float64(a.x*b.x) + float64(a.y*b.y) }
func (a vec) cross(b vec) float64        { return float64(a.x*b.y) - float64(a.y*b.x) }
func (a vec) quarter() vec               { return vec{-a.y, a.x} } // turned by a right angle
func (a vec) length() float64            { return math.Sqrt(a.dot(a)) }
func (a vec) along(d vec, k float64) vec { return a.plus(d.times(k)) }

// unit returns the direction of a; nowhere in particular for a vector without length.
func (a vec) unit() vec {
	l := a.length()
	if l < 1e-9 {
		return vec{1, 0}
	}
	return vec{a.x / l, a.y / l}
}

// turned returns a turned by an angle in radians.
func (a vec) turned(angle float64) vec {
	s, c := sincos(angle)
	return vec{float64(a.x*c) - float64(a.y*s), float64(a.x*s) + float64(a.y*c)}
}

// toward returns the unit vector at an angle in radians.
func toward(angle float64) vec {
	s, c := sincos(angle)
	return vec{c, s}
}

// blend goes from a at 0 to b at 1.
func blend(a, b, t float64) float64 { return a + float64((b-a)*t) }

// blend32 goes from a at 0 to b at 1.
func blend32(a, b, t float32) float32 { return a + float32((b-a)*t) }

// ease goes smoothly from 0 where x is lo to 1 where x is hi; lo may be the greater one.
func ease(lo, hi, x float32) float32 {
	t := min(1, max(0, (x-lo)/(hi-lo)))
	return float32(float32(t*t) * (3 - 2*t))
}

// within01 limits x to 0..1.
func within01(x float32) float32 { return min(1, max(0, x)) }

func sqrt32(x float32) float32 { return float32(math.Sqrt(float64(x))) }
