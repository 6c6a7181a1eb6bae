package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// signs draws the plant labels of a drawing; most drawings have none.
func signs(d dice, t *tray, side int) []thing {
	if !d.chance(0.25) {
		return nil
	}
	colours := []lch{{92, 2, 95}, {86, 70, 92}, {60, 50, 135}, {48, 45, 265}, {88, 6, 90}, {62, 60, 40}}
	colour := colours[d.pick(0.4, 0.18, 0.14, 0.1, 0.12, 0.06)].scattered(d, 3, 4, 4)
	var out []thing
	for range 1 + d.IntN(4) {
		p, z := t.onMedium(d, side)
		if d.chance(0.3) {
			out = append(out, standing(d, p, z, t.perMM, colour))
		} else {
			out = append(out, leaning(d, p, z, t.perMM, colour))
		}
	}
	return out
}

// standing is a label seen from above, edge on.
func standing(d dice, p point, z, perMM float64, colour lch) thing {
	dir := heading(d.angle())
	half := dir.times(d.between(5, 9) * perMM)
	return thing{
		outline: bar(p.minus(half), p.plus(half), d.between(0.6, 2.5)*perMM), z: z + d.between(15, 45), own: colour.light(),
		other: colour.scattered(d, 2, 2, 1).light(), plot: plotOf(d, perWave, 5), gloss: 0.1, rough: 0.3,
	}
}

// leaning is a label that leans so far that its face is seen, with writing on it.
func leaning(d dice, p point, z, perMM float64, colour lch) thing {
	dir := heading(d.angle())
	wide, long, taper := d.between(8, 18), d.between(25, 70), d.between(6, 14)
	at := func(s, y float64) point { return p.plus(dir.times(s * perMM)).plus(dir.left().times(y * perMM)) }
	g := ring{at(0, 0), at(taper, wide/2), at(long, wide/2), at(long, -wide/2), at(taper, -wide/2)}.facing(false)
	foot := p.times(1 / perMM)
	hand := plotOf(d, perWave, d.between(1, 2.2))
	lines := 1 + d.IntN(2)
	ink := lch{d.between(8, 40), d.some(0.4, 10, 50), d.between(180, 300)}
	return thing{
		outline: g, z: z + d.between(4, 22), own: colour.light(), other: lch{colour.l - 3, colour.c, colour.h}.light(),
		plot: plotOf(d, perWave, 9), gloss: d.wide(0.02, 0.3), rough: d.between(0.1, 0.3), ink: ink.light(),
		print: func(q point) float64 {
			q = q.minus(foot)
			return writing(hand, q.dot(dir)-taper-3, q.dot(dir.left()), long-taper-8, wide, lines)
		},
	}
}

// writing is the share of ink at a place of a label, along and across it in mm: strokes of noise in lines.
func writing(hand plot, s, y, long, wide float64, lines int) float64 {
	if s < 0 || s > long {
		return 0
	}
	high := wide / (float64(lines) + 0.6)
	row := y/high + float64(lines)/2
	in := row - math.Floor(row)
	if row < 0 || row >= float64(lines) || in < 0.2 || in > 0.8 {
		return 0
	}
	stroke := math.Abs(hand.in(&tables().soft, s*1.4, y+100*math.Floor(row)))
	return 1 - ease(0.06, 0.16, stroke)
}

// card is the corner of a paper card that lies over a border of the drawing.
func card(d dice, side int, perMM float64) thing {
	s := float64(side)
	depth := d.between(0.03, 0.16) * s
	middle, dir := point{d.between(0, s), depth - 0.5*s}, heading(d.around(0, 0.05))
	for range d.IntN(4) {
		middle, dir = point{s - middle.y, middle.x}, dir.left()
	}
	half, deep := d.between(0.3, 0.8)*s, 0.5*s
	at := func(x, y float64) point { return middle.plus(dir.times(x)).plus(dir.left().times(y)) }
	g := ring{at(-half, -deep), at(half, -deep), at(half, deep), at(-half, deep)}.facing(false)
	patch, margin := d.between(6, 14), d.between(2, 5)
	centre := middle.times(1 / perMM)
	dark := plotOf(d, perCell, patch)
	return thing{
		outline: g, z: d.between(0.5, 4), own: closeup.RGB{0.9, 0.9, 0.88}, other: closeup.RGB{0.86, 0.86, 0.85},
		plot: plotOf(d, perWave, 20), rough: 0.5, ink: lch{d.between(10, 70), d.some(0.5, 20, 60), d.between(0, 360)}.light(),
		print: func(q point) float64 {
			q = q.minus(centre)
			return patches(dark, q.dot(dir)+1000*patch, q.dot(dir.left())+deep/perMM+1000*patch, patch, margin)
		},
	}
}

// patches is the share of ink on a card of square patches.
func patches(dark plot, x, y, patch, margin float64) float64 {
	i, j := math.Floor(x/patch), math.Floor(y/patch)
	if x-i*patch < margin || y-j*patch < margin {
		return 0
	}
	_, _, kind := tables().cells.at(i*23+dark.x, j*29+dark.y)
	return ease(0.3, 0.6, kind)
}
