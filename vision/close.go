package vision

import "math"

// Where lines lie closer than a lens and the search for crests can part them, two show as one. That is a counter's dead time
// in space: of lines laid at random with the true density n, px of line a px², those show that have no other within the
// distance d,
//
//	shown = (1 − exp(−n·d))/d,   so that   n = −ln(1 − shown·d)/d
//
// as in counting with a paralysable window (common practice in particle counting, no source). It is done tile by tile, since
// roots crowd in places.

// mostCrowded is the greatest shown·d that is undone: from 0.7 on a little more shown means far more hidden.
const mostCrowded = 0.7

// partPx is the least distance in px at which two lines show as two, by Sparrow's criterion for Gaussian profiles, two sigmas: of
// the lens, the pixel, the root's own width and the search for crests.
func (c *rootCell) partPx(widthPx float64) float64 {
	return 2 * math.Sqrt(sq(c.blurPx)+1.0/12+sq(widthPx)/12+sq(fineSigma))
}

// lengthMM is the length of the plug's lines in mm, what shows as one line in crowds undone.
func (c *rootCell) lengthMM(rootPx2 float64) float64 {
	p, f := c.p, c.lines.fine
	side := int(mediumReachMM*c.pxMM + 0.5)
	line, of := newTiles(p.w, p.h, side), newTiles(p.w, p.h, side)
	for i, in := range p.inside {
		if in {
			of.add(i%p.w, i/p.w, 1)
		}
	}
	total := 0.0
	for n := range f.list {
		if at := &f.list[n]; c.lines.support[at.i] {
			way := (c.lines.toNext(n, 1) + c.lines.toNext(n, -1)) / 2
			line.add(int(at.i)%p.w, int(at.i)/p.w, float32(way))
			total += way
		}
	}
	if total == 0 {
		return 0
	}
	d := c.partPx(rootPx2 / total)
	near, ofNear := line.around(), of.around()
	sum := 0.0
	for i, px := range line.sum {
		crowd := math.Min(mostCrowded, float64(near.sum[i]/max(1, ofNear.sum[i]))*d)
		if crowd > 1e-6 {
			sum += float64(px) * -math.Log(1-crowd) / crowd
		}
	}
	return sum / c.pxMM
}
