package herbarium

import "math"

// point is a place or a step in a plane: in texels with y down in the drawing, or in mm along and across a blade.
type point struct{ x, y float64 }

func (p point) plus(q point) point              { return point{p.x + q.x, p.y + q.y} }
func (p point) minus(q point) point             { return point{p.x - q.x, p.y - q.y} }
func (p point) times(k float64) point           { return point{p.x * k, p.y * k} }
func (p point) dot(q point) float64             { return p.x*q.x + p.y*q.y }
func (p point) length() float64                 { return math.Sqrt(p.x*p.x + p.y*p.y) }
func (p point) left() point                     { return point{-p.y, p.x} }
func (p point) toward(q point, k float64) point { return point{mix(p.x, q.x, k), mix(p.y, q.y, k)} }

// unit returns p at length 1; a point at the origin stays there.
func (p point) unit() point {
	if l := p.length(); l > 0 {
		return p.times(1 / l)
	}
	return p
}

// heading returns the unit step in a direction in radians.
func heading(angle float64) point { return point{math.Cos(angle), math.Sin(angle)} }

func mix(a, b, k float64) float64 { return a + (b-a)*k }

// clamp returns v within lo and hi. (The language's min and max for floating-point numbers take several times as long.)
func clamp(v, lo, hi float64) float64 {
	if v < lo {
		return lo
	}
	if v > hi {
		return hi
	}
	return v
}

// ease goes smoothly from 0 at lo to 1 at hi.
func ease(lo, hi, v float64) float64 {
	if v <= lo {
		return 0
	}
	if v >= hi {
		return 1
	}
	k := (v - lo) / (hi - lo)
	return k * k * (3 - 2*k)
}

// ring is a closed outline; its last point is joined to its first.
type ring []point

// area returns the area enclosed, positive for a ring that turns from x toward y.
func (g ring) area() float64 {
	sum := 0.0
	for i, p := range g {
		q := g[(i+1)%len(g)]
		sum += p.x*q.y - p.y*q.x
	}
	return sum / 2
}

// facing returns the ring run through so that its area is positive, or negative for a hole.
func (g ring) facing(hole bool) ring {
	if (g.area() < 0) != hole {
		for i, j := 0, len(g)-1; i < j; i, j = i+1, j-1 {
			g[i], g[j] = g[j], g[i]
		}
	}
	return g
}

// bounds returns the corners of the upright box around the ring.
func (g ring) bounds() (lo, hi point) {
	lo, hi = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, p := range g {
		lo = point{min(lo.x, p.x), min(lo.y, p.y)}
		hi = point{max(hi.x, p.x), max(hi.y, p.y)}
	}
	return lo, hi
}

// evenly returns the ring with corners about every step along it.
func (g ring) evenly(step float64) ring {
	var out ring
	for i, p := range g {
		q := g[(i+1)%len(g)]
		n := max(1, int(q.minus(p).length()/step+0.5))
		for k := range n {
			out = append(out, p.toward(q, float64(k)/float64(n)))
		}
	}
	return out
}

// around calls each with every corner, the way along the ring to it, and the unit step outward there, for rings of positive area.
func (g ring) around(each func(i int, along float64, out point)) {
	along := 0.0
	for i, p := range g {
		before, after := g[(i+len(g)-1)%len(g)], g[(i+1)%len(g)]
		each(i, along, after.minus(before).left().times(-1).unit())
		along += after.minus(p).length()
	}
}

// rounded returns a regular ring about the middle whose radius is given for each direction.
func rounded(middle point, corners int, radius func(angle float64) float64) ring {
	g := make(ring, corners)
	for i := range g {
		a := 2 * math.Pi * float64(i) / float64(corners)
		g[i] = middle.plus(heading(a).times(radius(a)))
	}
	return g
}

// bezier returns n points of a cubic Bezier curve, without its last one.
func bezier(a, b, c, d point, n int) []point {
	out := make([]point, n)
	for i := range out {
		t := float64(i) / float64(n)
		u := 1 - t
		out[i] = a.times(u * u * u).plus(b.times(3 * u * u * t)).plus(c.times(3 * u * t * t)).plus(d.times(t * t * t))
	}
	return out
}
