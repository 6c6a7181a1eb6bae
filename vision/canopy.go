package vision

import (
	"fmt"
	"image"
	"math"
)

// LeafOptions say what the plan knows of the leaves.
type LeafOptions struct {
	HeightMM        float64 // of the leaves above the card's plane
	ChlorosisHueDeg float64 // leaf of a lower hue is yellow …
	ChlorosisChroma float64 // … when its chroma is above this
}

// canopy is the work on one shoots photo.
type canopy struct {
	s     *Scene
	t     Tray
	o     LeafOptions
	grid  Grid
	plane Plane // of the leaves
	pxMM  float64

	rect  image.Rectangle
	w, h  int
	green []float32 // 2G − R − B in white-balanced linear light
	share []uint8   // how much of each pixel is leaf
	inner []bool    // leaf right through
	label []uint8   // 1 + index of the plant

	covered map[uint8]bool // by 1 + index: no plant seen, and the cell's middle lies under leaf
}

// overhangMM is how far beyond the tray's edge its own leaves are followed.
const overhangMM = 30

// Leaves finds the leaves of a tray's canopy and gives each to the plug that it grows from, in reading order. The scene must
// show the shoots face.
func (s *Scene) Leaves(t Tray, o LeafOptions) (*Canopy, Grid, error) {
	if t.Rows < 1 || t.Columns < 1 || t.PitchMM <= 0 || t.Rows*t.Columns > 254 {
		return nil, Grid{}, fmt.Errorf("a tray of %d × %d plugs, %g mm apart: give its true shape in trial.yaml", t.Rows, t.Columns, t.PitchMM)
	}
	near := s.overview(t)
	defer near.Close()
	c := &canopy{s: s, t: t, o: o, grid: s.fitGrid(near, t)}
	lap("grid")
	raised, ok := s.Plane.Raised(o.HeightMM)
	c.plane = raised
	c.frame()
	if c.w < 16 || c.h < 16 {
		return nil, c.grid, refuse("tray cut off", "step back until the whole tray shows", "the tray is not in the photo")
	}
	c.findLeaf()
	lap("leaf")
	c.assign()
	lap("assign")
	out := c.gather()
	lap("sums")
	out.HeightUsed = ok
	return out, c.grid, nil
}

// frame takes the part of the photo that shows the tray and its overhanging leaves.
func (c *canopy) frame() {
	t := c.t
	first := true
	for _, p := range [4][2]float64{{-overhangMM, -overhangMM}, {t.LengthMM + overhangMM, -overhangMM},
		{t.LengthMM + overhangMM, t.WidthMM + overhangMM}, {-overhangMM, t.WidthMM + overhangMM}} {
		u, v := c.grid.place(t, p[0], p[1])
		q := c.plane.ToPx(c.s.TrayPoint(u, v))
		if !(math.Abs(q.X) < 1e6 && math.Abs(q.Y) < 1e6) {
			return
		}
		pt := image.Rect(int(q.X), int(q.Y), int(q.X)+1, int(q.Y)+1)
		if first {
			c.rect, first = pt, false
		} else {
			c.rect = c.rect.Union(pt)
		}
	}
	c.rect = c.rect.Intersect(c.s.Photo.Bounds())
	c.w, c.h = c.rect.Dx(), c.rect.Dy()
	c.pxMM = c.plane.PxPerMM(c.s.TrayPoint(t.LengthMM/2, t.WidthMM/2))
}

// findLeaf fills share and inner.
//
// Light from a pixel that is part leaf, part ground is a mixture of both in linear light, and so is any linear function of
// it. 2G − R − B is one that every leaf has much of, green or yellow, and that medium, tray, paper, wood and white gloss
// have hardly any of: its share between ground and leaf is the pixel's share of leaf.
func (c *canopy) findLeaf() {
	c.fillGreen()
	r := max(1, int(0.25*c.pxMM+0.5))
	mean := boxBlur(c.green, c.w, c.h, r)
	squares := make([]float32, len(c.green))
	for i, g := range c.green {
		squares[i] = g * g
	}
	meanSq := boxBlur(squares, c.w, c.h, r)
	level, floor := leafLevels(mean, meanSq)
	// a share of the leaf's green, but clear of the algae's by a factor
	above := func(share, clear float32) float32 { return max(share*level, clear*floor) }
	even, core := make([]bool, len(mean)), make([]bool, len(mean))
	for i, m := range mean {
		even[i] = m > above(0.3, 1.25) && smooth(m, meanSq[i])
		core[i] = even[i] && m > above(0.45, 1.5)
	}
	core = c.dropSmall(core)
	core = spreadOver(core, c.w, c.h, int(c.pxMM+0.5), func(i int) bool { return even[i] })
	c.settle(core, level, above(0.25, 1.1))
}

// mostUneven is the greatest ratio of deviation to mean inside a leaf over half a millimetre: a leaf is smooth but for its
// veins, algae are grains on dark medium.
const mostUneven = 0.35

func smooth(mean, meanSq float32) bool {
	v := meanSq - mean*mean
	return v < mostUneven*mostUneven*mean*mean
}

// leastLeaf is the least 2G − R − B of any leaf, 1 for paper: a dark leaf in half shade.
const leastLeaf = 0.03

// leafLevels returns the usual green of leaf, and that of algae where the photo shows any, else 0. All that is smooth and green
// enough is parted in two by Otsu's threshold on the logarithm (Otsu 1979, IEEE Trans. SMC 9, 62-66). Leaves differ among
// each other by less than algaeFar; where the two parts differ by more, the darker one is algae on dark medium.
func leafLevels(mean, meanSq []float32) (leaf, algae float32) {
	var v []float32
	for i := 0; i < len(mean); i += 5 {
		if mean[i] > leastLeaf && smooth(mean[i], meanSq[i]) {
			v = append(v, mean[i])
		}
	}
	if len(v) < 20 {
		return 10 * leastLeaf, 0
	}
	cut := otsu(v)
	var low, high []float32
	for _, x := range v {
		if x < cut {
			low = append(low, x)
		} else {
			high = append(high, x)
		}
	}
	if len(low) > 0 && len(high) > 0 {
		if l, h := quantile(low, 0.5), quantile(high, 0.5); h > algaeFar*l {
			return float32(h), float32(l)
		}
	}
	return float32(quantile(v, 0.5)), 0
}

const algaeFar = 2.2

// otsu returns the value that parts v into two classes with the greatest variance between their logarithms' means.
func otsu(v []float32) float32 {
	const bins = 128
	lo, hi := math.Log(leastLeaf), math.Log(4.0)
	var n, s [bins]float64
	for _, x := range v {
		l := math.Log(float64(x))
		k := min(bins-1, max(0, int((l-lo)/(hi-lo)*bins)))
		n[k]++
		s[k] += l
	}
	var total, sum, below, belowSum, best float64
	for k := range n {
		total, sum = total+n[k], sum+s[k]
	}
	cut := 0
	for k := range bins - 1 {
		below, belowSum = below+n[k], belowSum+s[k]
		if below == 0 || below == total {
			continue
		}
		if d := below * (total - below) * sq(belowSum/below-(sum-belowSum)/(total-below)); d > best {
			best, cut = d, k+1
		}
	}
	return float32(math.Exp(lo + (hi-lo)*float64(cut)/bins))
}

func (c *canopy) fillGreen() {
	c.green = make([]float32, c.w*c.h)
	gain := c.s.Light.ToPaper
	var lutR, lutG, lutB [256]float32
	for i, l := range linearOf {
		lutR[i], lutG[i], lutB[i] = -l*gain[0], 2*l*gain[1], -l*gain[2]
	}
	cardMask := c.cardCover()
	for y := range c.h {
		src := c.s.Photo.BGR[c.s.Photo.at(c.rect.Min.X, c.rect.Min.Y+y):]
		row := c.green[y*c.w : (y+1)*c.w]
		for x := range row {
			row[x] = lutB[src[3*x]] + lutG[src[3*x+1]] + lutR[src[3*x+2]]
		}
		for x := range row {
			if cardMask(x, y) {
				row[x] = 0
			}
		}
	}
}

// cardCover tells which pixels show the card, whose patches are as green as leaves.
func (c *canopy) cardCover() func(x, y int) bool {
	q := c.s.CardOutline()
	y0, y1 := math.Inf(1), math.Inf(-1)
	for _, p := range q {
		y0, y1 = math.Min(y0, p.Y), math.Max(y1, p.Y)
	}
	return func(x, y int) bool {
		fx, fy := float64(c.rect.Min.X+x), float64(c.rect.Min.Y+y)
		if fy < y0 || fy > y1 {
			return false
		}
		for i := range q {
			a, b := q[i], q[(i+1)%4]
			if (b.X-a.X)*(fy-a.Y)-(b.Y-a.Y)*(fx-a.X) < 0 {
				return false
			}
		}
		return true
	}
}

// dropSmall takes out pieces of less than 3 mm²: the smallest seed leaf is larger (common practice, no source).
func (c *canopy) dropSmall(on []bool) []bool {
	least := int(3 * c.pxMM * c.pxMM)
	eachPiece(on, c.w, c.h, func(piece []int32) {
		if len(piece) < least {
			clearAll(on, piece)
		}
	})
	return on
}

// settle spreads from the cores over what is green enough, and gives each pixel its share: 1 inside, and at the rim the
// green there over that of the leaf near by.
func (c *canopy) settle(core []bool, level, least float32) {
	reach := int(0.8*c.pxMM + 0.5)
	leaf := spreadOver(core, c.w, c.h, reach, func(i int) bool { return c.green[i] > least })
	c.addBrownRims(leaf)
	c.inner = erode(erode(leaf, c.w, c.h), c.w, c.h)
	r := max(2, int(0.6*c.pxMM+0.5))
	sum, n := make([]float32, len(leaf)), make([]float32, len(leaf))
	for i, in := range c.inner {
		if in {
			sum[i], n[i] = c.green[i], 1
		}
	}
	sum, n = boxBlur(sum, c.w, c.h, r), boxBlur(n, c.w, c.h, r)
	rim := dilate(dilate(leaf, c.w, c.h), c.w, c.h)
	c.share = make([]uint8, len(leaf))
	for i, ok := range rim {
		switch {
		case !ok:
		case c.inner[i]:
			c.share[i] = 255
		default:
			full := level
			if n[i] > 1e-4 {
				full = sum[i] / n[i]
			}
			a := c.green[i] / max(full, leastLeaf)
			c.share[i] = uint8(255*min(1, max(0, a)) + 0.5)
		}
	}
}

// addBrownRims adds dead, brown tips and rims that hang on to leaf: far redder than they are green, which medium and wood are
// not, and not dark.
func (c *canopy) addBrownRims(leaf []bool) {
	gain := c.s.Light.ToPaper
	brown := func(i int) bool {
		p := c.s.Photo.light(c.s.Photo.at(c.rect.Min.X+i%c.w, c.rect.Min.Y+i/c.w)).scaled(gain)
		return p[0] > 2*p[1] && p[0]-p[2] > 0.06
	}
	copy(leaf, spreadOver(leaf, c.w, c.h, int(8*c.pxMM), brown))
}
