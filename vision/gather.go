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
	out := &Canopy{
		Leaf:   Share{c.rect, c.share},
		Yellow: Share{c.rect, make([]uint8, len(c.share))},
		Label:  c.label,
	}
	over := c.addUp(sums, out.Yellow.A)
	out.CoverPct = 100 * over / (c.t.LengthMM * c.t.WidthMM)
	for k := range n {
		out.Plants = append(out.Plants, c.plant(k, &sums[k+1]))
	}
	return out
}

// addUp walks the pixels once; it returns the leaf area over the tray in mm².
func (c *canopy) addUp(sums []plantSum, yellow []uint8) (over float64) {
	gain := c.s.Light.ToPaper
	limit := c.o.ChlorosisHueDeg * math.Pi / 180
	limitA, limitB := float32(math.Cos(limit)), float32(math.Sin(limit))
	chroma2 := float32(c.o.ChlorosisChroma * c.o.ChlorosisChroma)
	ph := c.s.Photo
	for y := 1; y < c.h-1; y++ {
		for x := 1; x < c.w-1; x++ {
			i := y*c.w + x
			if c.share[i] == 0 {
				continue
			}
			q := Px{float64(c.rect.Min.X + x), float64(c.rect.Min.Y + y)}
			area := float64(c.share[i]) / 255 * c.plane.PixelMM2(q.X, q.Y)
			s := &sums[c.label[i]]
			if c.label[i] != 0 {
				u, v := c.grid.back(c.t, c.s, c.plane.ToMM(q))
				if u >= 0 && v >= 0 && u <= c.t.LengthMM && v <= c.t.WidthMM {
					over += area
				}
			}
			s.area += area
			s.x, s.y = s.x+area*q.X, s.y+area*q.Y
			if r := c.label[i+1]; r != 0 && r != c.label[i] && c.label[i] != 0 {
				sums[r].shared, s.shared = true, true
			}
			if d := c.label[i+c.w]; d != 0 && d != c.label[i] && c.label[i] != 0 {
				sums[d].shared, s.shared = true, true
			}
			if !c.inner[i] {
				s.rim += area
				continue
			}
			var p RGB
			for _, j := range [5][2]int{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				p = p.plus(ph.light(ph.at(c.rect.Min.X+x+j[0], c.rect.Min.Y+y+j[1])))
			}
			p = p.scaled(gain).times(0.2)
			a, b := ab(p[0], p[1], p[2])
			s.inner += area
			s.r, s.g, s.b = s.r+area*float64(p[0]), s.g+area*float64(p[1]), s.b+area*float64(p[2])
			h := math.Atan2(float64(b), float64(a)) * 180 / math.Pi
			if h < 0 {
				h += 360
			}
			s.hue[min(719, int(2*h))] += area
			// below the limit hue and not past red: the angle from (a, b) up to the limit is between 0 and 180°
			if a*a+b*b > chroma2 && a*limitB-b*limitA > 0 {
				s.yellow += area
				yellow[i] = 255
			}
		}
	}
	return over
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
	p.LeafUMM2 = 0.05 * s.rim // the rim's pixels are right to a twentieth
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
