// Package plants draws sorts of plants and grows one in each cell of the trays: their forms, leaf by leaf, as surfaces in the mesh. In go
// the trays and which cells have no medium; out come surfaces, and where each plant leaves the medium. It knows nothing of light, ground
// and what is seen.
package plants

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/skin"
	"traygauge/vision/synth/foliage/surface"
	"traygauge/vision/synth/foliage/tray"
)

// sowing is what stands in the trays.
type sowing struct {
	stands  []stand // sorts, and the same sort otherwise treated
	reach   float64 // mm, of a usual plant
	scatter float64 // of the reach, as a share
	uneven  bool    // strong differences between neighbours
	gaps    float64 // share of cells without a plant
	stray   float64 // mm from a cell's middle to a base
}

// drawSowing draws what stands in a tray, or on open ground.
func drawSowing(d num.Dice, plain bool, t *tray.Tray) sowing {
	pitch := t.Pitch
	w := sowing{scatter: d.Between(0.12, 0.35), uneven: d.Chance(0.3), gaps: d.Between(0, 0.2), stray: min(9, pitch/4)}
	if d.Chance(0.4) {
		w.gaps = 0
	}
	at := stage(d.Pick(0.26, 0.21, 0.25, 0.28))
	if at == closed {
		w.gaps *= 0.4
		w.uneven = w.uneven && d.Chance(0.5)
	}
	share := [...][2]float64{{0.22, 0.55}, {0.45, 0.78}, {0.75, 1.1}, {1.1, 2.1}}[at]
	w.reach = num.Clamp(pitch*d.Between(share[0], share[1]), 3.5, [...]float64{20, 42, 56, 72}[at])
	if at == seedLeaves && d.Chance(0.5) {
		w.reach = d.Scaled(2.5, 9)
	}
	n := 1
	if d.Chance(0.08) {
		n = 2
	}
	s := stand{stage: at, Looks: skin.Looks{Health: skin.DrawHealth(d)}}
	if d.Chance(0.2) {
		s.Wet = d.Scaled(2, 60)
	}
	if d.Chance(0.15) {
		s.eaten = d.Scaled(0.03, 0.7)
	}
	for range n {
		s.crop, s.Complexion = drawCrop(d, plain || d.Chance(0.35)), skin.DrawComplexion(d, plain)
		if t.Field && d.Chance(0.75) {
			grasses(&s.crop, d)
			s.crop.wide = d.Scaled(0.6, 4)
		}
		if s.crop.habit == strap {
			s.grassland(d, &w, pitch)
		}
		if at == seedLeaves && d.Chance(0.6) {
			s.Complexion.Pallor(d)
		}
		w.stands = append(w.stands, s)
	}
	return w
}

// grassland turns most drawings of grasses into a canopy of blades that lie over each other every way.
func (s *stand) grassland(d num.Dice, w *sowing, pitch float64) {
	if d.Chance(0.8) {
		s.Complexion.Grassy(d)
	}
	if d.Chance(0.6) {
		s.stage, w.gaps, w.reach = closed, 0, num.Clamp(pitch*d.Between(1, 2.4), 18, 85)
	}
}

// mostPlants is how many a drawing has at most: its labels number them in a byte.
const mostPlants = 250

// field is where plants grow.
type field struct {
	*tray.Land
	mesh  *surface.Mesh
	bases [][2]float64
}

// Sow draws what stands in the trays and grows a plant in each cell whose leaves or shadows may reach into the drawing, but where
// empty says that there is no medium. It adds them to the mesh and returns where they leave the medium, mm.
func Sow(d num.Dice, ordinary bool, l *tray.Land, empty func(i, j int) bool, m *surface.Mesh) [][2]float64 {
	f := &field{Land: l, mesh: m}
	w := drawSowing(d, ordinary, &l.Trays[0])
	cells := f.cellsWithin(1.4*w.reach + min(20, w.reach))
	for margin := 1.4 * w.reach; len(cells) > mostPlants; margin *= 0.9 {
		cells = f.cellsWithin(margin)
	}
	for _, c := range cells {
		if !d.Chance(w.gaps) && (c.tray.Block || !empty(c.i, c.j)) {
			f.sowCell(d.Own(), w, c.tray, c.i, c.j)
		}
	}
	return f.bases
}

type trayCell struct {
	tray *tray.Tray
	i, j int
}

// cellsWithin lists the cells of all trays whose middles lie within a margin round the drawing, mm.
func (f *field) cellsWithin(margin float64) []trayCell {
	var cells []trayCell
	for n := range f.Trays {
		t := &f.Trays[n]
		first := func(axis int) int { return max(t.Low[axis], int(math.Ceil((-margin-t.Middle[axis])/t.Pitch))) }
		last := func(axis int) int {
			return min(t.High[axis], int(math.Floor((num.Across+margin-t.Middle[axis])/t.Pitch)))
		}
		for j := first(1); j <= last(1); j++ {
			for i := first(0); i <= last(0); i++ {
				cells = append(cells, trayCell{t, i, j})
			}
		}
	}
	return cells
}

// sowCell grows one plant in a cell, or now and then two or three that count as one.
func (f *field) sowCell(d num.Dice, w sowing, t *tray.Tray, i, j int) {
	stand := w.stands[d.IntN(len(w.stands))]
	stand.floor = f.Floor
	size := num.Clamp(1+w.scatter*d.Bell(), 0.3, 1.5)
	if w.uneven {
		size *= d.Between(0.4, 1.2)
	} else if d.Chance(0.05) {
		size *= d.Between(0.25, 0.6)
	}
	shoots := 1
	if d.Chance(0.03) {
		shoots = d.Whole(2, 3)
	}
	reach := max(2.5, w.reach*size*math.Pow(0.8, float64(shoots-1)))
	if stand.crop.habit == strap && stand.stage == closed {
		shoots = d.Whole(1, 5) // a tuft
	}
	index, mean := int32(len(f.bases)), num.Vec{}
	for range shoots {
		off, turn := min(w.stray*math.Sqrt(d.Float64()), w.stray)*0.8*d.Float64(), d.Between(0, 2*math.Pi)
		x, y := t.Middle[0]+float64(i)*t.Pitch+off*math.Cos(turn), t.Middle[1]+float64(j)*t.Pitch+off*math.Sin(turn)
		c := t.Cell(x, y)
		base := num.At(x, y, t.Medium(c)-0.5)
		p := plant{stand: &stand, d: d, mesh: f.mesh, index: index, reach: reach}
		p.grow(base)
		mean = mean.Plus(base.Times(1 / float64(shoots)))
	}
	f.bases = append(f.bases, [2]float64{mean.X, mean.Y})
}
