package roots

import (
	"traygauge/vision/synth/relief/bench"
	"traygauge/vision/synth/relief/num"
)

// gait is how a root finds its way.
type gait struct {
	wander  float32 // standard deviation of its bend, radians per mm
	memory  float32 // mm over which it keeps its bend
	curl    float32 // bend that it always has, radians per mm
	tremble float32 // radians by which the heading changes from one mm to the next, on its own
	wave    float32 // bend to and fro, radians per mm
	waves   float32 // waves per mm
	rim     float32 // mm from the plug's edge at which it turns aside
	hug     float32 // how strongly it keeps to the rim: 0 not at all
	loose   bool    // whether it may hang out over the edge
}

// walker is a root's growing tip.
type walker struct {
	num.Dice
	*num.Tables
	*gait
	plug     *bench.Plug
	x, y     float32
	alongX   float32 // unit vector of its heading
	alongY   float32
	bend     float32 // radians per mm
	phase    float32 // of its waves, in turns
	straight bool
}

// walk grows a path of so many mm in steps; it ends early where the tip gets far off the plug.
func (w *walker) walk(long, step float32) []Point {
	steps := int(long/step) + 1
	step = long / float32(steps)
	points := make([]Point, 0, steps+1)
	for i := range steps + 1 {
		points = append(points, Point{X: w.x, Y: w.y, Along: float32(i) * step})
		if !w.forward(step) {
			break
		}
	}
	return points
}

// forward makes one step and reports whether the tip is still on the plug.
func (w *walker) forward(step float32) bool {
	bend := w.free(step)
	if !w.straight {
		in := w.plug.Depth(w.Tables, w.x, w.y)
		if in < -2.5 || in < -0.3 && !w.loose {
			return false
		}
		bend += w.aside(in)
	}
	w.turn(float32(bend*step) + float32(w.tremble*w.Bell()*num.Sqrt(step)))
	w.x += float32(w.alongX * step)
	w.y += float32(w.alongY * step)
	return true
}

// free is the bend that the root has by itself, radians per mm.
func (w *walker) free(step float32) float32 {
	keep := max(0, 1-step/w.memory)
	w.bend = float32(w.bend*keep) + float32(w.wander*num.Sqrt(1-float32(keep*keep))*w.Bell())
	bend := w.bend + w.curl
	if w.wave > 0 {
		w.phase += float32(w.waves * step)
		sin, _ := num.SinCos(w.phase)
		bend += float32(w.wave * sin)
	}
	return bend
}

// aside is the bend that keeps the root on the plug, and along its rim if it hugs that.
func (w *walker) aside(in float32) float32 {
	if in > w.rim && w.hug == 0 {
		return 0
	}
	nx, ny := w.plug.Inward(w.Tables, w.x, w.y)
	side := float32(1) // the sense of turn toward the inside
	if float32(w.alongX*ny)-float32(w.alongY*nx) < 0 {
		side = -1
	}
	ahead := num.Dot(w.alongX, w.alongY, nx, ny)
	if in < w.rim && ahead < 0.1 && !w.loose {
		return side * min(1.5, 0.25+float32(0.8*(w.rim-in))) * (0.15 - ahead)
	}
	if in > w.rim && ahead > -0.5 {
		return -side * w.hug * min(1, 0.2*(in-w.rim))
	}
	return 0
}

// turn changes the heading by a small angle, in radians.
func (w *walker) turn(by float32) {
	by = num.Clamp(by, -0.7, 0.7)
	sin := by - float32(by*by*by/6)
	cos := num.Sqrt(1 - float32(sin*sin))
	x, y := float32(w.alongX*cos)-float32(w.alongY*sin), float32(w.alongX*sin)+float32(w.alongY*cos)
	n := num.Length(x, y)
	w.alongX, w.alongY = x/n, y/n
}
