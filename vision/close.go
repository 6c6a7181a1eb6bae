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

// lengthMM is the length of the plug's lines in mm, what shows as one line in crowds undone.
func (c *rootCell) lengthMM(rootPx2 float64) float64 {
	ways := c.lines.ways()
	total := 0.0
	for _, w := range ways {
		total += float64(w)
	}
	if total == 0 {
		return 0
	}
	p, f := c.p, c.lines.fine
	d := c.partPx(rootPx2 / total)
	side := int(mediumReachMM*c.pxMM + 0.5)
	line, crowd := newTiles(p.w, p.h, side), newTiles(p.w, p.h, side)
	for n, w := range ways {
		if w > 0 {
			x, y := int(f.list[n].i)%p.w, int(f.list[n].i)/p.w
			line.add(x, y, w)
			crowd.add(x, y, w*f.others(n, ways, d))
		}
	}
	nearLine, nearCrowd := line.around(), crowd.around()
	sum := 0.0
	for i, px := range line.sum {
		if px == 0 {
			continue
		}
		hidden := math.Min(mostCrowded, float64(nearCrowd.sum[i]/nearLine.sum[i])*d)
		if hidden > 1e-6 {
			sum += float64(px) * -math.Log(1-hidden) / hidden
		} else {
			sum += float64(px)
		}
	}
	return sum / c.pxMM
}

// others is the density of other lines around the n-th crest, between d and 2d from it, in px a px². The crest's own line lies ahead and
// behind, where toNext looks for it; that part of the ring is left out.
func (f *crests) others(n int, ways []float32, d float64) float32 {
	at := &f.list[n]
	x0, y0, reach := int(at.i)%f.w, int(at.i)/f.w, int(2*d)
	near, far := float32(d*d), float32(4*d*d)
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
	ring := 3*math.Pi*d*d - 4*(nextAside*d+nextTurn*1.5*d*d)
	return sum / float32(ring)
}
