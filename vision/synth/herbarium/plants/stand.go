// Package plants draws crops and grows one plant in each cell of a tray, leaf by leaf, as sheets to be laid on the canvas. In go the trays'
// grids; out come sheets and where each plant stands. It knows nothing of ground, things and light.
package plants

import (
	"math"

	"traygauge/vision/synth/herbarium/grid"
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/skin"
)

// mostPlants is how many plants a drawing can tell apart.
const mostPlants = 250

// Stand is how the drawing's trays are planted. Lengths in mm.
type Stand struct {
	stage    stage
	reach    float64
	grown    float64
	scatter  float64 // relative, of the plants' sizes
	contrast bool    // small plants stand under large ones
	empty    float64 // share of the cells without a plant
	crops    []*grower
	off      float64 // how far plants stand from their cell's middle
}

// StandOf draws a stand for a tray with cells pitch mm apart.
func StandOf(d num.Dice, pitch, perMM float64, plain bool) *Stand {
	s := &Stand{
		stage: stage(d.Pick(0.24, 0.24, 0.24, 0.28)), scatter: d.Between(0.15, 0.4), contrast: d.Chance(0.3),
		empty: d.Some(0.7, 0, 0.2), off: min(8, 0.22*pitch) * d.Between(0.1, 1),
	}
	ail := skin.AilmentOf(d)
	kinds := 1
	if d.Chance(0.12) {
		kinds = 2
	}
	for range kinds {
		c := cropOf(d, plain)
		s.crops = append(s.crops, &grower{crop: c, Ailment: &ail, perMM: perMM})
	}
	switch s.stage {
	case seedlings:
		s.reach, s.grown = min(d.Wide(2.2, 16), 0.6*pitch), d.Between(0, 0.15)
		for _, g := range s.crops {
			if d.Chance(0.6) {
				g.Pallor(d)
			}
		}
	case apart:
		s.reach, s.grown = pitch*d.Between(0.34, 0.62), d.Between(0.12, 0.45)
	case touching:
		s.reach, s.grown = pitch*d.Between(0.58, 0.95), d.Between(0.4, 0.85)
	case closed:
		s.reach, s.grown = pitch*d.Between(0.9, 1.9), d.Between(0.7, 1)
		if d.Chance(0.5) {
			s.empty = 0
		}
	}
	if s.crops[0].habit == grassy && d.Chance(0.6) { // a canopy of blades that lie over each other every way
		s.stage, s.empty = closed, 0
		s.reach, s.grown = max(18, pitch*d.Between(0.9, 2.2)), d.Between(0.6, 1)
	}
	s.reach = min(s.reach, 85)
	return s
}

// Plants draws what grows in a tray: the sheets, and for each plant that reaches into the drawing its base. Plants are numbered on
// from the bases given.
func (s *Stand) Plants(d num.Dice, t *grid.Grid, side int, bases [][2]float64) ([]Sheet, [][2]float64) {
	var out []Sheet
	for _, at := range t.CellsNear(side, 1.3*s.reach*t.PerMM) {
		one := d.Split()
		if one.Chance(s.empty) || t.Kind(at).Bare || len(bases) == mostPlants {
			continue
		}
		middle := t.Cell(at)
		sheets, base := s.inCell(one, t, at, middle, uint8(len(bases)+1))
		if !inside(base, side) && !reachesIn(sheets, side) {
			continue
		}
		out, bases = append(out, sheets...), append(bases, [2]float64{base.X, base.Y})
	}
	return out, bases
}

// inCell draws the plant of one cell, which now and then is two or three seedlings.
func (s *Stand) inCell(d num.Dice, t *grid.Grid, at [2]int, middle num.Point, plant uint8) ([]Sheet, num.Point) {
	g := s.crops[(at[0]/3+64)%len(s.crops)]
	together := 1
	if d.Chance(0.03) {
		together = 2 + d.IntN(2)
	}
	shrunk := math.Sqrt(float64(together))
	if g.habit == grassy && s.stage == closed {
		together, shrunk = 1+d.IntN(4), 1 // a tuft
	}
	var out []Sheet
	var mean num.Point
	for range together {
		away := num.Heading(d.Angle()).Times(s.off * math.Sqrt(d.Float64()) * t.PerMM)
		size := s.size(d) / shrunk
		one := sown{base: middle.Plus(away), z: t.MediumAt(at), reach: max(2, s.reach*size), grown: s.grown * min(1.2, size), stage: s.stage, plant: plant}
		out = append(out, g.plant(d, &one)...)
		mean = mean.Plus(one.base.Times(1 / float64(together)))
	}
	return out, mean
}

// size draws a plant's size over the stand's.
func (s *Stand) size(d num.Dice) float64 {
	v := d.Around(1, s.scatter)
	switch {
	case d.Chance(0.06):
		v *= d.Between(0.3, 0.6) // a runt
	case s.contrast && d.Chance(0.4):
		v *= d.Between(0.3, 0.65)
	case s.contrast:
		v *= 1.2
	}
	return max(0.15, v)
}

func inside(p num.Point, side int) bool {
	return p.X >= 0 && p.Y >= 0 && p.X < float64(side) && p.Y < float64(side)
}

// reachesIn reports whether any sheet's outline has a corner in the drawing.
func reachesIn(sheets []Sheet, side int) bool {
	for i := range sheets {
		for _, g := range sheets[i].Outlines() {
			for _, p := range g {
				if inside(p, side) {
					return true
				}
			}
		}
	}
	return false
}
