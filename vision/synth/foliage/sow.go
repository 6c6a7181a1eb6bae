package foliage

import "math"

// sowing is what stands in the trays.
type sowing struct {
	stands  []stand // sorts, and the same sort otherwise treated
	reach   float64 // mm, of a usual plant
	scatter float64 // of the reach, as a share
	uneven  bool    // strong differences between neighbours
	gaps    float64 // share of cells without a plant
	stray   float64 // mm from a cell's middle to a base
}

// drawSowing draws what stands in trays of a pitch in mm.
func drawSowing(d dice, plain bool, pitch float64) sowing {
	w := sowing{scatter: d.between(0.12, 0.35), uneven: d.chance(0.3), gaps: d.between(0, 0.2), stray: min(9, pitch/4)}
	if d.chance(0.4) {
		w.gaps = 0
	}
	at := stage(d.pick(0.21, 0.21, 0.28, 0.3))
	if at == closed {
		w.gaps *= 0.4
		w.uneven = w.uneven && d.chance(0.5)
	}
	share := [...][2]float64{{0.22, 0.55}, {0.45, 0.78}, {0.75, 1.1}, {1.1, 2.1}}[at]
	w.reach = clamp(pitch*d.between(share[0], share[1]), 3.5, [...]float64{20, 42, 56, 72}[at])
	if at == seedLeaves && d.chance(0.5) {
		w.reach = d.scaled(2.5, 9)
	}
	n := 1
	if d.chance(0.08) {
		n = 2
	}
	s := stand{stage: at, health: drawHealth(d)}
	if d.chance(0.2) {
		s.wet = d.scaled(2, 60)
	}
	if d.chance(0.15) {
		s.eaten = d.scaled(0.03, 0.7)
	}
	for range n {
		s.crop, s.complexion = drawCrop(d, plain || d.chance(0.35)), drawComplexion(d, plain)
		if s.crop.habit == strap {
			s.grassland(d, &w, pitch)
		}
		if at == seedLeaves && d.chance(0.6) {
			s.complexion.pallor(d)
		}
		w.stands = append(w.stands, s)
	}
	return w
}

// grassland turns most drawings of grasses into a canopy of blades that lie over each other every way.
func (s *stand) grassland(d dice, w *sowing, pitch float64) {
	if d.chance(0.8) {
		s.complexion.grassy(d)
	}
	if d.chance(0.6) {
		s.stage, w.gaps, w.reach = closed, 0, clamp(pitch*d.between(1, 2.4), 18, 85)
	}
}

// sow grows a plant in the cells of all trays whose leaves or shadows may reach into the drawing.
func (s *scene) sow(d dice, w sowing) {
	cells := s.cellsWithin(1.4*w.reach + min(20, w.reach))
	for margin := 1.4 * w.reach; len(cells) > mostPlants; margin *= 0.9 {
		cells = s.cellsWithin(margin)
	}
	for _, c := range cells {
		if !d.chance(w.gaps) && (c.tray.block || !s.bed.filling(c.i, c.j).empty) {
			s.sowCell(d.own(), w, c.tray, c.i, c.j)
		}
	}
}

type trayCell struct {
	tray *tray
	i, j int
}

// cellsWithin lists the cells of all trays whose middles lie within a margin round the drawing, mm.
func (s *scene) cellsWithin(margin float64) []trayCell {
	var cells []trayCell
	for n := range s.land.trays {
		t := &s.land.trays[n]
		first := func(axis int) int { return max(t.low[axis], int(math.Ceil((-margin-t.middle[axis])/t.pitch))) }
		last := func(axis int) int { return min(t.high[axis], int(math.Floor((across+margin-t.middle[axis])/t.pitch))) }
		for j := first(1); j <= last(1); j++ {
			for i := first(0); i <= last(0); i++ {
				cells = append(cells, trayCell{t, i, j})
			}
		}
	}
	return cells
}

// sowCell grows one plant in a cell, or now and then two or three that count as one.
func (s *scene) sowCell(d dice, w sowing, t *tray, i, j int) {
	stand := w.stands[d.IntN(len(w.stands))]
	stand.floor = s.land.floor
	size := clamp(1+w.scatter*d.bell(), 0.3, 1.5)
	if w.uneven {
		size *= d.between(0.4, 1.2)
	} else if d.chance(0.05) {
		size *= d.between(0.25, 0.6)
	}
	shoots := 1
	if d.chance(0.03) {
		shoots = d.whole(2, 3)
	}
	reach := max(2.5, w.reach*size*math.Pow(0.8, float64(shoots-1)))
	if stand.crop.habit == strap && stand.stage == closed {
		shoots = d.whole(1, 5) // a tuft
	}
	index, mean := int32(len(s.bases)), vec{}
	for range shoots {
		off, turn := min(w.stray*math.Sqrt(d.Float64()), w.stray)*0.8*d.Float64(), d.between(0, 2*math.Pi)
		x, y := t.middle[0]+float64(i)*t.pitch+off*math.Cos(turn), t.middle[1]+float64(j)*t.pitch+off*math.Sin(turn)
		c := t.cell(x, y)
		base := vec{x, y, t.medium(c) - 0.5}
		p := plant{stand: &stand, d: d, mesh: s.mesh, index: index, reach: reach}
		p.grow(base)
		mean = mean.plus(base.times(1 / float64(shoots)))
	}
	s.bases = append(s.bases, [2]float64{mean.x, mean.y})
}
