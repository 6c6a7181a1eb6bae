package foliage

import "math"

// vec is a point or a direction in space: x to the right and y down the drawing, z up towards whoever looks at it, in mm.
type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec          { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec         { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(k float64) vec     { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64       { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) to(b vec, k float64) vec { return a.plus(b.minus(a).times(k)) }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// unit returns a vector of length 1 along a; straight up where a has no length.
func (a vec) unit() vec {
	n := math.Sqrt(a.dot(a))
	if n < 1e-12 {
		return vec{0, 0, 1}
	}
	return a.times(1 / n)
}

// turned returns a turned by an angle in radians round a unit axis (Rodrigues' formula).
func (a vec) turned(axis vec, angle float64) vec {
	s, c := math.Sincos(angle)
	return a.times(c).plus(axis.cross(a).times(s)).plus(axis.times(axis.dot(a) * (1 - c)))
}

// heading is the unit vector at an azimuth in the drawing's plane and an elevation above it, both in radians.
func heading(azimuth, elevation float64) vec {
	sa, ca := math.Sincos(azimuth)
	se, ce := math.Sincos(elevation)
	return vec{ca * ce, sa * ce, se}
}

// clamp keeps v within bounds; branches are quicker than min and max, which mind signs of zero.
func clamp(v, low, high float64) float64 {
	if v < low {
		return low
	}
	if v > high {
		return high
	}
	return v
}

// ramp rises smoothly from 0 at a to 1 at b; it falls where b is less than a.
func ramp(a, b, v float64) float64 {
	t := (v - a) / (b - a)
	if t <= 0 {
		return 0
	}
	if t >= 1 {
		return 1
	}
	return t * t * (3 - 2*t)
}

func mixed(a, b, k float64) float64 { return a + (b-a)*k }

const degree = math.Pi / 180
