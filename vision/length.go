package vision

import "math"

// The length of a line is summed over its crests, each standing for half the way to the next one ahead and half the way to
// the next one behind, from sub-pixel place to sub-pixel place along the line's own direction. However many pixels of a
// step's breadth lie on the line, the ways add up to it.

const (
	nextReach = 3    // px, how far the next crest of a line may be: two for a line that is whole, one more to bridge a crossing
	nextAside = 0.75 // px and
	nextTurn  = 0.3  // px a px ahead, how far aside it may lie, so that the line beside is not taken
)

// ways returns for each crest the length of line in pixels that it stands for; 0 off the support. The first counts what is surely on a
// line alone: at a broad root's end crests run into its corners that are not. The second counts any.
func (l *rootLines) ways() (sure, any []float32) {
	sure, any = make([]float32, len(l.fine.list)), make([]float32, len(l.fine.list))
	for n := range any {
		if at := &l.fine.list[n]; l.support[at.i] {
			surely, either := l.toNext(n)
			any[n] = (either[0] + either[1]) / 2
			if at.sure {
				sure[n] = (surely[0] + surely[1]) / 2
			}
		}
	}
	return sure, any
}

// toNext returns the ways along the line from the n-th crest to the next one on the support, forward and back: to the next that is
// surely on a line, and to the next of any kind; 0 at an end. Of two crests side by side the one later in the list counts as
// ahead.
func (l *rootLines) toNext(n int) (surely, any [2]float32) {
	const same = 0.05 // px along the line
	f := l.fine
	at := &f.list[n]
	tx, ty := -at.ny, at.nx
	if at.ny > 0 || at.ny == 0 && at.nx < 0 { // forward is to the right, or else down
		tx, ty = -tx, -ty
	}
	const none = math.MaxFloat32
	surely, any = [2]float32{none, none}, [2]float32{none, none}
	x, y := int(at.i)%f.w, int(at.i)/f.w
	for yy := max(0, y-nextReach); yy <= min(f.h-1, y+nextReach); yy++ {
		row := f.index[yy*f.w : (yy+1)*f.w]
		for xx := max(0, x-nextReach); xx <= min(f.w-1, x+nextReach); xx++ {
			k := int(row[xx]) - 1
			if k < 0 || k == n {
				continue
			}
			to := &f.list[k]
			dx, dy := to.x-at.x, to.y-at.y
			way, side := dx*tx+dy*ty, 0
			if way < -same || way <= same && k < n {
				way, side = -way, 1
			}
			if way <= same {
				way = 0
			}
			if way >= surely[side] && way >= any[side] || abs32(dx*at.nx+dy*at.ny) > nextAside+nextTurn*way || !l.support[to.i] {
				continue
			}
			if c := at.nx*to.nx + at.ny*to.ny; c <= keepsDirection && c >= -keepsDirection {
				continue
			}
			any[side] = min(any[side], way)
			if to.sure {
				surely[side] = min(surely[side], way)
			}
		}
	}
	for side := range 2 {
		if any[side] > nextReach {
			any[side] = 0
		}
		if surely[side] > nextReach {
			surely[side] = 0
		}
	}
	return surely, any
}

// countedPx is roughly how long a piece of line is, by counting its pixels: a line with the unit normal n passes
// 1/max(|n_x|, |n_y|) of them a pixel of its length.
func (f *crests) countedPx(piece []int32) float64 {
	sum := 0.0
	for _, n := range piece {
		sum += float64(max(abs32(f.list[n].nx), abs32(f.list[n].ny)))
	}
	return sum
}
