package num

import "math"

// Vec is a place or a direction in the drawing, in texels, x to the right and y down.
type Vec struct{ X, Y float64 }

// At is the place or the direction (x, y).
func At(x, y float64) Vec { return Vec{x, y} }

func (a Vec) Plus(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y} }
func (a Vec) Minus(b Vec) Vec            { return Vec{a.X - b.X, a.Y - b.Y} }
func (a Vec) Times(k float64) Vec        { return Vec{float64(a.X * k), float64(a.Y * k)} }
func (a Vec) Dot(b Vec) float64          { return float64(a.X*b.X) + float64(a.Y*b.Y) }
func (a Vec) Cross(b Vec) float64        { return float64(a.X*b.Y) - float64(a.Y*b.X) }
func (a Vec) Quarter() Vec               { return Vec{-a.Y, a.X} } // turned by a right angle
func (a Vec) Length() float64            { return math.Sqrt(a.Dot(a)) }
func (a Vec) Along(d Vec, k float64) Vec { return a.Plus(d.Times(k)) }

// Unit returns the direction of a; nowhere in particular for a vector without length.
func (a Vec) Unit() Vec {
	l := a.Length()
	if l < 1e-9 {
		return Vec{1, 0}
	}
	return Vec{a.X / l, a.Y / l}
}

// Turned returns a turned by an angle in radians.
func (a Vec) Turned(angle float64) Vec {
	s, c := Sincos(angle)
	return Vec{float64(a.X*c) - float64(a.Y*s), float64(a.X*s) + float64(a.Y*c)}
}

// Toward returns the unit vector at an angle in radians.
func Toward(angle float64) Vec {
	s, c := Sincos(angle)
	return Vec{c, s}
}

// Blend goes from a at 0 to b at 1.
func Blend(a, b, t float64) float64 { return a + float64((b-a)*t) }

// Blend32 goes from a at 0 to b at 1.
func Blend32(a, b, t float32) float32 { return a + float32((b-a)*t) }

// Ease goes smoothly from 0 where x is lo to 1 where x is hi; lo may be the greater one.
func Ease(lo, hi, x float32) float32 {
	t := min(1, max(0, (x-lo)/(hi-lo)))
	return float32(float32(t*t) * (3 - 2*t))
}

// Within01 limits x to 0..1.
func Within01(x float32) float32 { return min(1, max(0, x)) }

func Sqrt32(x float32) float32 { return float32(math.Sqrt(float64(x))) }
