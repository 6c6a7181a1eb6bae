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

// ways returns for each crest the length of line in pixels that it stands for; 0 off the support. Surely lets in what is surely on a
// line alone: at a broad root's end crests run into its corners that are not.
func (l *rootLines) ways(surely bool) []float32 {
	w := make([]float32, len(l.fine.list))
	for n := range w {
		if l.counts(&l.fine.list[n], surely) {
			w[n] = float32(l.toNext(n, 1, surely)+l.toNext(n, -1, surely)) / 2
		}
	}
	return w
}

func (l *rootLines) counts(at *crest, surely bool) bool {
	return l.support[at.i] && (at.sure || !surely)
}

// toNext returns the way along the line from the n-th crest to the next one that counts, forward (1) or back (−1) along the line;
// 0 at an end. Of two crests side by side the one later in the list counts as ahead.
func (l *rootLines) toNext(n int, side float32, surely bool) float64 {
	const same = 0.05 // px along the line
	f := l.fine
	at := &f.list[n]
	tx, ty := -at.ny*side, at.nx*side
	if at.ny > 0 || at.ny == 0 && at.nx < 0 { // forward is to the right, or else down
		tx, ty = -tx, -ty
	}
	best := float32(math.MaxFloat32)
	x, y := int(at.i)%f.w, int(at.i)/f.w
	for yy := max(0, y-nextReach); yy <= min(f.h-1, y+nextReach); yy++ {
		row := f.index[yy*f.w : (yy+1)*f.w]
		for xx := max(0, x-nextReach); xx <= min(f.w-1, x+nextReach); xx++ {
			if row[xx] == 0 || int(row[xx]-1) == n {
				continue
			}
			to := &f.list[row[xx]-1]
			dx, dy := to.x-at.x, to.y-at.y
			way, aside := dx*tx+dy*ty, abs32(dx*at.nx+dy*at.ny)
			if way < -same || way >= best || aside > nextAside+nextTurn*way || !l.counts(to, surely) {
				continue
			}
			if way <= same {
				if (int(row[xx]-1) > n) != (side > 0) {
					continue
				}
				way = 0
			}
			if c := at.nx*to.nx + at.ny*to.ny; c > keepsDirection || c < -keepsDirection {
				best = way
			}
		}
	}
	if best > nextReach {
		return 0
	}
	return float64(best)
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
