package vision

import "math"

// ink is what pure root looks like in one photo: white to cream, and brown where there is any.
type ink struct {
	white, brown RGB
	hasBrown     bool
	vary         float64 // standard deviation of pure white root's luminance over its mean
	brownVary    float64 // the same of brown root
}

// inkOf estimates the colours of pure root over a photo. Pixels whose whole neighbourhood is far lighter than medium are
// root right through; the warmer of them are brown.
func inkOf(plugs []*rootCell, l levels) ink {
	var white, brown []RGB
	for _, c := range plugs {
		white, brown = c.pureRoot(l, white, brown)
	}
	k := ink{white: RGB{0.6, 0.55, 0.45}, vary: 0.2} // cream; only where no root wide enough is in view
	if len(white) >= 15 {
		k.white = medianLight(white)
		k.vary = relativeSpread(white)
	}
	if len(brown) >= 50 {
		k.brown, k.hasBrown = medianLight(brown), true
		k.brownVary = relativeSpread(brown)
	}
	return k
}

// brownWarmth parts cream from tan and brown: cream root in linear light has a warmth near 0.1, the card's printed brown
// 0.47 and tan about 0.3.
const brownWarmth = 0.24

// pureRoot looks at one pixel in four, and adds those that are root right through.
func (c *rootCell) pureRoot(l levels, white, brown []RGB) ([]RGB, []RGB) {
	p := c.p
	lw := float64(c.medium.luminance())
	lightEnough := float32(math.Max(lw+6*c.spread, l.cut))
	red := newMixer(RGB{1, 0, 0}, c.gain, 0)
	redEnough := float32(float64(c.medium[0]) + 3*c.spread + 0.05)
	for y := 2; y < p.h-2; y += 2 {
		codes := p.row(c.photo, y)
		for x := 2; x < p.w-2; x += 2 {
			if !p.inside[y*p.w+x] || linearOf[codes[3*x+2]]*c.gain[0] < redEnough {
				continue
			}
			at := c.lightAt(x, y)
			switch w := warmth(at[0], at[1], at[2]); {
			case w < brownWarmth:
				if c.least(x, y, c.lum) > lightEnough {
					white = append(white, at)
				}
			case w > brownWarmth+0.04 && at[0] > at[1]*1.2:
				if c.least(x, y, red) > redEnough {
					brown = append(brown, at)
				}
			}
		}
	}
	return white, brown
}

// least is the least value of m in the 3 × 3 pixels around one that is not at the patch's border.
func (c *rootCell) least(x, y int, m *mixer) float32 {
	v := float32(math.MaxFloat32)
	for j := y - 1; j <= y+1; j++ {
		codes := c.p.row(c.photo, j)
		for i := x - 1; i <= x+1; i++ {
			v = min(v, m.at(codes, 3*i))
		}
	}
	return v
}

// relativeSpread is the quartiles' distance of luminance over its median, as a normal deviation (0.7413 of the distance).
func relativeSpread(c []RGB) float64 {
	v := make([]float32, len(c))
	for i := range c {
		v[i] = c[i].luminance()
	}
	return 0.7413 * (quantile(v, 0.75) - quantile(v, 0.25)) / quantile(v, 0.5)
}

// creamLight is the luminance of healthy root, white to cream, over that of paper: CIELAB L* of 75 to 85, which is Y of 0.48
// to 0.66 (common practice, no source).
const creamLight = 0.58

// creamVary is the relative standard deviation of creamLight, from its range taken as two deviations each way.
const creamVary = 0.08

// temper draws the white ink towards creamLight by how little the photo itself tells. Where roots are wide against the blur,
// pixels that are root right through show the roots' own mean, shade and all. Where they are not, those pixels are still
// mixed with medium and too dark, and would make every root too large.
func (k *ink) temper(plugs []*rootCell) {
	var wide, all int
	const enough = 12 // plugs, spread over the tray
	for i := 0; i < len(plugs); i += max(1, len(plugs)/enough) {
		w, n := plugs[i].wideCrests(*k)
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
		medium := mediumOf(plugs)
		k.brown = medium.plus(k.brown.minus(medium).times(float32(m)))
	}
	k.vary = math.Hypot(k.vary, (1-told)*creamVary)
}

// wideCrests returns how many of all white crest points looked at lie on roots at least 1.8 times as wide as the blur alone
// would make them. Short pieces of line are left out: specks and perlite are no roots.
func (c *rootCell) wideCrests(k ink) (wide, all int) {
	share := c.unmix(k)
	defer share.Close()
	found := findCrests(share.all, fineSigma)
	own := float32(2.355 * c.blurPx)
	for _, piece := range found.pieces() {
		if float64(len(piece)) < longPieceMM*c.pxMM {
			continue
		}
		for _, n := range piece {
			at := &found.list[n]
			if share.all.v[at.i] <= 0.4 || share.brown.v[at.i] > share.all.v[at.i]/3 {
				continue
			}
			all++
			if share.all.widthAt(at) >= 1.8*own {
				wide++
			}
		}
	}
	return wide, all
}
