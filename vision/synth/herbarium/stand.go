package herbarium

import "math"

// mostPlants is how many plants a drawing can tell apart.
const mostPlants = 250

// stand is how the drawing's trays are planted. Lengths in mm.
type stand struct {
	stage    stage
	reach    float64
	grown    float64
	scatter  float64 // relative, of the plants' sizes
	contrast bool    // small plants stand under large ones
	empty    float64 // share of the cells without a plant
	crops    []*grower
	off      float64 // how far plants stand from their cell's middle
}

// standOf draws a stand for a tray with cells pitch mm apart.
func standOf(d dice, pitch, perMM float64, plain bool) *stand {
	s := &stand{
		stage: stage(d.pick(0.24, 0.24, 0.24, 0.28)), scatter: d.between(0.15, 0.4), contrast: d.chance(0.3),
		empty: d.some(0.7, 0, 0.2), off: min(8, 0.22*pitch) * d.between(0.1, 1),
	}
	ail := ailmentOf(d)
	kinds := 1
	if d.chance(0.12) {
		kinds = 2
	}
	for range kinds {
		c := cropOf(d, plain)
		s.crops = append(s.crops, &grower{crop: c, ailment: &ail, perMM: perMM})
	}
	switch s.stage {
	case seedlings:
		s.reach, s.grown = min(d.wide(2.2, 16), 0.6*pitch), d.between(0, 0.15)
		for _, g := range s.crops {
			if d.chance(0.6) {
				g.pallor(d)
			}
		}
	case apart:
		s.reach, s.grown = pitch*d.between(0.34, 0.62), d.between(0.12, 0.45)
	case touching:
		s.reach, s.grown = pitch*d.between(0.58, 0.95), d.between(0.4, 0.85)
	case closed:
		s.reach, s.grown = pitch*d.between(0.9, 1.9), d.between(0.7, 1)
		if d.chance(0.5) {
			s.empty = 0
		}
	}
	if s.crops[0].habit == grassy && d.chance(0.6) { // a canopy of blades that lie over each other every way
		s.stage, s.empty = closed, 0
		s.reach, s.grown = max(18, pitch*d.between(0.9, 2.2)), d.between(0.6, 1)
	}
	s.reach = min(s.reach, 85)
	return s
}

// plants draws what grows in a tray: the sheets, and for each plant that reaches into the drawing its base. Plants are numbered on
// from the bases given.
func (s *stand) plants(d dice, t *tray, side int, bases [][2]float64) ([]sheet, [][2]float64) {
	var out []sheet
	for _, at := range t.cellsNear(side, 1.3*s.reach*t.perMM) {
		one := d.split()
		if one.chance(s.empty) || t.kind(at).bare || len(bases) == mostPlants {
			continue
		}
		middle := t.cell(at)
		sheets, base := s.inCell(one, t, at, middle, uint8(len(bases)+1))
		if !inside(base, side) && !reachesIn(sheets, side) {
			continue
		}
		out, bases = append(out, sheets...), append(bases, [2]float64{base.x, base.y})
	}
	return out, bases
}

// inCell draws the plant of one cell, which now and then is two or three seedlings.
func (s *stand) inCell(d dice, t *tray, at [2]int, middle point, plant uint8) ([]sheet, point) {
	g := s.crops[(at[0]/3+64)%len(s.crops)]
	together := 1
	if d.chance(0.03) {
		together = 2 + d.IntN(2)
	}
	shrunk := math.Sqrt(float64(together))
	if g.habit == grassy && s.stage == closed {
		together, shrunk = 1+d.IntN(4), 1 // a tuft
	}
	var out []sheet
	var mean point
	for range together {
		away := heading(d.angle()).times(s.off * math.Sqrt(d.Float64()) * t.perMM)
		size := s.size(d) / shrunk
		one := sown{base: middle.plus(away), z: t.mediumAt(at), reach: max(2, s.reach*size), grown: s.grown * min(1.2, size), stage: s.stage, plant: plant}
		out = append(out, g.plant(d, &one)...)
		mean = mean.plus(one.base.times(1 / float64(together)))
	}
	return out, mean
}

// size draws a plant's size over the stand's.
func (s *stand) size(d dice) float64 {
	v := d.around(1, s.scatter)
	switch {
	case d.chance(0.06):
		v *= d.between(0.3, 0.6) // a runt
	case s.contrast && d.chance(0.4):
		v *= d.between(0.3, 0.65)
	case s.contrast:
		v *= 1.2
	}
	return max(0.15, v)
}

func inside(p point, side int) bool {
	return p.x >= 0 && p.y >= 0 && p.x < float64(side) && p.y < float64(side)
}

// reachesIn reports whether any sheet's outline has a corner in the drawing.
func reachesIn(sheets []sheet, side int) bool {
	for i := range sheets {
		for _, g := range sheets[i].outlines() {
			for _, p := range g {
				if inside(p, side) {
					return true
				}
			}
		}
	}
	return false
}
