// Package num is the arithmetic of the herbarium style: points and rings in a plane, colours, chance, and noises read from tables. In go
// numbers and a source of chance, out come numbers. It knows nothing of what is drawn.
package num

import "math"

// Point is a place or a step in a plane: in texels with y down in the drawing, or in mm along and across a blade.
type Point struct{ X, Y float64 }

// At is the place or the step (x, y).
func At(x, y float64) Point { return Point{x, y} }

func (p Point) Plus(q Point) Point              { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) Minus(q Point) Point             { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) Times(k float64) Point           { return Point{p.X * k, p.Y * k} }
func (p Point) Dot(q Point) float64             { return p.X*q.X + p.Y*q.Y }
func (p Point) Length() float64                 { return math.Sqrt(p.X*p.X + p.Y*p.Y) }
func (p Point) Left() Point                     { return Point{-p.Y, p.X} }
func (p Point) Toward(q Point, k float64) Point { return Point{Mix(p.X, q.X, k), Mix(p.Y, q.Y, k)} }

// Unit returns p at length 1; a point at the origin stays there.
func (p Point) Unit() Point {
	if l := p.Length(); l > 0 {
		return p.Times(1 / l)
	}
	return p
}

// Heading returns the unit step in a direction in radians.
func Heading(angle float64) Point { return Point{math.Cos(angle), math.Sin(angle)} }

// Mix goes in a straight line from a at k = 0 to b at k = 1.
func Mix(a, b, k float64) float64 { return a + (b-a)*k }

// Clamp returns v within lo and hi. (The language's min and max for floating-point numbers take several times as long.)
func Clamp(v, lo, hi float64) float64 {
	if v < lo {
		return lo
	}
	if v > hi {
		return hi
	}
	return v
}

// Ease goes smoothly from 0 at lo to 1 at hi.
func Ease(lo, hi, v float64) float64 {
	if v <= lo {
		return 0
	}
	if v >= hi {
		return 1
	}
	k := (v - lo) / (hi - lo)
	return k * k * (3 - 2*k)
}

// Ring is a closed outline; its last point is joined to its first.
type Ring []Point

// area returns the area enclosed, positive for a ring that turns from x toward y.
func (g Ring) area() float64 {
	sum := 0.0
	for i, p := range g {
		q := g[(i+1)%len(g)]
		sum += p.X*q.Y - p.Y*q.X
	}
	return sum / 2
}

// Facing returns the ring run through so that its area is positive, or negative for a hole.
func (g Ring) Facing(hole bool) Ring {
	if (g.area() < 0) != hole {
		for i, j := 0, len(g)-1; i < j; i, j = i+1, j-1 {
			g[i], g[j] = g[j], g[i]
		}
	}
	return g
}

// Bounds returns the corners of the upright box around the ring.
func (g Ring) Bounds() (lo, hi Point) {
	lo, hi = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range g {
		lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return lo, hi
}

// Evenly returns the ring with corners about every step along it.
func (g Ring) Evenly(step float64) Ring {
	var out Ring
	for i, p := range g {
		q := g[(i+1)%len(g)]
		n := max(1, int(q.Minus(p).Length()/step+0.5))
		for k := range n {
			out = append(out, p.Toward(q, float64(k)/float64(n)))
		}
	}
	return out
}

// Around calls each with every corner, the way along the ring to it, and the unit step outward there, for rings of positive area.
func (g Ring) Around(each func(i int, along float64, out Point)) {
	along := 0.0
	for i, p := range g {
		before, after := g[(i+len(g)-1)%len(g)], g[(i+1)%len(g)]
		each(i, along, after.Minus(before).Left().Times(-1).Unit())
		along += after.Minus(p).Length()
	}
}

// Rounded returns a regular ring about the middle whose radius is given for each direction.
func Rounded(middle Point, corners int, radius func(angle float64) float64) Ring {
	g := make(Ring, corners)
	for i := range g {
		a := 2 * math.Pi * float64(i) / float64(corners)
		g[i] = middle.Plus(Heading(a).Times(radius(a)))
	}
	return g
}

// Bezier returns n points of a cubic Bezier curve, without its last one.
func Bezier(a, b, c, d Point, n int) []Point {
	out := make([]Point, n)
	for i := range out {
		t := float64(i) / float64(n)
		u := 1 - t
		out[i] = a.Times(u * u * u).Plus(b.Times(3 * u * u * t)).Plus(c.Times(3 * u * t * t)).Plus(d.Times(t * t * t))
	}
	return out
}

// SideOf is the side of a midrib that a place lies on, across it: 0 left, 1 right.
func SideOf(y float64) int {
	if y < 0 {
		return 1
	}
	return 0
}
