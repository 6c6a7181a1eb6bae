package skin

import "traygauge/vision/synth/herbarium/num"

// Palette is a crop's colours.
type Palette struct {
	healthy   num.LCH
	young     num.LCH // of the youngest leaves
	vein      num.LCH // of midribs and side veins
	stalks    num.LCH // of stalks and stems
	under     num.LCH // of undersides
	full      num.LCH // of a leaf that has yellowed
	bleached  num.LCH // and then lost even that
	blush     num.LCH // a second colour
	where     blushing
	blushed   float64 // its share at most
	marks     num.LCH // white or cream marks
	marked    marking
	dark, tan num.LCH // dead tissue
}

type blushing int

const (
	noBlush blushing = iota
	onEdge
	onVeins
	atBase
	mottled
	allOver // the blades are blushed, the veins stay
)

type marking int

const (
	unmarked marking = iota
	margin
	splashes
	besideVeins
)

// PaletteOf draws a crop's colours; a plain crop is green.
func PaletteOf(d num.Dice, plain bool) Palette {
	p := Palette{healthy: greens(d, plain), full: num.LCH{L: d.Between(58, 80), C: d.Between(32, 70), H: d.Between(80, 105)},
		bleached: num.LCH{L: 82, C: 28, H: 96}.Scattered(d, 5, 8, 5)}
	p.healthy.C = min(p.healthy.C, 0.95*p.healthy.L)
	p.young = num.LCH{L: p.healthy.L + d.Between(2, 14), C: p.healthy.C + d.Between(0, 8), H: p.healthy.H - d.Between(0, 8)}
	p.vein = num.LCH{L: p.healthy.L + d.Between(4, 24), C: p.healthy.C * d.Between(0.6, 1), H: p.healthy.H - d.Between(0, 8)}
	if d.Chance(0.12) {
		p.vein = num.LCH{L: p.healthy.L - d.Between(3, 8), C: p.healthy.C, H: p.healthy.H + 2}
	}
	p.stalks = p.healthy.Toward(num.LCH{L: 66, C: 34, H: 114}.Scattered(d, 6, 6, 4), d.Between(0.2, 0.95))
	p.under = num.LCH{L: p.healthy.L + d.Between(5, 16), C: p.healthy.C * d.Between(0.5, 0.85), H: p.healthy.H + d.Between(-2, 4)}
	p.dark = num.LCH{L: 30, C: 20, H: 60}.Scattered(d, 10, 8, 10)
	p.tan = num.LCH{L: 58, C: 24, H: 74}.Scattered(d, 11, 7, 8)
	p.blushes(d, plain)
	if d.Chance(0.05) {
		p.marked = marking(1 + d.Pick(0.45, 0.35, 0.2))
	}
	p.marks = num.LCH{L: 84, C: 14, H: 102}.Scattered(d, 5, 7, 4)
	return p
}

func greens(d num.Dice, plain bool) num.LCH {
	kinds := []float64{0.5, 0.15, 0.17, 0.1, 0.08}
	if plain {
		kinds = []float64{0.66, 0.14, 0.15, 0.04, 0.01}
	}
	switch d.Pick(kinds...) {
	case 0: // leaf green
		return num.LCH{L: 44, C: 38, H: 123}.Scattered(d, 6.5, 6.5, 4.5)
	case 1: // dark
		return num.LCH{L: 31, C: 24, H: 129}.Scattered(d, 3.5, 5, 5)
	case 2: // pale
		return num.LCH{L: 56, C: 46, H: 116}.Scattered(d, 4.5, 6, 3.5)
	case 3: // blue-green
		return num.LCH{L: 47, C: 19, H: 139}.Scattered(d, 7, 5, 5)
	default: // yellow-green
		return num.LCH{L: 58, C: 48, H: 111}.Scattered(d, 4, 6, 2.5)
	}
}

// Grassy turns to the greens of grasses.
func (p *Palette) Grassy(d num.Dice) {
	own := num.LCH{L: d.Between(26, 60), C: d.Between(12, 46), H: d.Between(107, 147)}
	own.C = min(own.C, 0.95*own.L)
	down, part, turn := own.L-p.healthy.L, own.C/max(1, p.healthy.C), own.H-p.healthy.H
	for _, k := range []*num.LCH{&p.healthy, &p.young, &p.vein, &p.stalks, &p.under} {
		*k = num.LCH{L: num.Clamp(k.L+down, 12, 88), C: k.C * part, H: k.H + turn}
	}
}

// Fainter brings veins nearer to the blade's own colour.
func (p *Palette) Fainter() { p.vein = p.healthy.Toward(p.vein, 0.5) }

// Pallor makes seedlings paler or darker than grown leaves are.
func (p *Palette) Pallor(d num.Dice) {
	up, turn, fuller := d.Between(-12, 20), d.Between(-12, 3), d.Between(0.6, 1.2)
	for _, k := range []*num.LCH{&p.healthy, &p.young, &p.vein, &p.stalks, &p.under} {
		*k = num.LCH{L: num.Clamp(k.L+up, 14, 82), C: k.C * fuller, H: max(104, k.H+turn)}
	}
}

// blushes draws purple, red and bronze, all over or in part.
func (p *Palette) blushes(d num.Dice, plain bool) {
	kinds := []float64{0.68, 0.05, 0.05, 0.05, 0.06, 0.11}
	if plain {
		kinds = []float64{0.84, 0.03, 0.05, 0.05, 0.03, 0}
	}
	p.where = blushing(d.Pick(kinds...))
	p.blush = num.LCH{L: 26, C: 22, H: 10}.Scattered(d, 6, 8, 22)
	if d.Chance(0.3) {
		p.blush = num.LCH{L: 36, C: 22, H: 60}.Scattered(d, 6, 6, 10) // bronze
	}
	p.blushed = d.Between(0.35, 1)
	if p.where == onVeins || d.Chance(0.12) {
		red := num.LCH{L: 38, C: 26, H: 15}.Scattered(d, 8, 8, 18)
		p.stalks = p.stalks.Toward(red, d.Between(0.3, 1))
	}
	if p.where == onVeins {
		p.vein = num.LCH{L: 36, C: 38, H: 10}.Scattered(d, 7, 9, 14)
	}
}
