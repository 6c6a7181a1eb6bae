package foliage

import "math"

// frame is a point of a curve in space with its three directions: along it, to its left, and up from it.
type frame struct{ at, along, left, up vec }

// bend says how a stalk or a midrib runs.
type bend struct {
	length float64 // mm
	droop  float64 // radians that it turns downward in all
	late   float64 // 0 bends evenly; the more, the nearer to the end
	aside  float64 // radians that it turns to its left in all
	twist  float64 // radians that it turns about itself in all
	wobble float64 // radians of irregular bending
	start  float64 // where the wobble's noise begins
}

// rib is a curve in space by frames at even distances.
type rib struct {
	frames []frame
	step   float64 // mm
}

// startFrame stands at a point and looks along a direction with its upper side up, rolled about itself, radians.
func startFrame(at, along vec, roll float64) frame {
	flat := vec{along.x, along.y, 0}
	if flat.dot(flat) < 1e-9 {
		flat = vec{1, 0, 0}
	}
	flat = flat.unit()
	left := vec{-flat.y, flat.x, 0}.turned(along, roll)
	return frame{at, along, left, along.cross(left)}
}

// grown follows a bend from a frame in n steps. What would sink into the floor lies on it.
func grown(f frame, b bend, n int, floor func(x, y float64) float64) rib {
	r := rib{frames: make([]frame, 0, n+1), step: b.length / float64(n)}
	r.frames = append(r.frames, f)
	for i := range n {
		k := (float64(i) + 0.5) / float64(n)
		down := b.droop / float64(n) * (1 + b.late) * math.Pow(k, b.late)
		if b.wobble > 0 {
			down += b.wobble / float64(n) * 2 * math.Sin(b.start+7*k)
		}
		level := vec{-f.along.y, f.along.x, 0}
		if level.dot(level) > 1e-6 {
			f = f.turned(level.unit(), down)
		}
		f = f.turned(f.up, b.aside/float64(n))
		f = f.turned(f.along, b.twist/float64(n))
		f.at = f.at.plus(f.along.times(r.step))
		if low := floor(f.at.x, f.at.y); f.at.z < low {
			f.at.z = low
			if f.along.z < 0 {
				f = f.levelled()
			}
		}
		r.frames = append(r.frames, f)
	}
	return r
}

func (f frame) turned(axis vec, angle float64) frame {
	if angle == 0 {
		return f
	}
	along := f.along.turned(axis, angle).unit()
	left := f.left.turned(axis, angle)
	left = left.minus(along.times(left.dot(along))).unit()
	return frame{f.at, along, left, along.cross(left)}
}

// levelled turns the frame so that it runs level.
func (f frame) levelled() frame {
	along := vec{f.along.x, f.along.y, 0}.unit()
	left := f.left.minus(along.times(f.left.dot(along))).unit()
	return frame{f.at, along, left, along.cross(left)}
}

// at returns the frame at a distance along the curve in mm; straight on beyond its ends.
func (r rib) at(a float64) frame {
	last := len(r.frames) - 1
	k := a / r.step
	i := int(clamp(k, 0, float64(last-1)))
	f, g, w := r.frames[i], r.frames[i+1], k-float64(i)
	if k < 0 || k > float64(last) {
		if k > 0 {
			f, w = g, k-float64(last)
		}
		f.at = f.at.plus(f.along.times(w * r.step))
		return f
	}
	along := f.along.to(g.along, w).unit()
	left := f.left.to(g.left, w)
	left = left.minus(along.times(left.dot(along))).unit()
	return frame{f.at.to(g.at, w), along, left, along.cross(left)}
}

func (r rib) end() frame { return r.frames[len(r.frames)-1] }

func (r rib) length() float64 { return r.step * float64(len(r.frames)-1) }
