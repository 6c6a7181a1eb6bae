package shape

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Frame is a point of a curve in space with its three directions: along it, to its left, and up from it.
type Frame struct{ At, Along, Left, Up num.Vec }

// Bend says how a stalk or a midrib runs.
type Bend struct {
	Length float64 // mm
	Droop  float64 // radians that it turns downward in all
	Late   float64 // 0 bends evenly; the more, the nearer to the end
	Aside  float64 // radians that it turns to its left in all
	Twist  float64 // radians that it turns about itself in all
	Wobble float64 // radians of irregular bending
	Start  float64 // where the wobble's noise begins
}

// Rib is a curve in space by frames at even distances.
type Rib struct {
	frames []Frame
	step   float64 // mm
}

// StartFrame stands at a point and looks along a direction with its upper side up, rolled about itself, radians.
func StartFrame(at, along num.Vec, roll float64) Frame {
	flat := num.At(along.X, along.Y, 0)
	if flat.Dot(flat) < 1e-9 {
		flat = num.At(1, 0, 0)
	}
	flat = flat.Unit()
	left := num.At(-flat.Y, flat.X, 0).Turned(along, roll)
	return Frame{at, along, left, along.Cross(left)}
}

// Grown follows a bend from a frame in n steps. What would sink into the floor lies on it.
func Grown(f Frame, b Bend, n int, floor func(x, y float64) float64) Rib {
	r := Rib{frames: make([]Frame, 0, n+1), step: b.Length / float64(n)}
	r.frames = append(r.frames, f)
	for i := range n {
		k := (float64(i) + 0.5) / float64(n)
		down := b.Droop / float64(n) * (1 + b.Late) * math.Pow(k, b.Late)
		if b.Wobble > 0 {
			down += b.Wobble / float64(n) * 2 * math.Sin(b.Start+7*k)
		}
		level := num.At(-f.Along.Y, f.Along.X, 0)
		if level.Dot(level) > 1e-6 {
			f = f.Turned(level.Unit(), down)
		}
		f = f.Turned(f.Up, b.Aside/float64(n))
		f = f.Turned(f.Along, b.Twist/float64(n))
		f.At = f.At.Plus(f.Along.Times(r.step))
		if low := floor(f.At.X, f.At.Y); f.At.Z < low {
			f.At.Z = low
			if f.Along.Z < 0 {
				f = f.levelled()
			}
		}
		r.frames = append(r.frames, f)
	}
	return r
}

// Turned is the frame turned about an axis by an angle in radians; where it stands stays.
func (f Frame) Turned(axis num.Vec, angle float64) Frame {
	if angle == 0 {
		return f
	}
	along := f.Along.Turned(axis, angle).Unit()
	left := f.Left.Turned(axis, angle)
	left = left.Minus(along.Times(left.Dot(along))).Unit()
	return Frame{f.At, along, left, along.Cross(left)}
}

// levelled turns the frame so that it runs level.
func (f Frame) levelled() Frame {
	along := num.At(f.Along.X, f.Along.Y, 0).Unit()
	left := f.Left.Minus(along.Times(f.Left.Dot(along))).Unit()
	return Frame{f.At, along, left, along.Cross(left)}
}

// At returns the frame at a distance along the curve in mm; straight on beyond its ends.
func (r Rib) At(a float64) Frame {
	last := len(r.frames) - 1
	k := a / r.step
	i := int(num.Clamp(k, 0, float64(last-1)))
	f, g, w := r.frames[i], r.frames[i+1], k-float64(i)
	if k < 0 || k > float64(last) {
		if k > 0 {
			f, w = g, k-float64(last)
		}
		f.At = f.At.Plus(f.Along.Times(w * r.step))
		return f
	}
	along := f.Along.To(g.Along, w).Unit()
	left := f.Left.To(g.Left, w)
	left = left.Minus(along.Times(left.Dot(along))).Unit()
	return Frame{f.At.To(g.At, w), along, left, along.Cross(left)}
}

// End is the curve's last frame.
func (r Rib) End() Frame { return r.frames[len(r.frames)-1] }

// Length is the curve's length, mm.
func (r Rib) Length() float64 { return r.step * float64(len(r.frames)-1) }
