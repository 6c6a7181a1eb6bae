package vision

import "math"

// Brown roots run from tan to nearly the medium's own brown, so one ink does not fit them all as it does the white ones. A
// brown root wide enough to show its own colour says itself what a whole pixel of it looks like; the photo's ink is only
// for those too thin for that.

// crestLevel returns the share that a pixel wholly covered by this root would show, from the crest at i of a line with the unit
// normal (nx, ny): a bar of width W under a Gaussian blur of sigma b has the crest level·erf(W/(2√2 b)). ok is false for
// a line too thin to tell.
func crestLevel(all []float32, w, h, i int, nx, ny float32, blur float64) (level float32, ok bool) {
	seen := float64(halfWidth(all, w, h, i, nx, ny) + halfWidth(all, w, h, i, -nx, -ny))
	own := 2.355 * blur
	if all[i] <= 0.1 || seen < 1.3*own {
		return 0, false
	}
	return all[i] / float32(math.Erf(barWidth(seen, blur)/(2*math.Sqrt2*blur))), true
}

// barWidth returns the width of a bar that, blurred by a Gaussian of sigma blur, is seen as wide as seen at half its height: the W
// for which the blurred bar's profile, ½(erf((x + W/2)/√2b) − erf((x − W/2)/√2b)), is half its crest at x = seen/2. What is
// seen no wider than a blurred hair is 0.
func barWidth(seen, blur float64) float64 {
	x, lo, hi := seen/(2*blur), 0.0, seen/blur
	for range 30 {
		w := (lo + hi) / 2
		if math.Erf((x+w/2)/math.Sqrt2)-math.Erf((x-w/2)/math.Sqrt2) < math.Erf(w/2/math.Sqrt2) {
			lo = w // falls off too early: the bar is wider
		} else {
			hi = w
		}
	}
	return (lo + hi) / 2 * blur
}

// halfWidth walks from pixel i along (nx, ny) to where the share has fallen to half, in pixels, at most 8.
func halfWidth(all []float32, w, h, i int, nx, ny float32) float32 {
	x, y := float32(i%w), float32(i/w)
	half := all[i] / 2
	before := all[i]
	const step = 0.5
	for d := float32(step); d <= 8; d += step {
		now, ok := bilinear(all, w, h, x+d*nx, y+d*ny)
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

func bilinear(v []float32, w, h int, x, y float32) (float32, bool) {
	if x < 0 || y < 0 || x >= float32(w-1) || y >= float32(h-1) {
		return 0, false
	}
	x0, y0 := int(x), int(y)
	fx, fy := x-float32(x0), y-float32(y0)
	i := y0*w + x0
	return (v[i]*(1-fx)+v[i+1]*fx)*(1-fy) + (v[i+w]*(1-fx)+v[i+w+1]*fx)*fy, true
}

// purity gathers crest levels at single pixels and spreads them around.
type purity struct{ sum, n []float32 }

func newPurity(n int) *purity { return &purity{make([]float32, n), make([]float32, n)} }

func (p *purity) add(i int, level float32, ok bool) {
	if ok {
		p.sum[i] += level
		p.n[i]++
	}
}

// over returns the mean level within radius pixels, held between what shade and gloss make of one root; 0 where none is near.
func (p *purity) over(w, h, radius int) []float32 {
	sum, n := boxBlur(p.sum, w, h, radius), boxBlur(p.n, w, h, radius)
	for i := range sum {
		if n[i] > 1e-6 {
			sum[i] = min(1.5, max(0.25, sum[i]/n[i]))
		} else {
			sum[i] = 0
		}
	}
	return sum
}
