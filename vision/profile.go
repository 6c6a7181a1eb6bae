package vision

import (
	"math"
	"slices"
)

// A root that is wide enough against the blur shows across itself how wide it is, and with that how light a pixel wholly covered
// by it would be: what the photo's ink is for roots in general, the level is for this one.

// levelAt returns the share that a pixel wholly covered by the root under a crest would show: a bar of width W under a
// Gaussian blur of sigma b has the crest level·erf(W/(2√2 b)). ok is false for a line too thin to tell.
func (r *raster) levelAt(at *crest, blur float64) (level, seen float32, ok bool) {
	top := r.v[at.i]
	if top <= 0.1 {
		return 0, 0, false
	}
	seen = r.widthAt(at)
	if float64(seen) < 1.3*2.355*blur {
		return 0, seen, false
	}
	return top / float32(math.Erf(barWidth(float64(seen), blur)/(2*math.Sqrt2*blur))), seen, true
}

// barWidth returns the width of a bar that, blurred by a Gaussian of sigma blur, is seen as wide as seen at half its height: the W
// for which the blurred bar's profile, ½(erf((x + W/2)/√2b) − erf((x − W/2)/√2b)), is half its crest at x = seen/2. What is
// seen no wider than a blurred hair is 0.
func barWidth(seen, blur float64) float64 {
	x := seen / blur
	switch {
	case x <= barSeen[0]:
		return 0
	case x >= barSeen[len(barSeen)-1]:
		return seen // wide bars are seen as wide as they are
	}
	k, _ := slices.BinarySearch(barSeen[:], x)
	f := (x - barSeen[k-1]) / (barSeen[k] - barSeen[k-1])
	return (float64(k-1) + f) * barStep * blur
}

// barSeen is the width at half height of bars of 0, barStep, 2·barStep, … times the blur's sigma, in sigmas.
var barSeen = func() (t [241]float64) {
	t[0] = 2 * math.Sqrt(2*math.Ln2) // a hair shows the blur itself
	for k := 1; k < len(t); k++ {
		w := float64(k) * barStep
		lo, hi := 0.0, w+4
		for range 60 {
			x := (lo + hi) / 2
			if math.Erf((x+w/2)/math.Sqrt2)-math.Erf((x-w/2)/math.Sqrt2) > math.Erf(w/2/math.Sqrt2) {
				lo = x
			} else {
				hi = x
			}
		}
		t[k] = lo + hi
	}
	return t
}()

const barStep = 0.025

// widthAt is the width of the line at a crest, across it from where the share has fallen to half its top to where it has on the
// other side, in pixels.
func (r *raster) widthAt(at *crest) float32 {
	return r.halfWidth(at.i, at.nx, at.ny) + r.halfWidth(at.i, -at.nx, -at.ny)
}

// halfWidth walks from pixel i along (nx, ny) to where the share has fallen to half, in pixels, at most 8.
func (r *raster) halfWidth(i int32, nx, ny float32) float32 {
	x, y := float32(int(i)%r.w), float32(int(i)/r.w)
	half := r.v[i] / 2
	before := r.v[i]
	const step = 0.5
	for d := float32(step); d <= 8; d += step {
		now, ok := r.between(x+d*nx, y+d*ny)
		if !ok {
			return d
		}
		if now <= half {
			return d - step*(half-now)/(before-now)
		}
		before = now
	}
	return 8
}
