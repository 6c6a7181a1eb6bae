package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// label is what a drawing's labels are made of.
type label struct {
	colour, other lch
	gloss, rough  float64
	streak        float64 // of wood
	blank         bool    // without writing
}

func labelOf(d dice) label {
	k := label{gloss: d.wide(0.01, 0.4), rough: d.between(0.1, 0.5), blank: d.chance(0.35)}
	switch d.pick(0.28, 0.2, 0.2, 0.12, 0.08, 0.12) {
	case 0: // white to cream
		k.colour = lch{d.between(78, 95), d.between(0, 14), d.between(85, 110)}
	case 1:
		k.colour = lch{d.between(66, 90), d.between(35, 80), d.between(80, 106)}
	case 2: // leaves' greens and others
		k.colour = lch{d.between(28, 70), d.between(18, 58), d.between(106, 150)}
	case 3: // red to orange
		k.colour = lch{d.between(38, 70), d.between(30, 65), d.between(0, 60)}
	case 4:
		k.colour = lch{d.between(30, 62), d.between(15, 45), d.between(220, 320)}
	default:
		k.colour, k.gloss, k.streak = lch{d.between(58, 84), d.between(14, 34), d.between(68, 86)}, 0.02, d.between(4, 12)
	}
	k.other = lch{k.colour.l - 3, k.colour.c, k.colour.h}
	if k.streak > 0 {
		k.other.l -= d.between(2, 9)
	}
	return k
}

// signs draws the plant labels of a drawing; most drawings have none.
func signs(d dice, t *tray, side int) []thing {
	if !d.chance(0.42) {
		return nil
	}
	kind, many := labelOf(d), d.chance(0.25)
	wide := d.wide(5, 18)
	var out []thing
	for range 1 + d.IntN(7) {
		if many {
			kind = labelOf(d)
		}
		p, z := t.onMedium(d, side)
		switch d.pick(0.2, 0.35, 0.45) {
		case 0:
			out = append(out, standing(d, p, z, t.perMM, &kind))
		case 1:
			out = append(out, leaning(d, p, z+d.between(4, 22), t.perMM, wide, &kind))
		default: // it lies across the webs, under the leaves
			out = append(out, leaning(d, p, d.between(0.3, 3), t.perMM, wide, &kind))
		}
	}
	return out
}

// standing is a label seen from above, edge on.
func standing(d dice, p point, z, perMM float64, k *label) thing {
	dir := heading(d.angle())
	half := dir.times(d.between(5, 9) * perMM)
	return thing{
		outline: bar(p.minus(half), p.plus(half), d.between(0.6, 2.5)*perMM), z: z + d.between(15, 45), own: k.colour.light(),
		other: k.colour.scattered(d, 2, 2, 1).light(), plot: plotOf(d, perWave, 5), gloss: k.gloss, rough: k.rough,
	}
}

// leaning is a label whose face is seen, z mm up: one that leans, or lies.
func leaning(d dice, p point, z, perMM, wide float64, k *label) thing {
	dir := heading(d.angle())
	long, taper := d.between(25, 80), d.between(0.1, 1)*wide
	at := func(s, y float64) point { return p.plus(dir.times(s * perMM)).plus(dir.left().times(y * perMM)) }
	g := ring{at(0, 0), at(taper, wide/2), at(long, wide/2), at(long, -wide/2), at(taper, -wide/2)}.facing(false)
	foot := p.times(1 / perMM)
	hand := plotOf(d, perWave, d.between(1, 2.2))
	lines := 1 + d.IntN(2)
	ink := lch{d.between(8, 40), d.some(0.4, 10, 50), d.between(180, 300)}
	out := thing{
		outline: g, z: z, own: k.colour.scattered(d, 2, 2, 2).light(), other: k.other.light(),
		plot: plotOf(d, perWave, 9), streak: k.streak, way: math.Atan2(dir.y, dir.x), gloss: k.gloss, rough: k.rough,
	}
	if k.blank {
		return out
	}
	out.ink, out.print = ink.light(), func(q point) float64 {
		q = q.minus(foot)
		return writing(hand, q.dot(dir)-taper-3, q.dot(dir.left()), long-taper-8, wide, lines)
	}
	return out
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
