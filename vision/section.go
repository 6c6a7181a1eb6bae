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
	top := r.v[at.i]
	var fall [flankSteps + 1]float32
	before, steepest := top, 0
	k := 1
	for ; ; k++ {
		if k > flankSteps {
			return 0, 0, false
		}
		d := float32(k) * flankStep * side
		now, inside := r.between(x+d*at.nx, y+d*at.ny)
		if !inside {
			return 0, 0, false
		}
		if now > before+0.02*top && before < flankLow*top {
			break
		}
		fall[k] = before - now
		if fall[k] > fall[steepest] {
			steepest = k
		}
		sum += (before + now) / 2 * flankStep
		before = now
		if now < flankFoot*top {
			break
		}
	}
	if before > flankLow*top || steepest == 0 {
		return 0, 0, false
	}
	// the middle of the steepest step, moved towards the steeper of its neighbours as a parabola through the three has it
	var shift float32
	if steepest > 1 && steepest < k {
		a, b, c := fall[steepest-1], fall[steepest], fall[steepest+1]
		if bend := a - 2*b + c; bend < 0 {
			shift = (a - c) / (2 * bend)
		}
	}
	return sum, (float32(steepest) - 0.5 + shift) * flankStep, true
}
