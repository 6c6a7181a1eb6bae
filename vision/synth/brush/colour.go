package brush

import "traygauge/vision/synth/closeup"

type rgb = closeup.RGB

// tint is a colour of luminance y (linear, paper 1) whose red and blue stand in the given ratios to green.
func tint(y, redGreen, blueGreen float64) rgb {
	g := y / (float64(0.2126*redGreen) + 0.7152 + float64(0.0722*blueGreen)) // the luminance of sRGB's primaries, IEC 61966-2-1
	return rgb{float32(g * redGreen), float32(g), float32(g * blueGreen)}
}

func times(c rgb, k float32) rgb { return rgb{float32(c[0] * k), float32(c[1] * k), float32(c[2] * k)} }

func by(c, k rgb) rgb { return rgb{float32(c[0] * k[0]), float32(c[1] * k[1]), float32(c[2] * k[2])} }

func sum(a, b rgb) rgb { return rgb{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func mix(a, b rgb, t float32) rgb {
	return rgb{blend32(a[0], b[0], t), blend32(a[1], b[1], t), blend32(a[2], b[2], t)}
}

// grey returns c with its hue taken away by a share t, at the same luminance.
func grey(c rgb, t float32) rgb {
	y := luminance(c)
	return mix(c, rgb{y, y, y}, t)
}

func luminance(c rgb) float32 {
	return float32(0.2126*c[0]) + float32(0.7152*c[1]) + float32(0.0722*c[2])
}

// brownAbove is the ratio of red to green above which a root's own colour counts as brown.
const brownAbove = 1.3

func isBrown(own rgb) bool { return own[0] > float32(brownAbove*own[1]) }
