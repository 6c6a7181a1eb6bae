// Package foliage draws parts of canopies in space: stems and stalks as tubes, blades as bent surfaces, seen from straight above
// through a depth buffer, under one lamp with its shadows and the sky. What each texel truly shows follows from which surface is on top.
package foliage

import (
	"math"
	"math/rand/v2"

	"traygauge/vision/scene/closeup"
)

// Leaves draws a part of a canopy, 170.7 mm across, as closeup.NewLeaves(1024, 6): all that one lamp and the sky show of it, and
// what each texel is. The same random numbers give the same drawing.
func Leaves(r *rand.Rand) *closeup.Leaves {
	s := drawScene(dice{r})
	return s.show(s.bed.lay(s.dice, s.land))
}

// drawScene draws at random all that a drawing shows. More than half of the scenes are ordinary: green leafy vegetables in a dark tray.
func drawScene(d dice) *scene {
	ordinary := d.chance(0.55)
	b := drawBed(d, ordinary)
	s := &scene{land: land{drawTrays(d, &b), -b.bench.drop}, lamp: drawLamp(d), mesh: &mesh{}, dice: d.own()}
	s.bed = b
	s.sow(d, drawSowing(d, ordinary, b.tray.pitch))
	if d.chance(0.1) {
		s.addTags(d)
	}
	return s
}

func drawBed(d dice, plain bool) bed {
	b := bed{tray: drawTray(d, plain), plastic: drawPlastic(d, plain), medium: drawMedium(d, plain), film: drawFilm(d), bench: drawBench(d),
		seed: d.IntN(1 << 20), uneven: d.between(0, 2.5), patchy: d.between(0, 0.35)}
	if d.chance(0.1) {
		b.hollow = d.between(0.02, 0.3)
	}
	return b
}

// drawTrays says which trays are in sight: the edge of the one in the middle in some scenes, and there often the next one's.
func drawTrays(d dice, b *bed) []tray {
	if !d.chance(0.22) {
		return []tray{b.tray}
	}
	where := d.IntN(4)
	b.tray.cut(d, where)
	if d.chance(0.2) {
		b.tray.cut(d, (where+1)%4)
	}
	if d.chance(0.25) {
		b.bench.card = drawCard(d, where)
	}
	if d.chance(0.5) {
		return []tray{b.tray, b.tray.beside(d, where, d.scaled(0.5, 25))}
	}
	return []tray{b.tray}
}

// drawCard lays a card on a side of the tray.
func drawCard(d dice, where int) *card {
	c := card{turn: 0.1 * d.bell(), wide: d.between(80, 160), high: d.between(50, 110), seed: d.between(0, 99)}
	along, out := d.between(-40, 90), d.between(2, 30)
	switch where {
	case 0:
		c.x, c.y = out-c.wide, along
	case 1:
		c.x, c.y = along, out-c.high
	case 2:
		c.x, c.y = across-out, along
	default:
		c.x, c.y = along, across-out
	}
	return &c
}

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
	at := stage(d.pick(0.15, 0.28, 0.3, 0.27))
	if at == closed {
		w.gaps *= 0.4
		w.uneven = w.uneven && d.chance(0.5)
	}
	share := [...][2]float64{{0.22, 0.55}, {0.45, 0.78}, {0.75, 1.1}, {1.1, 1.75}}[at]
	w.reach = clamp(pitch*d.between(share[0], share[1]), 3.5, [...]float64{20, 42, 60, 70}[at])
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
		w.stands = append(w.stands, s)
	}
	return w
}

// sow grows a plant in the cells of all trays whose leaves or shadows may reach into the drawing.
func (s *scene) sow(d dice, w sowing) {
	cells := s.cellsWithin(1.4*w.reach + min(20, w.reach))
	for margin := 1.4 * w.reach; len(cells) > mostPlants; margin *= 0.9 {
		cells = s.cellsWithin(margin)
	}
	for _, c := range cells {
		if !d.chance(w.gaps) {
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
	index, mean := int32(len(s.bases)), vec{}
	for range shoots {
		off, turn := min(w.stray*math.Sqrt(d.Float64()), w.stray)*0.8*d.Float64(), d.between(0, 2*math.Pi)
		x, y := t.middle[0]+float64(i)*t.pitch+off*math.Cos(turn), t.middle[1]+float64(j)*t.pitch+off*math.Sin(turn)
		c := t.cell(x, y)
		base := vec{x, y, t.medium(c) - 0.5}
		p := plant{stand: &stand, d: d, mesh: s.mesh, index: index, reach: max(2.5, w.reach*size*math.Pow(0.8, float64(shoots-1)))}
		p.grow(base)
		mean = mean.plus(base.times(1 / float64(shoots)))
	}
	s.bases = append(s.bases, [2]float64{mean.x, mean.y})
}
