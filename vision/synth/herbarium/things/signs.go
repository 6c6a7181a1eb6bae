package things

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/grid"
	"traygauge/vision/synth/herbarium/num"
)

// label is what a drawing's labels are made of.
type label struct {
	colour, other num.LCH
	gloss, rough  float64
	streak        float64 // of wood
	blank         bool    // without writing
}

func labelOf(d num.Dice) label {
	k := label{gloss: d.Wide(0.01, 0.4), rough: d.Between(0.1, 0.5), blank: d.Chance(0.35)}
	switch d.Pick(0.28, 0.2, 0.2, 0.12, 0.08, 0.12) {
	case 0: // white to cream
		k.colour = num.LCH{L: d.Between(78, 95), C: d.Between(0, 14), H: d.Between(85, 110)}
	case 1:
		k.colour = num.LCH{L: d.Between(66, 90), C: d.Between(35, 80), H: d.Between(80, 106)}
	case 2: // leaves' greens and others
		k.colour = num.LCH{L: d.Between(28, 70), C: d.Between(18, 58), H: d.Between(106, 150)}
	case 3: // red to orange
		k.colour = num.LCH{L: d.Between(38, 70), C: d.Between(30, 65), H: d.Between(0, 60)}
	case 4:
		k.colour = num.LCH{L: d.Between(30, 62), C: d.Between(15, 45), H: d.Between(220, 320)}
	default:
		k.colour, k.gloss, k.streak = num.LCH{L: d.Between(58, 84), C: d.Between(14, 34), H: d.Between(68, 86)}, 0.02, d.Between(4, 12)
	}
	k.other = num.LCH{L: k.colour.L - 3, C: k.colour.C, H: k.colour.H}
	if k.streak > 0 {
		k.other.L -= d.Between(2, 9)
	}
	return k
}

// Signs draws the plant labels of a drawing; most drawings have none.
func Signs(d num.Dice, t *grid.Grid, side int) []Thing {
	if !d.Chance(0.42) {
		return nil
	}
	kind, many := labelOf(d), d.Chance(0.25)
	wide := d.Wide(5, 18)
	var out []Thing
	for range 1 + d.IntN(7) {
		if many {
			kind = labelOf(d)
		}
		p, z := t.OnMedium(d, side)
		switch d.Pick(0.2, 0.35, 0.45) {
		case 0:
			out = append(out, standing(d, p, z, t.PerMM, &kind))
		case 1:
			out = append(out, leaning(d, p, z+d.Between(4, 22), t.PerMM, wide, &kind))
		default: // it lies across the webs, under the leaves
			out = append(out, leaning(d, p, d.Between(0.3, 3), t.PerMM, wide, &kind))
		}
	}
	return out
}

// standing is a label seen from above, edge on.
func standing(d num.Dice, p num.Point, z, perMM float64, k *label) Thing {
	dir := num.Heading(d.Angle())
	half := dir.Times(d.Between(5, 9) * perMM)
	return Thing{
		Outline: bar(p.Minus(half), p.Plus(half), d.Between(0.6, 2.5)*perMM), Z: z + d.Between(15, 45), Own: k.colour.Light(),
		Other: k.colour.Scattered(d, 2, 2, 1).Light(), Plot: num.PlotOf(d, num.PerWave, 5), Gloss: k.gloss, Rough: k.rough,
	}
}

// leaning is a label whose face is seen, z mm up: one that leans, or lies.
func leaning(d num.Dice, p num.Point, z, perMM, wide float64, k *label) Thing {
	dir := num.Heading(d.Angle())
	long, taper := d.Between(25, 80), d.Between(0.1, 1)*wide
	at := func(s, y float64) num.Point { return p.Plus(dir.Times(s * perMM)).Plus(dir.Left().Times(y * perMM)) }
	g := num.Ring{at(0, 0), at(taper, wide/2), at(long, wide/2), at(long, -wide/2), at(taper, -wide/2)}.Facing(false)
	foot := p.Times(1 / perMM)
	hand := num.PlotOf(d, num.PerWave, d.Between(1, 2.2))
	lines := 1 + d.IntN(2)
	ink := num.LCH{L: d.Between(8, 40), C: d.Some(0.4, 10, 50), H: d.Between(180, 300)}
	out := Thing{
		Outline: g, Z: z, Own: k.colour.Scattered(d, 2, 2, 2).Light(), Other: k.other.Light(),
		Plot: num.PlotOf(d, num.PerWave, 9), Streak: k.streak, Way: math.Atan2(dir.Y, dir.X), Gloss: k.gloss, Rough: k.rough,
	}
	if k.blank {
		return out
	}
	out.ink, out.print = ink.Light(), func(q num.Point) float64 {
		q = q.Minus(foot)
		return writing(hand, q.Dot(dir)-taper-3, q.Dot(dir.Left()), long-taper-8, wide, lines)
	}
	return out
}

// writing is the share of ink at a place of a label, along and across it in mm: strokes of noise in lines.
func writing(hand num.Plot, s, y, long, wide float64, lines int) float64 {
	if s < 0 || s > long {
		return 0
	}
	high := wide / (float64(lines) + 0.6)
	row := y/high + float64(lines)/2
	in := row - math.Floor(row)
	if row < 0 || row >= float64(lines) || in < 0.2 || in > 0.8 {
		return 0
	}
	stroke := math.Abs(hand.In(&num.Tables().Soft, s*1.4, y+100*math.Floor(row)))
	return 1 - num.Ease(0.06, 0.16, stroke)
}

// Card is the corner of a paper card that lies over a border of the drawing.
func Card(d num.Dice, side int, perMM float64) Thing {
	s := float64(side)
	depth := d.Between(0.03, 0.16) * s
	middle, dir := num.At(d.Between(0, s), depth-0.5*s), num.Heading(d.Around(0, 0.05))
	for range d.IntN(4) {
		middle, dir = num.At(s-middle.Y, middle.X), dir.Left()
	}
	half, deep := d.Between(0.3, 0.8)*s, 0.5*s
	at := func(x, y float64) num.Point { return middle.Plus(dir.Times(x)).Plus(dir.Left().Times(y)) }
	g := num.Ring{at(-half, -deep), at(half, -deep), at(half, deep), at(-half, deep)}.Facing(false)
	patch, margin := d.Between(6, 14), d.Between(2, 5)
	centre := middle.Times(1 / perMM)
	dark := num.PlotOf(d, num.PerCell, patch)
	return Thing{
		Outline: g, Z: d.Between(0.5, 4), Own: closeup.RGB{0.9, 0.9, 0.88}, Other: closeup.RGB{0.86, 0.86, 0.85},
		Plot: num.PlotOf(d, num.PerWave, 20), Rough: 0.5, ink: num.LCH{L: d.Between(10, 70), C: d.Some(0.5, 20, 60), H: d.Between(0, 360)}.Light(),
		print: func(q num.Point) float64 {
			q = q.Minus(centre)
			return patches(dark, q.Dot(dir)+1000*patch, q.Dot(dir.Left())+deep/perMM+1000*patch, patch, margin)
		},
	}
}

// patches is the share of ink on a card of square patches.
func patches(dark num.Plot, x, y, patch, margin float64) float64 {
	i, j := math.Floor(x/patch), math.Floor(y/patch)
	if x-i*patch < margin || y-j*patch < margin {
		return 0
	}
	_, _, kind := num.Tables().Cells.At(i*23+dark.X, j*29+dark.Y)
	return num.Ease(0.3, 0.6, kind)
}
