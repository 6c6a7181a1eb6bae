package brush

import "math"

// look is how the roots of a drawing look; single roots differ a little from it.
type look struct {
	white, tan rgb     // own colours, linear
	spread     float64 // how much single roots differ in luminance, as a ratio's logarithm
	round      float32 // 0 a flat ribbon .. 1 a cylinder
	contrast   float32 // how much of the shading by the lamp shows
	rim        float32 // darkening toward the edges, 0..1
	ridges     float32 // ridges along the root, 0..1
	clear      float32 // how much of what lies below shines through, 0..0.7
	core       float32 // brightening of the core (positive) or of the edges (negative) where the root is clear
	gloss      float32 // of the mirror line on a wet root
	sharp      int     // of that line
	grain      float32 // texture on the root, deviation
	dirt       float32 // share of dirty patches, 0..1
	shadow     float32 // depth of the shadow beside the root, 0..1
	lift       float32 // height of the root's middle above the ground, half widths
	even       bool    // one flat colour without any shading
}

// newLook draws how roots look.
func newLook(d dice, wet float64, ordinary bool) *look {
	k := &look{white: ownWhite(d, ordinary), tan: ownBrown(d), spread: d.between(0.01, 0.2)}
	k.round, k.contrast, k.rim = d.between32(0, 1), d.between32(0, 0.9), d.between32(0, 0.3)
	if d.chance(0.2) {
		k.ridges = d.between32(0.1, 0.6)
	}
	if d.chance(0.2) {
		k.clear, k.core = d.between32(0.1, 0.65), d.between32(-0.5, 0.5)
	}
	if wet > 0.3 {
		k.gloss, k.sharp = float32(float64(d.ratio(0.05, 1.5)*wet)), d.whole(3, 7)
	}
	k.grain = d.between32(0, 0.16)
	if d.chance(0.4) {
		k.dirt = d.between32(0.02, 0.5)
	}
	k.shadow, k.lift = d.between32(0.05, 0.75), d.between32(0.8, 2.2)
	if d.chance(0.25) {
		k.even, k.clear = true, 0
	}
	return k
}

// ownWhite draws the own colour of white roots.
func ownWhite(d dice, ordinary bool) rgb {
	if ordinary {
		return cream(d, d.between(0.34, 0.92), d.between(0.65, 1.0)) // as wide as it may be, so that how light roots are has to be seen in each photo
	}
	y := d.between(0.3, 0.9)
	switch d.IntN(6) {
	case 0: // white
		return tint(d.between(0.55, 0.9), d.between(0.97, 1.05), d.between(0.88, 1.04))
	case 1: // greyish
		return tint(d.between(0.2, 0.5), d.between(0.97, 1.08), d.between(0.8, 1.0))
	case 2: // pinkish
		return tint(y, d.between(1.08, 1.21), d.between(0.85, 1.02))
	case 3: // yellowish
		return tint(y, d.between(1.08, 1.21), d.between(0.45, 0.7))
	case 4: // ivory
		return tint(d.between(0.35, 0.8), d.between(1.05, 1.18), d.between(0.6, 0.85))
	}
	return cream(d, y, d.between(0.55, 1.0))
}

// clearOf lightens a brown that would hardly show on the medium, as far as browns go.
func clearOf(brown, medium rgb) rgb {
	least := min(0.38, float32(1.8*luminance(medium)))
	if l := luminance(brown); l < least {
		return times(brown, least/l)
	}
	return brown
}

// cream draws a white whose red grows as its blue falls, as it does from white over cream to straw.
func cream(d dice, y, blue float64) rgb {
	return tint(y, min(1.21, d.between(0.97, 1.05)+float64((1-blue)*d.between(0.08, 0.35))), blue)
}

// ownBrown draws the own colour of brown roots.
func ownBrown(d dice) rgb {
	switch d.IntN(10) {
	case 0, 1: // tan
		return tint(d.between(0.16, 0.38), d.between(1.45, 1.75), d.between(0.4, 0.7))
	case 2, 3, 4, 5: // orange-brown
		return tint(d.between(0.12, 0.32), d.between(1.7, 2.4), d.between(0.2, 0.45))
	case 6, 7: // red-brown
		return tint(d.between(0.07, 0.2), d.between(1.9, 2.6), d.between(0.4, 0.75))
	case 8: // grey-brown
		return tint(d.between(0.08, 0.25), d.between(1.4, 1.55), d.between(0.6, 0.8))
	}
	return tint(d.ratio(0.025, 0.1), d.between(1.45, 2.1), d.between(0.4, 0.7)) // dark brown
}

// own is a single root's own colours.
type own struct {
	white, tan rgb
	tone       [2]int // where in the noise this root's texture lies
	clear      float32
}

// single draws what one root has of the common look.
func (k *look) single(d dice) own {
	o := own{white: k.white, tan: k.tan, tone: [2]int{d.IntN(side), d.IntN(side)}}
	o.white = limited(times(o.white, float32(exponent(float64(k.spread*d.normal())))), 0.92)
	o.tan = times(o.tan, float32(exponent(float64(k.spread*d.normal()))))
	if k.clear > 0 {
		o.clear = float32(k.clear * d.between32(0.4, 1))
	}
	return o
}

// limited keeps a colour's luminance at most at y.
func limited(c rgb, y float32) rgb {
	if l := luminance(c); l > y {
		return times(c, y/l)
	}
	return c
}

// at is a root's own colour where it has browned by the share b: the logarithm goes evenly from white to brown.
func (o *own) at(b float32) rgb {
	switch {
	case b <= 0:
		return o.white
	case b >= 1:
		return o.tan
	}
	var c rgb
	for i := range c {
		c[i] = o.white[i] * power(o.tan[i]/o.white[i], b)
	}
	return c
}

// power is x to the power of t for t within 0..1.
func power(x, t float32) float32 {
	return float32(exponent(float64(float64(t) * logarithm(math.Max(1e-4, float64(x))))))
}
