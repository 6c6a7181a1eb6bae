package vision

import "math"

// ink is what pure root looks like in one photo: white to cream, and brown where there is any.
type ink struct {
	white, brown RGB
	hasBrown     bool
	vary         float64 // standard deviation of pure white root's luminance over its mean
	brownVary    float64 // the same of brown root
}

// levels part medium from root over a whole photo, in luminance with 1 for paper: medium is what a plug with few roots
// shows, root what the lightest show, and cut lies a quarter of the way up to pure root.
type levels struct{ medium, root, cut float64 }

// levelsOf looks at all plugs together, since a plug that is all mat shows no medium and a bare one no root. Medium is
// taken from the plugs with the fewest roots, root from the lightest hundredth of all plugs.
func levelsOf(cells []*rootCell) levels {
	var low, all []float32
	for _, c := range cells {
		if c.inside == nil {
			continue
		}
		var in []float32
		for i, ok := range c.inside {
			if ok {
				in = append(in, c.p.lum[i])
			}
		}
		if len(in) < 50 {
			continue
		}
		low = append(low, float32(quantile(in, 0.25)))
		for i := 0; i < len(in); i += 7 {
			all = append(all, in[i])
		}
	}
	l := levels{medium: quantile(low, 0.25), root: math.Max(quantile(all, 0.99), 0.3)}
	l.cut = l.medium + 0.25*(l.root-l.medium)
	return l
}

// sampleMedium takes the plug's own medium from what lies clear of every root and of the plug's edge. A plug with too
// little of it keeps a zero medium, and lendMedium gives it its neighbours'.
func (c *rootCell) sampleMedium(l levels) {
	p := c.p
	light := make([]bool, len(p.lum))
	for i, v := range p.lum {
		light[i] = float64(v) > l.cut
	}
	light = dilate(dilate(light, p.w, p.h), p.w, p.h)
	var sum RGB
	var n, inside, ss float64
	use := make([]int32, 0, len(p.lum)/2)
	for i, ok := range c.inside {
		if !ok {
			continue
		}
		inside++
		du, dv := float64(p.du[i]), float64(p.dv[i])
		if !light[i] && math.Hypot(du, dv) < c.edge.at(du, dv)-1 {
			sum = sum.plus(p.at(i))
			n++
			use = append(use, int32(i))
		}
	}
	if n < 50 || n < 0.05*inside {
		return
	}
	c.medium = sum.times(float32(1 / n))
	m := float64(c.medium.luminance())
	for _, i := range use {
		ss += sq(float64(p.lum[i]) - m)
	}
	c.spread = math.Sqrt(ss / n)
}

// lendMedium gives plugs that show no medium of their own the photo's.
func lendMedium(cells []*rootCell) {
	var all []RGB
	var spread []float64
	for _, c := range cells {
		if c.spread > 0 {
			all, spread = append(all, c.medium), append(spread, c.spread)
		}
	}
	lent, s := RGB{0.05, 0.04, 0.03}, 0.03 // dark peat; only where every plug of the photo is a mat
	if len(all) > 0 {
		lent, s = medianLight(all), median(spread)
	}
	for _, c := range cells {
		if c.inside != nil && c.spread == 0 {
			c.medium, c.spread = lent, s
		}
	}
}

// inkOf estimates the colours of pure root over a photo. Pixels whose whole neighbourhood is far lighter than medium are
// root right through; the warmer of them are brown.
func inkOf(cells []*rootCell, l levels) ink {
	var white, brown []RGB
	for _, c := range cells {
		if c.inside == nil {
			continue
		}
		w, b := c.cores(l)
		white, brown = append(white, w...), append(brown, b...)
	}
	k := ink{white: RGB{0.6, 0.55, 0.45}, vary: 0.2} // cream; only where no root wide enough is in view
	if len(white) >= 50 {
		k.white = medianLight(white)
		k.vary = relativeSpread(white)
	}
	if len(brown) >= 200 {
		k.brown, k.hasBrown = medianLight(brown), true
		k.brownVary = relativeSpread(brown)
	}
	return k
}

// creamLight is the luminance of healthy root, white to cream, over that of paper: CIELAB L* of 75 to 85, which is Y of 0.48
// to 0.66 (common practice, no source).
const creamLight = 0.58

// temper draws the white ink towards creamLight by how little the photo itself tells. Where roots are wide against the blur,
// pixels that are root right through show the roots' own mean, shade and all. Where they are not, those pixels are still
// mixed with medium and too dark, and would make every root too large.
func (k *ink) temper(cells []*rootCell) {
	var wide, all, looked int
	for i := range cells {
		c := cells[i*7%len(cells)] // spread over the tray: a dozen plugs tell enough
		if c.inside == nil || looked >= 12 {
			continue
		}
		looked++
		w, n := c.wideCrests(*k)
		wide, all = wide+w, all+n
	}
	told := 0.0
	if all > 0 {
		told = float64(wide) / float64(all)
	}
	seen := float64(k.white.luminance())
	m := math.Pow(creamLight/seen, 1-told)
	k.white = k.white.times(float32(m))
	if k.hasBrown { // mixed with medium as much as the white ones
		medium := mediumOf(cells)
		k.brown = medium.plus(k.brown.minus(medium).times(float32(m)))
	}
	k.vary = math.Hypot(k.vary, (1-told)*creamVary)
}

// mediumOf is the photo's usual medium.
func mediumOf(cells []*rootCell) RGB {
	var all []RGB
	for _, c := range cells {
		if c.inside != nil {
			all = append(all, c.medium)
		}
	}
	return medianLight(all)
}

// creamVary is the relative standard deviation of creamLight, from its range taken as two deviations each way.
const creamVary = 0.08

// wideCrests returns how many of all crest points looked at lie on roots at least 1.8 times as wide as the blur alone would
// make them. Short pieces of line are left out: specks and perlite are no roots.
func (c *rootCell) wideCrests(k ink) (wide, all int) {
	share := c.whiteShare(k)
	r := findRidges(share, c.p.w, c.p.h, fineSigma, surelyLine)
	own := float32(2.355 * c.blurPx)
	for _, piece := range r.pieces() {
		if float64(len(piece)) < longPieceMM*c.pxMM {
			continue
		}
		for _, i := range piece {
			if share[i] <= 0.4 {
				continue
			}
			width := halfWidth(share, c.p.w, c.p.h, i, r.nx[i], r.ny[i]) + halfWidth(share, c.p.w, c.p.h, i, -r.nx[i], -r.ny[i])
			all++
			if width >= 1.8*own {
				wide++
			}
		}
	}
	return wide, all
}

// whiteShare is the share of white root where it outdoes brown.
func (c *rootCell) whiteShare(k ink) []float32 {
	share := make([]float32, len(c.p.lum))
	for i, in := range c.inside {
		if in {
			if aw, ab := k.coverage(c.p.at(i), c.medium); aw > 2*ab {
				share[i] = aw
			}
		}
	}
	return share
}

// relativeSpread is the quartiles' distance of luminance over its median, as a normal deviation (0.7413 of the distance).
func relativeSpread(c []RGB) float64 {
	v := make([]float32, len(c))
	for i := range c {
		v[i] = c[i].luminance()
	}
	return 0.7413 * (quantile(v, 0.75) - quantile(v, 0.25)) / quantile(v, 0.5)
}

// doubtMM2 is the standard uncertainty of a root area of white and brown mm² on a support of wide mm²: inks and medium each
// move by their own spread. A plug's white roots share half of their ink's spread; its brown ones share all of it and of their
// own, since they brown together. The medium's mean over the support is off by its spread over the root of the number of
// clods on it, a clod being a third of a mm across.
func (c *rootCell) doubtMM2(k ink, white, brown, wide float64) float64 {
	contrast := math.Max(0.05, float64(k.white.luminance()-c.medium.luminance()))
	byInk := white * k.vary / 2
	byBrown := brown * math.Hypot(k.vary, k.brownVary)
	const clodMM = 1.0 / 3
	byMedium := math.Max(0, wide-white-brown) * c.spread / contrast / math.Sqrt(math.Max(1, wide)) / clodMM
	const strayMM2 = 1.0 // a speck taken for root or a rootlet for a speck
	return math.Sqrt(sq(byInk) + sq(byBrown) + sq(byMedium) + sq(strayMM2))
}

// brownWarmth parts cream from tan and brown: cream root in linear light has a warmth near 0.1, the card's printed brown
// 0.47 and tan about 0.3.
const brownWarmth = 0.24

func (c *rootCell) cores(l levels) (white, brown []RGB) {
	p := c.p
	lw := float64(c.medium.luminance())
	lightEnough := float32(math.Max(lw+6*c.spread, l.cut))
	redEnough := float32(float64(c.medium[0]) + 3*c.spread + 0.05)
	for y := 2; y < p.h-2; y++ {
		for x := 2; x < p.w-2; x++ {
			i := y*p.w + x
			if !c.inside[i] {
				continue
			}
			least, leastRed := float32(9), float32(9)
			for _, j := range [9]int{0, 1, -1, p.w, -p.w, p.w + 1, p.w - 1, -p.w + 1, -p.w - 1} {
				least, leastRed = min(least, p.lum[i+j]), min(leastRed, p.r[i+j])
			}
			w := warmth(p.r[i], p.g[i], p.b[i])
			switch {
			case least > lightEnough && w < brownWarmth:
				white = append(white, p.at(i))
			case leastRed > redEnough && w > brownWarmth+0.04 && p.r[i] > p.g[i]*1.2:
				brown = append(brown, p.at(i))
			}
		}
	}
	return white, brown
}

// coverage solves p − m = aw (white − m) + ab (brown − m) by least squares, each share not below 0 where the other is used.
func (k *ink) coverage(p, m RGB) (aw, ab float32) {
	d, w := p.minus(m), k.white.minus(m)
	ww := w.dot(w)
	if ww == 0 {
		return 0, 0
	}
	aw = d.dot(w) / ww
	if !k.hasBrown {
		return aw, 0
	}
	b := k.brown.minus(m)
	bb, wb, dw, db := b.dot(b), w.dot(b), d.dot(w), d.dot(b)
	det := ww*bb - wb*wb
	if det <= 1e-9 {
		return aw, 0
	}
	x, y := (dw*bb-db*wb)/det, (db*ww-dw*wb)/det
	switch {
	case y < 0:
		return aw, 0
	case x < 0:
		return 0, db / bb
	}
	return x, y
}

// measure finds the root on the plug and adds it up.
func (c *rootCell) measure(k ink) {
	p := c.p
	n := p.w * p.h
	white, brown, all := make([]float32, n), make([]float32, n), make([]float32, n)
	for i := range n {
		if !c.inside[i] {
			continue
		}
		aw, ab := k.coverage(p.at(i), c.medium)
		white[i], brown[i], all[i] = aw, ab, aw+ab
	}
	support, level := c.support(all, brown)
	for i, l := range level {
		if l > 0 && brown[i] > white[i] {
			white[i], brown[i] = white[i]/l, brown[i]/l
		}
	}
	c.addUp(k, white, brown, support)
}

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

// support returns the pixels that belong to roots. Roots are told from perlite, glints and clods by being lines: pieces of
// centre line that keep their direction for leastPieceMM. From those the support spreads sideways over whatever covers
// enough, and a pixel or two on for what the lens spreads.
func (c *rootCell) support(all, brown []float32) (support []bool, level []float32) {
	p := c.p
	lines := make([]bool, len(all))
	pure := newPurity(len(all))
	for _, sigma := range [2]float64{fineSigma, 0.25 * c.pxMM} {
		found := findRidges(all, p.w, p.h, max(sigma, fineSigma), surelyLine)
		c.keepPieces(found, all, brown, lines, pure)
	}
	grown := spreadOver(lines, p.w, p.h, int(widestRootMM/2*c.pxMM+0.5), func(i int) bool { return all[i] >= perhapsShare })
	c.dropRound(grown)
	for i := range grown {
		grown[i] = grown[i] && c.inside[i]
	}
	return dilate(dilate(grown, p.w, p.h), p.w, p.h), pure.over(p.w, p.h, int(0.7*c.pxMM+0.5))
}

// dropRound takes out pieces that stand alone and are round: perlite, droplets and glints. A round thing fills π/4 of the
// square of its extent, a root far less.
func (c *rootCell) dropRound(on []bool) {
	w := c.p.w
	eachPiece(on, w, c.p.h, func(piece []int32) {
		x0, x1, y0, y1 := w, 0, c.p.h, 0
		for _, i := range piece {
			x, y := int(i)%w, int(i)/w
			x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
		}
		extent := math.Max(float64(x1-x0+1), float64(y1-y0+1))
		if extent < 4*c.pxMM && float64(len(piece)) > 0.4*extent*extent {
			clearAll(on, piece)
		}
	})
}

// keepPieces marks in lines the pieces of centre line that are long and clear enough to be root.
func (c *rootCell) keepPieces(r *ridges, all, brown []float32, lines []bool, pure *purity) {
	for _, piece := range r.pieces() {
		length, crest := 0.0, make([]float32, 0, len(piece))
		for _, i := range piece {
			length += float64(r.weight[i])
			crest = append(crest, all[i])
		}
		mm := length / c.pxMM
		clear := quantile(crest, 0.5)
		if mm < leastPieceMM || clear < faintCrest || mm < longPieceMM && clear < leastCrest {
			continue
		}
		for _, i := range piece {
			if c.inside[i] {
				lines[i] = true
				if brown[i] < 0.6*all[i] {
					continue
				}
				level, ok := crestLevel(all, c.p.w, c.p.h, i, r.nx[i], r.ny[i], c.blurPx)
				pure.add(i, level, ok)
			}
		}
	}
}

func (c *rootCell) addUp(k ink, white, brown []float32, support []bool) {
	p := c.p
	c.plug.Root = Share{p.rect, make([]uint8, len(white))}
	c.plug.Brown = Share{p.rect, make([]uint8, len(white))}
	share := make([]float32, len(white)) // root on the support, not yet held to a pixel's whole
	var sum, dis, edgeSum float64
	for i, ok := range support {
		if !ok || !c.inside[i] {
			continue
		}
		share[i] = white[i] + brown[i]
		a := min(1, share[i])
		b := float32(0)
		if a > 0 && brown[i] > 0 {
			b = min(a, a*brown[i]/(max(white[i], 0)+brown[i]))
		}
		area := float64(p.area[i])
		sum += float64(float64(a) * area)
		dis += float64(float64(b) * area)
		edgeSum += area
		a, b = max(0, a), max(0, b)
		c.plug.Root.A[i], c.plug.Brown.A[i] = uint8(a*255+0.5), uint8(b*255+0.5)
	}
	c.plug.RootMM2, c.plug.BrownMM2 = math.Max(0, sum), dis
	c.plug.RootUMM2 = c.doubtMM2(k, sum-dis, dis, edgeSum)
	c.plug.LengthMM = c.lengthMM(share, support)
}
