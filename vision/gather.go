package vision

import (
	"math"
)

// labTable holds the CIELAB curve of linear amounts in 4096 steps from 0 to 2: a step is 0.0005, under a tenth of one 8-bit code
// but in the darkest leaf.
var labTable = func() (t [4097]float32) {
	for i := range t {
		t[i] = float32(labCurve(float64(i) / 2048))
	}
	return t
}()

func labLook(v float64) float32 { return labTable[min(4096, max(0, int(v*2048+0.5)))] }

// ab returns a* and b* of linear sRGB, 1 for paper.
func ab(r, g, b float32) (float32, float32) {
	var f [3]float32
	for k := range f {
		f[k] = labLook((toXYZ[k][0]*float64(r) + toXYZ[k][1]*float64(g) + toXYZ[k][2]*float64(b)) / whiteXYZ[k])
	}
	return 500 * (f[0] - f[1]), 200 * (f[1] - f[2])
}

type plantSum struct {
	area, yellow, inner, rim float64
	hue                      [720]float64 // area by half degree
	r, g, b                  float64
	x, y                     float64
	shared                   bool
}

// gather adds up what belongs to each plant.
func (c *canopy) gather() *Canopy {
	n := c.t.Rows * c.t.Columns
	sums := make([]plantSum, n+1)
	out := &Canopy{Leaf: Share{c.rect, c.share}, Yellow: Share{c.rect, make([]uint8, len(c.share))}, Label: make([]uint8, len(c.share))}
	over := c.addUp(sums, out.Yellow.A, out.Label)
	out.CoverPct = 100 * over / (c.t.LengthMM * c.t.WidthMM)
	for k := range n {
		out.Plants = append(out.Plants, c.plant(k, &sums[k+1]))
	}
	return out
}

// sharesOf sums a block's four shares, 0 to 4·255.
func (c *canopy) sharesOf(x, y int) int {
	i := block*y*c.w + block*x
	return int(c.share[i]) + int(c.share[i+1]) + int(c.share[i+c.w]) + int(c.share[i+c.w+1])
}

// any tells whether some of a block is leaf.
func (c *canopy) any(x, y int) bool { return c.sharesOf(x, y) > 0 }

// mark gives each pixel of a block that is partly leaf a value.
func (c *canopy) mark(to []uint8, x, y int, value uint8) {
	for dy := range block {
		for dx := range block {
			if i := (block*y+dy)*c.w + block*x + dx; c.share[i] > 0 {
				to[i] = value
			}
		}
	}
}

// addUp walks the blocks once; it returns the leaf area over the tray in mm².
func (c *canopy) addUp(sums []plantSum, yellow, label []uint8) (over float64) {
	isYellow := c.yellowTest()
	at := c.newTrayRow()
	for y := range c.bh {
		at.fill(y)
		for x := range c.bw {
			shares := c.sharesOf(x, y)
			if shares == 0 {
				continue
			}
			i := y*c.bw + x
			area := float64(shares) / 255 * at.pixelMM2(x)
			s := &sums[c.label[i]]
			if c.label[i] != 0 {
				c.mark(label, x, y, c.label[i])
				if u, v := at.uv(x); u >= 0 && v >= 0 && u <= c.t.LengthMM && v <= c.t.WidthMM {
					over += area
				}
				c.noteShared(sums, x, y)
			}
			s.area += area
			s.x, s.y = s.x+area*float64(c.rect.Min.X+block*x), s.y+area*float64(c.rect.Min.Y+block*y)
			if !c.inner[i] {
				s.rim += area
				continue
			}
			p := c.light(i)
			a, b := ab(p[0], p[1], p[2])
			s.inner += area
			s.r, s.g, s.b = s.r+area*float64(p[0]), s.g+area*float64(p[1]), s.b+area*float64(p[2])
			s.hue[hueBin(a, b)] += area
			if isYellow(a, b) {
				s.yellow += area
				c.mark(yellow, x, y, 255)
			}
		}
	}
	return over
}

// noteShared marks two plants whose leaves touch.
func (c *canopy) noteShared(sums []plantSum, x, y int) {
	i := y*c.bw + x
	mine := c.label[i]
	for _, d := range [2]struct {
		step int
		ok   bool
	}{{1, x+1 < c.bw}, {c.bw, y+1 < c.bh}} {
		if !d.ok {
			continue
		}
		if other := c.label[i+d.step]; other != 0 && other != mine {
			sums[other].shared, sums[mine].shared = true, true
		}
	}
}

// yellowTest tells by a* and b* what is below the limit hue, not past red, and above the least chroma: the angle from (a, b) up to
// the limit is between 0 and 180°.
func (c *canopy) yellowTest() func(a, b float32) bool {
	sin, cos := math.Sincos(c.o.ChlorosisHueDeg * math.Pi / 180)
	limitA, limitB := float32(cos), float32(sin)
	chroma2 := float32(sq(c.o.ChlorosisChroma))
	return func(a, b float32) bool { return a*a+b*b > chroma2 && a*limitB-b*limitA > 0 }
}

// hueBin is the half degree of h_ab, 0 to 719.
func hueBin(a, b float32) int {
	h := math.Atan2(float64(b), float64(a)) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return min(719, int(2*h))
}

// leastPlantMM2 is less than the two seed leaves of a seedling that has just opened them show (common practice, no source).
const leastPlantMM2 = 4

func (c *canopy) plant(k int, s *plantSum) LeafPlant {
	row, col := k/c.t.Columns, k%c.t.Columns
	p := LeafPlant{Row: row, Col: col, HueDeg: math.NaN(), DGCI: math.NaN()}
	base := c.s.Plane
	p.Cell = c.s.cellOutline(&base, c.t, c.grid, row, col)
	for _, q := range p.Cell {
		if q.X < 0 || q.Y < 0 || q.X > float64(c.s.Photo.Width-1) || q.Y > float64(c.s.Photo.Height-1) {
			p.Cut = true
		}
	}
	if s.area < leastPlantMM2 || s.inner == 0 {
		p.Covered = c.covered[uint8(k+1)]
		p.Empty = !p.Covered
		return p
	}
	p.LeafMM2, p.Shared = s.area, s.shared
	p.YellowMM2 = s.yellow / s.inner * s.area
	p.Centre = Px{s.x / s.area, s.y / s.area}
	p.LeafUMM2 = leafRimU * s.rim
	half, run := s.inner/2, 0.0
	for i, a := range s.hue {
		if run += a; run >= half {
			p.HueDeg = (float64(i) + 0.5) / 2
			break
		}
	}
	enc := func(v float64) float64 { return FromLinear(math.Min(1, v/s.inner)) }
	p.DGCI = DGCI(enc(s.r), enc(s.g), enc(s.b))
	return p
}

// leafRimU is the share of a rim's area that is in doubt: its pixels are right to a seventh, all of them alike where the light or
// the ground is.
const leafRimU = 0.14
