package vision

import "math"

// ink is what pure root looks like in one photo: white to cream, and brown where there is any.
type ink struct {
	white, brown RGB
	hasBrown     bool
	few          bool    // no pixel of the photo shows root alone
	vary         float64 // standard deviation of pure white root's luminance over its mean
	brownVary    float64 // the same of brown root
}

// inkOf estimates the colours of pure root over a photo. Pixels whose whole neighbourhood is far lighter than medium are
// root right through; the warmer of them are brown.
func inkOf(plugs []*rootCell, cut float64) ink {
	var white, brown []RGB
	for _, c := range plugs {
		white, brown = c.pureRoot(cut, white, brown)
	}
	k := ink{white: RGB{0.66, 0.58, 0.46}, few: true} // cream; only where no root wide enough is in view
	if len(white) >= 15 {
		k.white, k.vary, k.few = medianLight(white), relativeSpread(white), false
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

// rightThrough is how much of a pixel's own light the darkest of its neighbours has where all are root right through. At a root's
// rim the neighbour outside has half of it or less.
const rightThrough = 0.65

// pureRoot looks at one pixel in four away from the rim, and adds those that are root right through.
func (c *rootCell) pureRoot(cut float64, white, brown []RGB) ([]RGB, []RGB) {
	p := c.p
	lightEnough := float32(math.Max(float64(c.medium.luminance())+6*c.spread, cut))
	red := newMixer(RGB{1, 0, 0}, c.gain, 0)
	redEnough := float32(float64(c.medium[0]) + 3*c.spread + 0.05)
	for y := 2; y < p.h-2; y += 2 {
		codes := p.row(c.photo, y)
		for x := 2; x < p.w-2; x += 2 {
			if !p.inside[y*p.w+x] || p.ring[y*p.w+x] > 0 || linearOf[codes[3*x+2]]*c.gain[0] < redEnough {
				continue
			}
			at := c.lightAt(x, y)
			switch w := warmth(at[0], at[1], at[2]); {
			case w < brownWarmth:
				if m := c.least(x, y, c.lum); m > lightEnough && m > rightThrough*at.luminance() {
					white = append(white, at)
				}
			case w > brownWarmth+0.04 && at[0] > at[1]*1.2:
				if m := c.least(x, y, red); m > redEnough && m > rightThrough*at[0] {
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

// temper draws the white ink towards creamLight by how little the photo itself tells. Pixels that are root right through show the
// roots' own mean, shade and all, where the blur is small against roots. Where it is not, pixels among thin roots that lie
// close are light all around and yet part medium: an ink from those is too dark, and would make every root too large.
func (k *ink) temper(plugs []*rootCell) {
	if len(plugs) == 0 {
		return
	}
	c := plugs[len(plugs)/2]
	spread := 2.355 * c.blurPx / c.pxMM // mm, the blur's width at half height
	told := 1 / (1 + sq(mixedAt1MM*sq(spread)/creamVary))
	if k.few {
		told = 0
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

// mixedAt1MM is by how much an ink is too dark at a blur 1 mm wide, going as its square: of one and the same drawn tray, photographed
// at 6.3, 4.9 and 4.0 pixels a mm with blurs 0.30, 0.39 and 0.47 mm wide, it came out 1, 7 and 11 % too dark.
const mixedAt1MM = 0.5
