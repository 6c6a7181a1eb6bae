package bench

import "traygauge/vision/synth/relief/num"

// Outline is the edge of a plug or of a hole: a square with rounded corners, and in the end round.
type Outline struct {
	X, Y         float32 // its middle, mm
	Half         float32 // half its width, mm
	Corner       float32 // the corners' radius as a share of half; 1 is a circle
	AlongX       float32 // unit vector along one of its sides
	AlongY       float32
	points       int     // a star's points, 0 for none
	out          float32 // mm by which a star's points stand out
	ragged       float32 // mm by which the edge wanders
	every        float32 // mm from one bay of the edge to the next
	seedX, seedY float32 // where in the noise table the edge's wandering is read
}

// Depth is how far inside the outline a place is, in mm; negative outside.
func (o *Outline) Depth(t *num.Tables, x, y float32) float32 {
	dx, dy := x-o.X, y-o.Y
	a, b := num.Abs(num.Dot(dx, dy, o.AlongX, o.AlongY)), num.Abs(num.Dot(dx, dy, -o.AlongY, o.AlongX))
	c := float32(o.Corner * o.Half)
	a, b = a-(o.Half-c), b-(o.Half-c)
	in := c - num.Length(max(a, 0), max(b, 0)) - min(max(a, b), 0)
	if o.points > 0 {
		in += float32(o.out * petal(dx, dy, o.points))
	}
	if o.ragged > 0 {
		s := num.SoftWave / o.every
		in += float32(o.ragged * t.Soft.At(float32(x*s)+o.seedX, float32(y*s)+o.seedY))
	}
	return in
}

// petal is the cosine of so many times the angle at which (x, y) is seen from the origin: the real part of a unit complex number's power.
func petal(x, y float32, times int) float32 {
	r := num.Length(x, y)
	if r < 1e-3 {
		return 0
	}
	x, y = x/r, y/r
	re, im := float32(1), float32(0)
	for range times {
		re, im = float32(re*x)-float32(im*y), float32(re*y)+float32(im*x)
	}
	return re
}

// Inward is the direction in which the outline's depth grows.
func (o *Outline) Inward(t *num.Tables, x, y float32) (nx, ny float32) {
	const h = 0.4
	nx = o.Depth(t, x+h, y) - o.Depth(t, x-h, y)
	ny = o.Depth(t, x, y+h) - o.Depth(t, x, y-h)
	n := num.Length(nx, ny)
	if n < 1e-6 {
		return 1, 0
	}
	return nx / n, ny / n
}

// grown is the same outline, wider all round by so many mm.
func (o Outline) grown(by float32) Outline {
	c := float32(o.Corner * o.Half)
	o.Half += by
	o.Corner = num.Clamp((c+by)/o.Half, 0, 1)
	return o
}
