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

// canopy is the work on one shoots photo. Leaf is found and told apart in blocks of block × block pixels; only at its rim does each
// pixel count with a share of its own.
type canopy struct {
	s     *Scene
	t     Tray
	o     LeafOptions
	grid  Grid
	plane Plane // of the leaves
	pxMM  float64

	rect  image.Rectangle // whole blocks
	w, h  int             // px
	share []uint8         // how much of each pixel is leaf

	bw, bh  int
	blockMM float64
	green   *raster // by block: 2G − R − B in white-balanced linear light
	inner   []bool  // by block: leaf right through
	label   []uint8 // by block: 1 + index of the plant

	covered map[uint8]bool // by 1 + index: no plant seen, and the cell's middle lies under leaf
}

// block is the side in pixels of the squares that leaf is told by: a third of a mm, no more than a thin leaf's width.
const block = 2

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
	defer c.green.Close()
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
	var q []Px
	for _, p := range [4][2]float64{{-overhangMM, -overhangMM}, {t.LengthMM + overhangMM, -overhangMM},
		{t.LengthMM + overhangMM, t.WidthMM + overhangMM}, {-overhangMM, t.WidthMM + overhangMM}} {
		u, v := c.grid.place(t, p[0], p[1])
		q = append(q, c.plane.ToPx(c.s.TrayPoint(u, v)))
	}
	c.take(boundsOf(q).Intersect(c.s.Photo.Bounds()), c.plane.PxPerMM(c.s.TrayPoint(t.LengthMM/2, t.WidthMM/2)))
}

// take settles on the whole blocks of a part of the photo, at so many pixels a mm.
func (c *canopy) take(r image.Rectangle, pxMM float64) {
	c.bw, c.bh = r.Dx()/block, r.Dy()/block
	c.w, c.h = c.bw*block, c.bh*block
	c.rect = image.Rectangle{r.Min, r.Min.Add(image.Pt(c.w, c.h))}
	c.pxMM, c.blockMM = pxMM, block/pxMM
}

// blocks returns how many blocks a length in mm is, at least least.
func (c *canopy) blocks(mm float64, least int) int { return max(least, int(mm/c.blockMM+0.5)) }

// findLeaf fills share and inner.
//
// Light from a pixel that is part leaf, part ground is a mixture of both in linear light, and so is any linear function of
// it. 2G − R − B is one that every leaf has much of, green or yellow, and that medium, tray, paper, wood and white gloss
// have hardly any of: its share between ground and leaf is the pixel's share of leaf.
func (c *canopy) findLeaf() {
	squares := c.fillGreen()
	mean, meanSq := c.green.averaged(1), squares.averaged(1)
	squares.Close()
	defer mean.Close()
	defer meanSq.Close()
	level, floor := leafLevels(mean.v, meanSq.v)
	// a share of the leaf's green, but clear of the algae's by a factor
	above := func(share, clear float32) float32 { return max(share*level, clear*floor) }
	even, core := make([]bool, len(mean.v)), make([]bool, len(mean.v))
	evenAt, coreAt := above(0.3, 1.25), above(0.45, 1.5)
	for i, m := range mean.v {
		if m > evenAt && smooth(m, meanSq.v[i]) && (m < lightGreen || c.light(i).luminance() < lightestLeaf) {
			even[i], core[i] = true, m > coreAt
		}
	}
	core = c.dropSmall(core)
	core = spreadOver(core, c.bw, c.bh, c.blocks(1, 1), func(i int) bool { return even[i] })
	c.settle(core, level, floor+0.45*(level-floor), above(0.25, 1.1))
}

// lightestLeaf is the luminance over paper's from which on something green or yellow is no leaf but plastic, a plant label for one: the
// palest yellow leaf throws back half as much as paper (common practice, no source). Below lightGreen nothing is as light.
const lightestLeaf, lightGreen = 0.55, 0.15

// mostUneven is the greatest ratio of deviation to mean inside a leaf over a millimetre: a leaf is smooth but for its
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

// fillGreen fills green, and returns the means of its squares over each block's pixels.
func (c *canopy) fillGreen() (squares *raster) {
	c.green, squares = newRaster(c.bw, c.bh), newRaster(c.bw, c.bh)
	m := newMixer(leafGreen, c.s.Light.ToPaper, 0)
	onCard := c.cardCover()
	const n = block * block
	for y := range c.bh {
		above, below := c.row(block*y), c.row(block*y+1)
		for x := range c.bw {
			i := 3 * block * x
			a, b, d, e := m.at(above, i), m.at(above, i+3), m.at(below, i), m.at(below, i+3)
			k := y*c.bw + x
			c.green.v[k], squares.v[k] = (a+b+d+e)/n, (a*a+b*b+d*d+e*e)/n
		}
		from, to := onCard(y)
		clear(c.green.v[y*c.bw+from : y*c.bw+to])
		clear(squares.v[y*c.bw+from : y*c.bw+to])
	}
	return squares
}

var leafGreen = RGB{-1, 2, -1}

// row returns the codes of a row of pixels of the frame.
func (c *canopy) row(y int) []uint8 {
	i := c.s.Photo.at(c.rect.Min.X, c.rect.Min.Y+y)
	return c.s.Photo.BGR[i : i+3*c.w]
}

// cardCover tells which blocks of a row show the card, whose patches are as green as leaves.
func (c *canopy) cardCover() func(y int) (from, to int) {
	q := c.s.CardOutline()
	return func(y int) (from, to int) {
		fy := float64(c.rect.Min.Y+block*y) + (block-1)/2.0
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range q {
			if a, b := q[i], q[(i+1)%4]; (a.Y <= fy) != (b.Y <= fy) {
				x := a.X + (b.X-a.X)*(fy-a.Y)/(b.Y-a.Y)
				lo, hi = math.Min(lo, x), math.Max(hi, x)
			}
		}
		if lo >= hi {
			return 0, 0
		}
		at := func(x float64) int { return max(0, min(c.bw, int(math.Round((x-float64(c.rect.Min.X))/block)))) }
		return at(lo), at(hi)
	}
}

// dropSmall takes out pieces of less than 3 mm²: the smallest seed leaf is larger (common practice, no source).
func (c *canopy) dropSmall(on []bool) []bool {
	least := int(3 / sq(c.blockMM))
	eachPiece(on, c.bw, c.bh, func(piece []int32) {
		if len(piece) < least {
			clearAll(on, piece)
		}
	})
	return on
}

// stalkMM is how far a stalk, too thin to be smooth, is followed from its leaf: the longest of a starter plug (common practice, no
// source).
const stalkMM = 20

// settle spreads from the cores along stalks, and over what is green enough, and gives each pixel its share: 1 inside, and at the rim the
// green there over that of the leaf near by.
func (c *canopy) settle(core []bool, level, stalk, least float32) {
	green := c.green.v
	leaf := spreadOver(core, c.bw, c.bh, c.blocks(stalkMM, 1), func(i int) bool { return green[i] > stalk })
	leaf = spreadOver(leaf, c.bw, c.bh, c.blocks(0.8, 1), func(i int) bool { return green[i] > least })
	c.addBrownRims(leaf)
	c.inner = erode(leaf, c.bw, c.bh)
	rim := dilate(leaf, c.bw, c.bh)
	full := c.nearby(func(i int) bool { return c.inner[i] }, level)
	ground := c.nearby(func(i int) bool { return !rim[i] }, 0)
	defer full.Close()
	defer ground.Close()
	m := newMixer(leafGreen, c.s.Light.ToPaper, 0)
	c.share = make([]uint8, c.w*c.h)
	for i, ok := range rim {
		if !ok {
			continue
		}
		x, y := i%c.bw, i/c.bw
		g := min(ground.v[i], full.v[i]/2)
		scale := 255 / max(full.v[i]-g, leastLeaf)
		for dy := range block {
			codes, to := c.row(block*y+dy), c.share[(block*y+dy)*c.w+block*x:]
			for dx := range block {
				if c.inner[i] {
					to[dx] = 255
				} else {
					to[dx] = uint8(min(255, max(0, scale*(m.at(codes, 3*(block*x+dx))-g))) + 0.5)
				}
			}
		}
	}
}

// nearby returns the mean green of what of lets through, within 0.6 mm of each block, and otherwise where there is none. The caller
// closes it.
func (c *canopy) nearby(of func(i int) bool, otherwise float32) *raster {
	sum, n := newRaster(c.bw, c.bh), newRaster(c.bw, c.bh)
	defer sum.Close()
	defer n.Close()
	for i, g := range c.green.v {
		if of(i) {
			sum.v[i], n.v[i] = g, 1
		}
	}
	near := c.blocks(0.6, 1)
	mean, count := sum.averaged(near), n.averaged(near)
	defer count.Close()
	for i, k := range count.v {
		if k > 1e-4 {
			mean.v[i] /= k
		} else {
			mean.v[i] = otherwise
		}
	}
	return mean
}

// light is the mean light of a block's pixels, 1 for paper.
func (c *canopy) light(i int) RGB {
	x, y := i%c.bw, i/c.bw
	var sum RGB
	for dy := range block {
		codes := c.row(block*y + dy)
		for dx := range block {
			at := 3 * (block*x + dx)
			sum = sum.plus(RGB{linearOf[codes[at+2]], linearOf[codes[at+1]], linearOf[codes[at]]})
		}
	}
	return sum.scaled(c.s.Light.ToPaper).times(1.0 / (block * block))
}

// addBrownRims adds dead, brown tips and rims that hang on to leaf: far redder than they are green, which medium and wood are
// not, and not dark. Between leaf and brown lie a block or two of both, which are neither: as far as a lens and a JPEG's colour
// reach.
func (c *canopy) addBrownRims(leaf []bool) {
	brown := func(i int) bool {
		p := c.light(i)
		return p[0] > 2*p[1] && p[0]-p[2] > 0.06
	}
	near := dilate(dilate(leaf, c.bw, c.bh), c.bw, c.bh)
	grown := spreadOver(near, c.bw, c.bh, c.blocks(8, 1), brown)
	for i := range grown {
		grown[i] = grown[i] && !leaf[i] && (!near[i] || brown(i))
	}
	beside := dilate(dilate(grown, c.bw, c.bh), c.bw, c.bh)
	for i := range leaf {
		leaf[i] = leaf[i] || grown[i] || near[i] && beside[i]
	}
}
