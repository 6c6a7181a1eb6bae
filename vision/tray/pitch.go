package tray

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"

	"traygauge/vision/raster"
)

// Pitch is how far apart a tray's cells are by the card, over what the tray's drawing says: 1.03 is 3 % wider, on average along and across the tray. U is its
// standard uncertainty, from how the cells scatter about a grid of that pitch. Longer is how much wider they are along the tray than across it: 0.02 where they
// are 2 % wider along and as wide as drawn across; LongerU is its standard uncertainty. The zero Pitch is one that the photo does not show.
type Pitch struct{ Ratio, U, Longer, LongerU float64 }

// Seen reports whether the photo shows the pitch.
func (p Pitch) Seen() bool { return p.Ratio > 0 }

// pitchRounds is how often cells are looked for where the pitch before says that they are; from 15 % off it takes three.
const pitchRounds = 5

// mostStretch is how far off the drawing's a pitch may be: what is farther off is no print's fault but another tray's pitch. mostPitchU is how unsure it
// may be: beyond 2 % it would not show a wrong print.
const (
	mostStretch = 0.25
	mostPitchU  = 0.02
)

// leastCells is the least number of cells that a pitch and its uncertainty can be worked out from.
const leastCells = 9

// Pitch measures the pitch on the tray's warmth, from where the grid lies. How far each cell is off its place is the phase of the wave that is one pitch long, over a
// square one pitch wide; a move, a turn and a stretch each way are laid through all of these by weighted least squares. leaf, unless nil, is what hides the tray: leaves
// stand above the card's plane and look wider apart than they are. A given grid keeps its own pitch.
func (m *Map) Pitch(g Grid, leaf *raster.Share) Pitch {
	t := m.t
	if t.Grid != nil {
		return t.Grid.Pitch
	}
	if t.Rows < 2 || t.Columns < 2 || t.Rows*t.Columns < leastCells {
		return Pitch{}
	}
	at := stretch{ratio: 1, g: g}
	if !g.Fitted {
		at.g = Grid{}
	}
	hidden := m.under(leaf)
	var p Pitch
	for round := range pitchRounds {
		waves := m.waves(at, hidden)
		if round == 0 {
			at.ratio += betweenNeighbours(t, waves)
			continue
		}
		move, u, ok := fitMoved(t, waves)
		if !ok {
			return Pitch{}
		}
		at.g.U, at.g.V = at.g.U+move.u, at.g.V+move.v
		at.g.Turn += move.turn
		at.ratio += move.more
		at.longer += move.longer
		p = Pitch{at.ratio, u.more, at.longer, u.longer}
	}
	if !(math.Abs(p.Ratio-1) < mostStretch && p.U < mostPitchU) {
		return Pitch{}
	}
	return p
}

// stretch places the drawing's cells: stretched about the tray's middle, then as the grid lies.
type stretch struct {
	ratio, longer float64
	g             Grid
}

func (s stretch) place(t Layout, u, v float64) (float64, float64) {
	cu, cv := t.LengthMM/2, t.WidthMM/2
	return s.g.Place(t, cu+(u-cu)*(s.ratio+s.longer/2), cv+(v-cv)*(s.ratio-s.longer/2))
}

// wave is what the map shows at one cell of the wave along each side of the tray that has its crest on the cell's middle. Its phase, in mm, is
// how far the cell is off.
type wave struct{ u, v complex128 }

// under returns which values leaf hides; nil where there is none.
func (m *Map) under(leaf *raster.Share) []bool {
	if leaf == nil {
		return nil
	}
	hidden := make([]bool, m.w*m.h)
	for j := range m.h {
		for i := range m.w {
			hidden[j*m.w+i] = leaf.Near(m.s.Plane.ToPx(m.s.TrayPoint(placeOf(i, j))), 2)
		}
	}
	return hidden
}

func (m *Map) waves(s stretch, hidden []bool) []wave {
	t := m.t
	pitch := t.PitchMM * s.ratio
	all := make([]wave, t.Rows*t.Columns)
	for r := range t.Rows {
		for c := range t.Columns {
			u, v := t.Centre(r, c)
			u, v = s.place(t, u, v)
			all[r*t.Columns+c] = m.wave(u, v, pitch, hidden)
		}
	}
	return all
}

// wave sums over a square one pitch wide; the values on its edges count by the part of them within.
func (m *Map) wave(u, v, pitch float64, hidden []bool) (w wave) {
	x, y := u+mapMargin, v+mapMargin // in values of the map, of which i reaches from i to i+1
	x0, x1, y0, y1 := x-pitch/2, x+pitch/2, y-pitch/2, y+pitch/2
	if x0 < 0 || y0 < 0 || x1 > float64(m.w) || y1 > float64(m.h) {
		return w
	}
	along, across := edgesAndTurns(x0, x1, x, pitch), edgesAndTurns(y0, y1, y, pitch)
	columns, rows := make([]bare, len(along)), make([]bare, len(across))
	var all bare
	for j, r := range across {
		row := min(int(y0)+j, m.h-1)
		for i, c := range along {
			at := min(int(x0)+i, m.w-1)
			if hidden != nil && hidden[row*m.w+at] {
				continue
			}
			share := c.share * r.share
			value := share * m.at(at, row)
			columns[i].add(share, value)
			rows[j].add(share, value)
			all.add(share, value)
		}
	}
	if all.area < leastBare*pitch*pitch {
		return w
	}
	mean := all.sum / all.area
	for i, c := range columns {
		w.u += complex(c.sum-mean*c.area, 0) * along[i].turn
	}
	for j, r := range rows {
		w.v += complex(r.sum-mean*r.area, 0) * across[j].turn
	}
	return w
}

// bare is what is not under leaves: its area, and the sum of its values times theirs.
type bare struct{ area, sum float64 }

func (b *bare) add(area, sum float64) { b.area, b.sum = b.area+area, b.sum+sum }

// step is one value along a side of a square: the part of it within, and how far the wave has turned at its middle.
type step struct {
	share float64
	turn  complex128
}

// edgesAndTurns returns the values from one edge to the other of a square about its middle.
func edgesAndTurns(from, to, middle, pitch float64) (steps []step) {
	for i := int(from); float64(i) < to; i++ {
		steps = append(steps, step{min(float64(i+1), to) - max(float64(i), from), cmplx.Rect(1, 2*math.Pi*(float64(i)+0.5-middle)/pitch)})
	}
	return steps
}

// leastBare is the share of a cell that must be bare of leaves to tell where it is.
const leastBare = 0.4

// at is the value of one mm.
func (m *Map) at(i, j int) float64 {
	i, j = min(max(i, 0), m.w-1), min(max(j, 0), m.h-1)
	k := j*(m.w+1) + i
	return m.sum[k+m.w+2] - m.sum[k+m.w+1] - m.sum[k+1] + m.sum[k]
}

// betweenNeighbours is how much wider the pitch is by the mean change of phase from each cell to the next: coarse, but never off by whole
// pitches.
func betweenNeighbours(t Layout, w []wave) float64 {
	sum := complex(0, 0)
	for r := range t.Rows {
		for c := range t.Columns {
			k := r*t.Columns + c
			if c+1 < t.Columns {
				sum += w[k+1].u * cmplx.Conj(w[k].u)
			}
			if r+1 < t.Rows {
				sum += w[k+t.Columns].v * cmplx.Conj(w[k].v)
			}
		}
	}
	return cmplx.Phase(sum) / (2 * math.Pi)
}

// moved is a small change about the tray's middle: mm, radians, the mean stretch less 1, and how much larger it is along the tray than across.
type moved struct{ u, v, turn, longer, more float64 }

// Huber's constant for 95 % efficiency under normal errors, in standard deviations (Huber 1964; Holland & Welsch 1977, Communications in Statistics A6,
// 813-827).
const (
	huberAt      = 1.345
	leastScatter = 0.05 // mm: cells are not told more finely
)

// fitMoved fits the cells' offsets d_u = a + (more + longer/2)·u − turn·v and d_v = b + (more − longer/2)·v + turn·u. A cell's weight is its waves' size; one that lies
// farther off the fit than the others, a missing plug or a leaf, counts less (Huber 1964, Annals of Mathematical Statistics 35, 73-101).
// u has the standard uncertainties of longer and more.
func fitMoved(t Layout, waves []wave) (fit, u moved, ok bool) {
	n := 2 * len(waves)
	a, d, weight := mat.NewDense(n, unknowns, nil), make([]float64, n), make([]float64, n)
	for k, w := range waves {
		cu, cv := t.Centre(k/t.Columns, k%t.Columns)
		cu, cv = cu-t.LengthMM/2, cv-t.WidthMM/2
		a.SetRow(2*k, []float64{1, 0, -cv, cu / 2, cu})
		a.SetRow(2*k+1, []float64{0, 1, cu, -cv / 2, cv})
		size := math.Min(cmplx.Abs(w.u), cmplx.Abs(w.v))
		for i, z := range [2]complex128{w.u, w.v} {
			d[2*k+i], weight[2*k+i] = cmplx.Phase(z)*t.PitchMM/(2*math.Pi), size
		}
	}
	usual := raster.Median(slices.Clone(weight))
	if !(usual > 0) {
		return fit, u, false
	}
	sized := make([]float64, n)
	for i := range weight {
		sized[i] = math.Min(1, weight[i]/usual)
	}
	copy(weight, sized)
	var x [unknowns]float64
	left := make([]float64, n)
	for range 8 {
		if x, u.longer, u.more, ok = weightedFit(a, d, weight, left); !ok {
			return fit, u, false
		}
		far := make([]float64, n)
		for i := range left {
			far[i] = math.Abs(left[i])
		}
		scale := math.Max(raster.PerMedianOff*raster.Median(slices.Clone(far)), leastScatter)
		for i := range weight {
			weight[i] = sized[i] * math.Min(1, huberAt*scale/math.Max(far[i], 1e-9))
		}
	}
	return moved{x[0], x[1], x[2], x[3], x[4]}, u, true
}

// unknowns are the fields of moved.
const unknowns = 5

// weightedFit solves a·x = d by weighted least squares, puts what is left of d into left, and returns the standard uncertainties of the last two
// of x.
func weightedFit(a *mat.Dense, d, weight, left []float64) (x [unknowns]float64, longerU, moreU float64, ok bool) {
	var normal [unknowns][unknowns]float64
	var right [unknowns]float64
	sum := 0.0
	for i, w := range weight {
		row := a.RawRowView(i)
		for j := range unknowns {
			right[j] += w * row[j] * d[i]
			for k := range unknowns {
				normal[j][k] += w * row[j] * row[k]
			}
		}
		sum += w
	}
	flat := make([]float64, 0, unknowns*unknowns)
	for _, row := range normal {
		flat = append(flat, row[:]...)
	}
	var inverse mat.Dense
	if inverse.Inverse(mat.NewDense(unknowns, unknowns, flat)) != nil {
		return x, 0, 0, false
	}
	for j := range unknowns {
		for k := range unknowns {
			x[j] += inverse.At(j, k) * right[k]
		}
	}
	squares := 0.0
	for i, w := range weight {
		row := a.RawRowView(i)
		left[i] = d[i]
		for j := range unknowns {
			left[i] -= row[j] * x[j]
		}
		squares += w * left[i] * left[i]
	}
	scatter := squares / math.Max(1, sum-unknowns)
	return x, math.Sqrt(scatter * inverse.At(unknowns-2, unknowns-2)), math.Sqrt(scatter * inverse.At(unknowns-1, unknowns-1)), true
}
