package leaves

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/tray"
)

// leastPlantMM2 is less than the two seed leaves of a seedling that has just opened them show (common practice, no source).
const leastPlantMM2 = 2.5

// hubMM is how far from its cell's middle a plant's own middle may be.
const hubMM = 9.0

// leafFloor is added to a leaf area before its relative uncertainty is taken, as in training: mm².
const leafFloor = 15.0

// canopy returns all that was found.
func (c *canopy) canopy() *Canopy {
	out := &Canopy{CoverPct: 100 * c.overMM2 / (c.t.LengthMM * c.t.WidthMM)}
	out.Leaf, out.Yellow = c.sheet.onPhoto(c.s)
	for k := range c.plants {
		out.Plants = append(out.Plants, c.plant(k))
	}
	return out
}

func (c *canopy) plant(k int) Plant {
	s := &c.plants[k]
	p := Plant{Row: k / c.t.Columns, Col: k % c.t.Columns, HueDeg: math.NaN(), DGCI: math.NaN()}
	base := c.s.Plane
	p.Cell = tray.CellOutline(c.s, &base, c.t, c.grid, p.Row, p.Col)
	p.Cut = !c.s.Photo.Holds(p.Cell)
	if s.sure < leastPlantMM2 {
		p.Covered = c.covered(p.Row, p.Col)
		p.Empty = !p.Covered
		return p
	}
	p.LeafMM2, p.YellowMM2, p.DeadMM2, p.Shared = s.area, s.yellow, s.dead, s.shared
	p.UnsureMM2, p.UnsureYellowMM2 = s.unsure, s.unsureYellow
	p.LeafUMM2 = math.Exp(s.spread/s.area) * (s.area + leafFloor)
	gu, gv := c.grid.Place(c.t, s.u/s.area, s.v/s.area)
	p.Centre = c.sheet.plane.ToPx(c.s.TrayPoint(gu, gv))
	half, run := s.area/2, 0.0
	for i, a := range s.hue {
		if run += a; run >= half {
			p.HueDeg = (float64(i) + 0.5) / 2
			break
		}
	}
	p.Own = raster.Lab{L: s.own[0] / s.area, A: s.own[1] / s.area, B: s.own[2] / s.area}
	p.DGCI = p.Own.DGCI()
	return p
}

// covered reports whether other plants' leaves lie over where a plant of this cell would stand.
func (c *canopy) covered(row, col int) bool {
	u, v := c.t.Centre(row, col)
	n, under := 0, 0
	for dv := -hubMM; dv <= hubMM; dv++ {
		for du := -hubMM; du <= hubMM; du++ {
			if du*du+dv*dv <= hubMM*hubMM {
				n++
				under += int(c.sheet.leafAt(u+du, v+dv))
			}
		}
	}
	return under > 127*n
}
