package roots

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// Look is how the roots of a drawing look; single roots differ a little from it.
type Look struct {
	white, tan num.RGB // own colours, linear
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

// NewLook draws how roots look.
func NewLook(d num.Dice, wet float64, ordinary bool) *Look {
	k := &Look{white: ownWhite(d, ordinary), tan: ownBrown(d), spread: d.Between(0.01, 0.2)}
	k.round, k.contrast, k.rim = d.Between32(0, 1), d.Between32(0, 0.9), d.Between32(0, 0.3)
	if d.Chance(0.2) {
		k.ridges = d.Between32(0.1, 0.6)
	}
	if d.Chance(0.2) {
		k.clear, k.core = d.Between32(0.1, 0.65), d.Between32(-0.5, 0.5)
	}
	if wet > 0.3 {
		k.gloss, k.sharp = float32(float64(d.Ratio(0.05, 1.5)*wet)), d.Whole(3, 7)
	}
	k.grain = d.Between32(0, 0.16)
	if d.Chance(0.4) {
		k.dirt = d.Between32(0.02, 0.5)
	}
	k.shadow, k.lift = d.Between32(0.05, 0.75), d.Between32(0.8, 2.2)
	if d.Chance(0.25) {
		k.even, k.clear = true, 0
	}
	return k
}

// ownWhite draws the own colour of white roots.
func ownWhite(d num.Dice, ordinary bool) num.RGB {
	if ordinary {
		return cream(d, d.Between(0.34, 0.92), d.Between(0.65, 1.0)) // as wide as it may be, so that how light roots are has to be seen in each photo
	}
	y := d.Between(0.3, 0.9)
	switch d.IntN(6) {
	case 0: // white
		return num.Tint(d.Between(0.55, 0.9), d.Between(0.97, 1.05), d.Between(0.88, 1.04))
	case 1: // greyish
		return num.Tint(d.Between(0.2, 0.5), d.Between(0.97, 1.08), d.Between(0.8, 1.0))
	case 2: // pinkish
		return num.Tint(y, d.Between(1.08, 1.21), d.Between(0.85, 1.02))
	case 3: // yellowish
		return num.Tint(y, d.Between(1.08, 1.21), d.Between(0.45, 0.7))
	case 4: // ivory
		return num.Tint(d.Between(0.35, 0.8), d.Between(1.05, 1.18), d.Between(0.6, 0.85))
	}
	return cream(d, y, d.Between(0.55, 1.0))
}

// ClearOf lightens brown roots that would hardly show on the medium, as far as browns go.
func (k *Look) ClearOf(medium num.RGB) {
	least := min(0.38, float32(1.8*num.Luminance(medium)))
	if l := num.Luminance(k.tan); l < least {
		k.tan = num.Times(k.tan, least/l)
	}
}

// cream draws a white whose red grows as its blue falls, as it does from white over cream to straw.
func cream(d num.Dice, y, blue float64) num.RGB {
	return num.Tint(y, min(1.21, d.Between(0.97, 1.05)+float64((1-blue)*d.Between(0.08, 0.35))), blue)
}

// ownBrown draws the own colour of brown roots.
func ownBrown(d num.Dice) num.RGB {
	switch d.IntN(10) {
	case 0, 1: // tan
		return num.Tint(d.Between(0.16, 0.38), d.Between(1.45, 1.75), d.Between(0.4, 0.7))
	case 2, 3, 4, 5: // orange-brown
		return num.Tint(d.Between(0.12, 0.32), d.Between(1.7, 2.4), d.Between(0.2, 0.45))
	case 6, 7: // red-brown
		return num.Tint(d.Between(0.07, 0.2), d.Between(1.9, 2.6), d.Between(0.4, 0.75))
	case 8: // grey-brown
		return num.Tint(d.Between(0.08, 0.25), d.Between(1.4, 1.55), d.Between(0.6, 0.8))
	}
	return num.Tint(d.Ratio(0.025, 0.1), d.Between(1.45, 2.1), d.Between(0.4, 0.7)) // dark brown
}

// own is a single root's own colours.
type own struct {
	white, tan num.RGB
	tone       [2]int // where in the noise this root's texture lies
	clear      float32
}

// single draws what one root has of the common look.
func (k *Look) single(d num.Dice) own {
	o := own{white: k.white, tan: k.tan, tone: [2]int{d.IntN(canvas.Side), d.IntN(canvas.Side)}}
	o.white = limited(num.Times(o.white, float32(num.Exponent(float64(k.spread*d.Normal())))), 0.92)
	o.tan = num.Times(o.tan, float32(num.Exponent(float64(k.spread*d.Normal()))))
	if k.clear > 0 {
		o.clear = float32(k.clear * d.Between32(0.4, 1))
	}
	return o
}

// limited keeps a colour's luminance at most at y.
func limited(c num.RGB, y float32) num.RGB {
	if l := num.Luminance(c); l > y {
		return num.Times(c, y/l)
	}
	return c
}

// at is a root's own colour where it has browned by the share b: the logarithm goes evenly from white to brown.
func (o *own) at(b float32) num.RGB {
	switch {
	case b <= 0:
		return o.white
	case b >= 1:
		return o.tan
	}
	var c num.RGB
	for i := range c {
		c[i] = o.white[i] * power(o.tan[i]/o.white[i], b)
	}
	return c
}

// power is x to the power of t for t within 0..1.
func power(x, t float32) float32 {
	return float32(num.Exponent(float64(float64(t) * num.Logarithm(math.Max(1e-4, float64(x))))))
}
