package weave

import (
	"math"
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
)

// dice draws the parameters of a drawing.
type dice struct{ *rand.Rand }

func (d dice) chance(p float64) bool       { return d.Float64() < p }
func (d dice) in(lo, hi float64) float64   { return lo + (hi-lo)*d.Float64() }
func (d dice) in32(lo, hi float32) float32 { return lo + (hi-lo)*d.Float32() }
func (d dice) count(lo, hi int) int        { return lo + d.IntN(hi-lo+1) }
func (d dice) facing() (x, y float64)      { y, x = math.Sincos(d.in(0, 2*math.Pi)); return x, y }
func (d dice) somewhere() (x, y float64)   { return d.in(0, width), d.in(0, width) }
func (d dice) maybe(p, lo, hi float64) float64 {
	if d.chance(p) {
		return d.in(lo, hi)
	}
	return 0
}

// log draws so that each doubling is as likely as the next.
func (d dice) log(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

// pick draws an index, each with its weight.
func (d dice) pick(weights ...float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := sum * d.Float64()
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// rgb is linear, paper 1.
type rgb = closeup.RGB

// hue is a colour of a luminance (IEC 61966-2-1's primaries) whose red and blue stand in these ratios to green.
func hue(y, red, blue float64) rgb {
	g := y / (0.2126*red + 0.7152 + 0.0722*blue)
	return rgb{float32(g * red), float32(g), float32(g * blue)}
}

func luminance(c rgb) float32             { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }
func times(c rgb, k float32) rgb          { return rgb{c[0] * k, c[1] * k, c[2] * k} }
func plus(a, b rgb, k float32) rgb        { return rgb{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]} }
func mix(a, b rgb, t float32) rgb         { return plus(times(a, 1-t), b, t) }
func clamp01(x float32) float32           { return min(1, max(0, x)) }
func lerp(a, b, t float32) float32        { return a + (b-a)*t }
func ease(lo, hi, x float32) float32      { t := clamp01((x - lo) / (hi - lo)); return t * t * (3 - 2*t) }
func varied(d dice, c rgb, k float64) rgb { return times(c, float32(math.Exp(k*d.NormFloat64()))) }

// tint is a kind of colour: how often it is drawn, its least and greatest luminance, and red and blue as ratios to green.
type tint struct{ weight, y0, y1, red0, red1, blue0, blue1 float64 }

// tinted draws a colour of one of several kinds.
func (d dice) tinted(kinds ...tint) rgb {
	weights := make([]float64, len(kinds))
	for i, k := range kinds {
		weights[i] = k.weight
	}
	k := kinds[d.pick(weights...)]
	return hue(d.log(k.y0, k.y1), d.in(k.red0, k.red1), d.in(k.blue0, k.blue1))
}

// isBrown reports whether a root's own colour is tan to brown: its red is more than 1.3 times its green.
func isBrown(own rgb) bool { return own[0] > 1.3*own[1] }
