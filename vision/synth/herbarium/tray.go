package herbarium

import (
	"cmp"
	"math"
	"slices"

	"traygauge/vision/synth/closeup"
)

// tray is a grid of square cells, upright in the drawing. Lengths in mm but for the grid's.
type tray struct {
	perMM    float64
	middle   point   // of cell (0, 0), in texels
	pitch    float64 // texels
	lo, hi   [2]int  // the first and the last cell to the right and down
	half     float64 // half a cell's opening
	corner   float64 // radius of the openings' corners
	rim      float64 // from the outermost openings' pitch to the tray's border
	wall     float64 // how many mm deeper a wall goes for each mm inward
	deep     float64 // of the medium below the tray's upper side
	own      closeup.RGB
	scuffed  float64
	gloss    float64
	rough    float64
	medium   medium
	cells    [64]cellKind // by chance, for each cell one of these
	dirt     float64      // share of the webs that crumbs cover
	grain    plot
	blotches plot
}

// cellKind is what one cell has of its own.
type cellKind struct {
	level float64 // mm that the medium stands higher
	wet   float64
	green float64 // how much of the medium is green with algae or moss
	bare  bool    // no medium at all
	turn  float64
}

const endless = 1 << 20

// trayOf draws a tray whose cells are pitch mm apart and which goes on past the drawing's borders.
func trayOf(d dice, pitch, perMM float64, plain bool, side int) *tray {
	t := &tray{
		perMM: perMM, middle: point{d.between(0, float64(side)), d.between(0, float64(side))}, pitch: pitch * perMM,
		lo: [2]int{-endless, -endless}, hi: [2]int{endless, endless}, half: pitch * d.between(0.36, 0.475),
		rim: d.between(1, 12), wall: d.wide(2, 9), deep: d.wide(0.6, 9), scuffed: d.between(0.01, 0.12),
		gloss: d.wide(0.01, 0.4), rough: d.between(0.12, 0.5), medium: mediumOf(d), dirt: d.some(0.6, 0, 0.2),
		grain: plotOf(d, perCell, d.wide(0.5, 1.6)), blotches: plotOf(d, perWave, d.wide(4, 20)),
	}
	t.corner = t.half * d.between(0.08, 0.6)
	if d.chance(0.25) {
		t.corner = t.half // round cells
	}
	t.own = trayColour(d, plain).light()
	green, bare := d.chance(0.48), d.some(0.15, 0.02, 0.2)
	spread := d.between(0, 0.4)
	for i := range t.cells {
		t.cells[i] = cellKind{level: t.deep * spread * d.between(-1, 1), wet: d.between(-0.25, 0.25), turn: d.angle(), bare: d.chance(bare)}
		if green {
			t.cells[i].green = d.some(0.6, 0.1, 1)
		}
	}
	return t
}

func trayColour(d dice, plain bool) lch {
	kinds := []float64{0.5, 0.2, 0.06, 0.1, 0.08, 0.06}
	if plain {
		kinds = []float64{0.75, 0.25, 0, 0, 0, 0}
	}
	switch d.pick(kinds...) {
	case 0:
		return lch{d.between(8, 22), d.between(0, 3), 270} // black
	case 1:
		return lch{d.between(24, 52), d.between(0, 4), 250} // grey
	case 2:
		return lch{34, 24, 150}.scattered(d, 8, 8, 12)
	case 3:
		return lch{85, 3, 95}.scattered(d, 5, 1, 20)
	case 4:
		return lch{48, 34, 48}.scattered(d, 6, 6, 5) // terracotta
	default:
		return lch{40, 30, 265}.scattered(d, 10, 8, 12)
	}
}

// cell returns the middle of a cell, in texels.
func (t *tray) cell(at [2]int) point {
	return t.middle.plus(point{float64(at[0]), float64(at[1])}.times(t.pitch))
}

func (t *tray) kind(at [2]int) *cellKind { return &t.cells[(at[0]*37+at[1]*11)&63] }

// mediumAt is the height of a cell's medium, in mm.
func (t *tray) mediumAt(at [2]int) float64 {
	k := t.kind(at)
	if k.bare {
		return -3 * t.deep
	}
	return k.level - t.deep
}

// cellsNear returns the cells with their middles in the drawing, then those within reach texels of it, from near to far.
func (t *tray) cellsNear(side int, reach float64) [][2]int {
	var out [][2]int
	first := func(v, c float64) int { return int(math.Ceil((v - c) / t.pitch)) }
	far := float64(side) + reach
	for j := max(t.lo[1], first(-reach, t.middle.y)); j <= t.hi[1] && t.middle.y+float64(j)*t.pitch <= far; j++ {
		for i := max(t.lo[0], first(-reach, t.middle.x)); i <= t.hi[0] && t.middle.x+float64(i)*t.pitch <= far; i++ {
			out = append(out, [2]int{i, j})
		}
	}
	away := func(at [2]int) float64 {
		p := t.cell(at)
		s := float64(side)
		return max(0, -p.x, -p.y, p.x-s, p.y-s)
	}
	slices.SortStableFunc(out, func(a, b [2]int) int { return cmp.Compare(away(a), away(b)) })
	return out
}

// inward returns how far a place lies within the tray's border, in mm; below 0 outside it.
func (t *tray) inward(p point) float64 {
	in := math.Inf(1)
	for axis, v := range [2]float64{p.x, p.y} {
		m := [2]float64{t.middle.x, t.middle.y}[axis]
		if t.lo[axis] > -endless {
			in = min(in, v-(m+(float64(t.lo[axis])-0.5)*t.pitch))
		}
		if t.hi[axis] < endless {
			in = min(in, m+(float64(t.hi[axis])+0.5)*t.pitch-v)
		}
	}
	return in/t.perMM + t.rim
}

// opening returns the cell that a place belongs to, and how far within its opening it lies, in mm; below 0 on the web. Beyond the
// outermost cells there is web alone.
func (t *tray) opening(p point) (at [2]int, in float64) {
	u, v := (p.x-t.middle.x)/t.pitch, (p.y-t.middle.y)/t.pitch
	i, j := math.Floor(u+0.5), math.Floor(v+0.5)
	i, j = clamp(i, float64(t.lo[0]), float64(t.hi[0])), clamp(j, float64(t.lo[1]), float64(t.hi[1]))
	mm := t.pitch / t.perMM
	x, y := math.Abs(u-i)*mm-(t.half-t.corner), math.Abs(v-j)*mm-(t.half-t.corner)
	out := max(x, y)
	if x > 0 && y > 0 {
		out = math.Sqrt(x*x + y*y)
	}
	return [2]int{int(i), int(j)}, t.corner - out
}
