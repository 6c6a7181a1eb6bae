package vision

// A root that is wide enough against the blur shows across itself where its edges are, and with that how light a pixel wholly
// covered by it is on the mean: what the photo's ink is for roots in general, that is for this one. Blurring moves light
// across an edge, but neither the edge, which stays where the light changes most, nor the light's sum.

// tellingWidth is from how many times the blur's own width, 2.355 sigmas, on a root's edges can be told: those of a bar 1.3
// times as wide are pulled together by under a hundredth of a sigma by each other.
const tellingWidth = 1.3

// section is what a line shows across itself.
type section struct {
	widthPx float32 // between the steepest places
	mean    float32 // share summed across, over the width; no more than top, or the light beside is not all its own
	top     float32 // share at the crest
}

// across looks across the line at a crest; ok is false where it is too thin under a blur of so many sigma px, or ends in
// another root instead of medium.
func (r *raster) across(at *crest, blur float64) (p section, ok bool) {
	p.top = r.v[at.i]
	if p.top <= 0.1 {
		return p, false
	}
	sumA, edgeA, okA := r.flank(at, 1)
	sumB, edgeB, okB := r.flank(at, -1)
	p.widthPx = edgeA + edgeB
	if !okA || !okB || float64(p.widthPx) < tellingWidth*2.355*blur {
		return p, false
	}
	p.mean = min(p.top, (sumA+sumB)/p.widthPx)
	return p, true
}

const (
	flankStep  = 0.5 // px
	flankSteps = 18
	flankFoot  = 0.12 // of the crest: from here on down it is medium
	flankLow   = 0.35 // of the crest: what rises again below it is the next root, whose light is not counted
)

// flank walks from the crest down one side and returns the share summed up on the way and where it falls most steeply, in
// pixels from the crest.
func (r *raster) flank(at *crest, side float32) (sum, edge float32, ok bool) {
	x, y := float32(int(at.i)%r.w), float32(int(at.i)/r.w)
	var v [flankSteps + 1]float32
	v[0] = r.v[at.i]
	last := 0 // the step before it is medium, or before the next root
	for k := 1; last == 0; k++ {
		d := float32(k) * flankStep * side
		now, inside := r.between(x+d*at.nx, y+d*at.ny)
		if !inside || k == flankSteps {
			return 0, 0, false
		}
		v[k] = now
		switch {
		case now > v[k-1]+0.02*v[0] && v[k-1] < flankLow*v[0]:
			last = k - 1
		case now < flankFoot*v[0]:
			last = k
		}
		if last == 0 || last == k {
			sum += (v[k-1] + now) / 2 * flankStep
		}
	}
	// the fall over a pixel, about each step
	fall := func(k int) float32 { return v[max(0, k-1)] - v[min(last, k+1)] }
	steepest := 1
	for k := 2; k < last; k++ {
		if fall(k) > fall(steepest) {
			steepest = k
		}
	}
	// moved towards the steeper of its neighbours as a parabola through the three has it
	shift := float32(0)
	if a, b, c := fall(steepest-1), fall(steepest), fall(steepest+1); a-2*b+c < 0 {
		shift = max(-0.5, min(0.5, (a-c)/(2*(a-2*b+c))))
	}
	return sum, (float32(steepest) + shift) * flankStep, true
}
