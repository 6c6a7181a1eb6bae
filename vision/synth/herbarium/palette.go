package herbarium

// palette is a crop's colours.
type palette struct {
	healthy   lch
	young     lch // of the youngest leaves
	vein      lch // of midribs and side veins
	stalks    lch // of stalks and stems
	under     lch // of undersides
	full      lch // of a leaf that has yellowed
	bleached  lch // and then lost even that
	blush     lch // a second colour
	where     blushing
	blushed   float64 // its share at most
	marks     lch     // white or cream marks
	marked    marking
	dark, tan lch // dead tissue
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

// paletteOf draws a crop's colours; a plain crop is green.
func paletteOf(d dice, plain bool) palette {
	p := palette{healthy: greens(d, plain), full: lch{d.between(58, 80), d.between(32, 70), d.between(80, 105)}, bleached: lch{82, 28, 96}.scattered(d, 5, 8, 5)}
	p.healthy.c = min(p.healthy.c, 0.95*p.healthy.l)
	p.young = lch{p.healthy.l + d.between(2, 14), p.healthy.c + d.between(0, 8), p.healthy.h - d.between(0, 8)}
	p.vein = lch{p.healthy.l + d.between(4, 24), p.healthy.c * d.between(0.6, 1), p.healthy.h - d.between(0, 8)}
	if d.chance(0.12) {
		p.vein = lch{p.healthy.l - d.between(3, 8), p.healthy.c, p.healthy.h + 2}
	}
	p.stalks = p.healthy.toward(lch{66, 34, 114}.scattered(d, 6, 6, 4), d.between(0.2, 0.95))
	p.under = lch{p.healthy.l + d.between(5, 16), p.healthy.c * d.between(0.5, 0.85), p.healthy.h + d.between(-2, 4)}
	p.dark = lch{30, 20, 60}.scattered(d, 10, 8, 10)
	p.tan = lch{58, 24, 74}.scattered(d, 11, 7, 8)
	p.blushes(d, plain)
	if d.chance(0.05) {
		p.marked = marking(1 + d.pick(0.45, 0.35, 0.2))
	}
	p.marks = lch{84, 14, 102}.scattered(d, 5, 7, 4)
	return p
}

func greens(d dice, plain bool) lch {
	kinds := []float64{0.5, 0.15, 0.17, 0.1, 0.08}
	if plain {
		kinds = []float64{0.66, 0.14, 0.15, 0.04, 0.01}
	}
	switch d.pick(kinds...) {
	case 0: // leaf green
		return lch{44, 38, 123}.scattered(d, 6.5, 6.5, 4.5)
	case 1: // dark
		return lch{31, 24, 129}.scattered(d, 3.5, 5, 5)
	case 2: // pale
		return lch{56, 46, 116}.scattered(d, 4.5, 6, 3.5)
	case 3: // blue-green
		return lch{47, 19, 139}.scattered(d, 7, 5, 5)
	default: // yellow-green
		return lch{58, 48, 111}.scattered(d, 4, 6, 2.5)
	}
}

// grassy turns to the greens of grasses.
func (p *palette) grassy(d dice) {
	own := lch{d.between(26, 60), d.between(12, 46), d.between(107, 147)}
	own.c = min(own.c, 0.95*own.l)
	down, part, turn := own.l-p.healthy.l, own.c/max(1, p.healthy.c), own.h-p.healthy.h
	for _, k := range []*lch{&p.healthy, &p.young, &p.vein, &p.stalks, &p.under} {
		*k = lch{clamp(k.l+down, 12, 88), k.c * part, k.h + turn}
	}
}

// pallor makes seedlings paler or darker than grown leaves are.
func (p *palette) pallor(d dice) {
	up, turn, fuller := d.between(-12, 20), d.between(-12, 3), d.between(0.6, 1.2)
	for _, k := range []*lch{&p.healthy, &p.young, &p.vein, &p.stalks, &p.under} {
		*k = lch{clamp(k.l+up, 14, 82), k.c * fuller, max(104, k.h+turn)}
	}
}

// blushes draws purple, red and bronze, all over or in part.
func (p *palette) blushes(d dice, plain bool) {
	kinds := []float64{0.68, 0.05, 0.05, 0.05, 0.06, 0.11}
	if plain {
		kinds = []float64{0.84, 0.03, 0.05, 0.05, 0.03, 0}
	}
	p.where = blushing(d.pick(kinds...))
	p.blush = lch{26, 22, 10}.scattered(d, 6, 8, 22)
	if d.chance(0.3) {
		p.blush = lch{36, 22, 60}.scattered(d, 6, 6, 10) // bronze
	}
	p.blushed = d.between(0.35, 1)
	if p.where == onVeins || d.chance(0.12) {
		red := lch{38, 26, 15}.scattered(d, 8, 8, 18)
		p.stalks = p.stalks.toward(red, d.between(0.3, 1))
	}
	if p.where == onVeins {
		p.vein = lch{36, 38, 10}.scattered(d, 7, 9, 14)
	}
}
