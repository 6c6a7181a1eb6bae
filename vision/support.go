package vision

// What hangs on to a centre line is root down to perhapsShare, no further from it than the widest root's half-width: young
// roots are 0.1 to 1.2 mm wide (common practice, no source).
const (
	perhapsShare = 0.15
	widestRootMM = 1.3
	leastPieceMM = 1.5  // a shorter piece of line cannot be told from specks and fibres' ends
	leastCrest   = 0.35 // median share along a piece; a long one may be fainter
	faintCrest   = 0.15
	longPieceMM  = 3.0
)

// wideMM is the second scale at which centre lines are looked for: that of a root 0.9 mm wide.
const wideMM = 0.25

// rootLines are the centre lines of a plug's roots, and the pixels that hang on to them.
type rootLines struct {
	fine    *crests // at the finest scale
	support []bool
	levels  []level
}

// level is what a wide enough root says of itself at one pixel.
type level struct {
	i int32
	section
	white bool
}

// findRoots finds the roots. They are told from perlite, glints and clods by being lines: pieces of centre line that keep
// their direction for leastPieceMM. From those the support spreads sideways over whatever covers enough, and a pixel or two on
// for what the lens spreads.
func (c *rootCell) findRoots(k ink) {
	share := c.unmix(k)
	defer share.Close()
	c.round = c.blobs(share.all)
	for i, on := range c.round {
		if on {
			share.all.v[i] = 0
		}
	}
	l := &rootLines{fine: findCrests(share.all, fineSigma)}
	on := make([]bool, len(share.all.v))
	c.keepPieces(l, l.fine, share, on)
	if wide := wideMM * c.pxMM; wide > 1.2*fineSigma {
		c.keepPieces(l, findCrests(share.all, wide), share, on)
	}
	w, h := c.p.w, c.p.h
	grown := spreadOver(on, w, h, int(widestRootMM/2*c.pxMM+0.5), func(i int) bool { return share.all.v[i] >= perhapsShare })
	c.dropRound(grown)
	l.support = dilate(dilate(grown, w, h), w, h)
	for i, in := range c.p.inside {
		l.support[i] = l.support[i] && in && !c.isRound(i)
	}
	c.lines = l
}

// keepPieces marks the pieces of centre line that are long and clear enough to be root, and notes their levels.
func (c *rootCell) keepPieces(l *rootLines, f *crests, share shares, on []bool) {
	var top []float32
	for _, piece := range f.pieces() {
		top = top[:0]
		for _, n := range piece {
			top = append(top, share.all.v[f.list[n].i])
		}
		mm := f.countedPx(piece) / c.pxMM
		clear := quantile(top, 0.5)
		if mm < leastPieceMM || clear < faintCrest || mm < longPieceMM && clear < leastCrest {
			continue
		}
		for k, n := range piece {
			at := &f.list[n]
			on[at.i] = true
			if k%2 != 0 { // every other place tells enough
				continue
			}
			if p, ok := share.all.across(at, c.blurPx); ok {
				l.levels = append(l.levels, level{at.i, p, share.brown.v[at.i] < 0.6*share.all.v[at.i]})
			}
		}
	}
}

// dropRound takes out pieces that stand alone and are round: perlite, droplets and glints. A round thing fills π/4 of the
// square of its extent, a root far less.
func (c *rootCell) dropRound(on []bool) {
	eachPiece(on, c.p.w, c.p.h, func(piece []int32) {
		box := extentOf(piece, c.p.w)
		extent := float64(max(box.Dx(), box.Dy()))
		if extent < 4*c.pxMM && float64(len(piece)) > 0.4*extent*extent {
			clearAll(on, piece)
		}
	})
}
