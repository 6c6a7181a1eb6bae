package vision

import "math"

// Where lines lie closer than a lens and the search for crests can part them, two show as one. That is a counter's dead time
// in space: of lines laid at random with the true density n, px of line a px², those show that have no other within the
// distance d,
//
//	shown = (1 − exp(−n·d))/d,   so that   n = −ln(1 − shown·d)/d
//
// as in counting with a paralysable window (common practice in particle counting, no source). The density that counts is that
// of other lines just beyond d: lines side by side at a distance hide nothing, however many they are. It is done tile by
// tile, since roots crowd in places.

// mostCrowded is the greatest shown·d that is undone: from 0.7 on a little more shown means far more hidden.
const mostCrowded = 0.7

// partPx is the least distance in px at which two lines show as two, by Sparrow's criterion for Gaussian profiles, two sigmas: of
// the lens, the pixel, the root's own width and the search for crests.
func (c *rootCell) partPx(widthPx float64) float64 {
	return 2 * math.Sqrt(sq(c.blurPx)+1.0/12+sq(widthPx)/12+sq(fineSigma))
}

// sparse is the part of lines hidden up to which a plug's crests are taken as lines only where they surely are; from crowded on any
// crest is one, since among many none is straight and alone any more.
const sparse, crowded = 0.1, 0.3

// lookAtEach: one crest in so many is asked how crowded it is. Tiles hold dozens.
const lookAtEach = 4

// lengthMM is the length of the plug's lines in mm, what shows as one line in crowds undone, and how much of it is that.
func (c *rootCell) lengthMM(rootPx2 float64) (mm, crowdMM float64) {
	sure, any := c.lines.ways()
	total := 0.0
	for _, w := range any {
		total += float64(w)
	}
	if total == 0 {
		return 0, 0
	}
	p, f := c.p, c.lines.fine
	d := c.partPx(rootPx2 / total)
	side := int(mediumReachMM*c.pxMM + 0.5)
	surely, line := newTiles(p.w, p.h, side), newTiles(p.w, p.h, side)
	looked, crowd := newTiles(p.w, p.h, side), newTiles(p.w, p.h, side)
	for n, w := range any {
		if w > 0 || sure[n] > 0 {
			x, y := int(f.list[n].i)%p.w, int(f.list[n].i)/p.w
			surely.add(x, y, sure[n])
			line.add(x, y, w)
			if n%lookAtEach == 0 {
				looked.add(x, y, w)
				crowd.add(x, y, w*f.others(n, any, d))
			}
		}
	}
	nearLooked, nearCrowd := looked.around(), crowd.around()
	sum, shown := 0.0, 0.0
	for i, px := range line.sum {
		if px == 0 {
			continue
		}
		hidden := math.Min(mostCrowded, float64(nearCrowd.sum[i]/max(1e-6, nearLooked.sum[i]))*d)
		part := min(1, max(0, (hidden-sparse)/(crowded-sparse)))
		length := float64(surely.sum[i]) + part*float64(px-surely.sum[i])
		shown += length
		if hidden > 1e-6 {
			length *= -math.Log(1-hidden) / hidden
		}
		sum += length
	}
	return sum / c.pxMM, (sum - shown) / c.pxMM
}

// others is the density of other lines around the n-th crest, between 1.5 and 3 times d from it, in px a px²: nearer by, those that
// show keep apart from it. The crest's own line lies ahead and behind, where toNext looks for it; that part of the ring is left
// out.
func (f *crests) others(n int, ways []float32, d float64) float32 {
	at := &f.list[n]
	from, to := 1.5*d, 3*d
	x0, y0, reach := int(at.i)%f.w, int(at.i)/f.w, int(to)
	near, far := float32(from*from), float32(to*to)
	sum := float32(0)
	for y := max(0, y0-reach); y <= min(f.h-1, y0+reach); y++ {
		row := f.index[y*f.w : (y+1)*f.w]
		for x := max(0, x0-reach); x <= min(f.w-1, x0+reach); x++ {
			if k := row[x]; k != 0 {
				dx, dy := float32(x-x0), float32(y-y0)
				r := dx*dx + dy*dy
				aside, way := abs32(dx*at.nx+dy*at.ny), abs32(dx*at.ny-dy*at.nx)
				if r >= near && r <= far && aside > nextAside+nextTurn*way {
					sum += ways[k-1]
				}
			}
		}
	}
	ring := math.Pi*(to*to-from*from) - 4*(nextAside*(to-from)+nextTurn*(to*to-from*from)/2)
	return sum / float32(ring)
}
