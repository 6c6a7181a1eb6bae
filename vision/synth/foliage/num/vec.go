// Package num is the arithmetic of the foliage style: points and directions in space, colours, chance, tiles of noise, and the drawing's
// size. In go numbers and a source of chance, out come numbers. It knows nothing of what is drawn.
package num

import "math"

// Vec is a point or a direction in space: x to the right and y down the drawing, z up towards whoever looks at it, in mm.
type Vec struct{ X, Y, Z float64 }

// At is the point or the direction (x, y, z).
func At(x, y, z float64) Vec { return Vec{x, y, z} }

func (a Vec) Plus(b Vec) Vec          { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Minus(b Vec) Vec         { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Times(k float64) Vec     { return Vec{a.X * k, a.Y * k, a.Z * k} }
func (a Vec) Dot(b Vec) float64       { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) To(b Vec, k float64) Vec { return a.Plus(b.Minus(a).Times(k)) }

func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit returns a vector of length 1 along a; straight up where a has no length.
func (a Vec) Unit() Vec {
	n := math.Sqrt(a.Dot(a))
	if n < 1e-12 {
		return Vec{0, 0, 1}
	}
	return a.Times(1 / n)
}

// Turned returns a turned by an angle in radians round a unit axis (Rodrigues' formula).
func (a Vec) Turned(axis Vec, angle float64) Vec {
	s, c := math.Sincos(angle)
	return a.Times(c).Plus(axis.Cross(a).Times(s)).Plus(axis.Times(axis.Dot(a) * (1 - c)))
}

// Heading is the unit vector at an azimuth in the drawing's plane and an elevation above it, both in radians.
func Heading(azimuth, elevation float64) Vec {
	sa, ca := math.Sincos(azimuth)
	se, ce := math.Sincos(elevation)
	return Vec{ca * ce, sa * ce, se}
}

// Clamp keeps v within bounds; branches are quicker than min and max, which mind signs of zero.
func Clamp(v, low, high float64) float64 {
	if v < low {
		return low
	}
	if v > high {
		return high
	}
	return v
}

// Ramp rises smoothly from 0 at a to 1 at b; it falls where b is less than a.
func Ramp(a, b, v float64) float64 {
	t := (v - a) / (b - a)
	if t <= 0 {
		return 0
	}
	if t >= 1 {
		return 1
	}
	return t * t * (3 - 2*t)
}

// Mixed goes in a straight line from a at k = 0 to b at k = 1.
func Mixed(a, b, k float64) float64 { return a + (b-a)*k }

// The drawing's size.
const (
	Side   = 1024         // texels
	PerMM  = 6.0          // texels per mm
	Across = Side / PerMM // mm
)

const Degree = math.Pi / 180 // radians
