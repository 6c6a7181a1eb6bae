package num

import "traygauge/vision/synth/closeup"

// RGB is linear light or reflectance, paper 1.
type RGB = closeup.RGB

// Tint is a colour of luminance y (linear, paper 1) whose red and blue stand in the given ratios to green.
func Tint(y, redGreen, blueGreen float64) RGB {
	g := y / (float64(0.2126*redGreen) + 0.7152 + float64(0.0722*blueGreen)) // the luminance of sRGB's primaries, IEC 61966-2-1
	return RGB{float32(g * redGreen), float32(g), float32(g * blueGreen)}
}

func Times(c RGB, k float32) RGB { return RGB{float32(c[0] * k), float32(c[1] * k), float32(c[2] * k)} }

func By(c, k RGB) RGB { return RGB{float32(c[0] * k[0]), float32(c[1] * k[1]), float32(c[2] * k[2])} }

func Sum(a, b RGB) RGB { return RGB{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func Mix(a, b RGB, t float32) RGB {
	return RGB{Blend32(a[0], b[0], t), Blend32(a[1], b[1], t), Blend32(a[2], b[2], t)}
}

// Grey returns c with its hue taken away by a share t, at the same luminance.
func Grey(c RGB, t float32) RGB {
	y := Luminance(c)
	return Mix(c, RGB{y, y, y}, t)
}

func Luminance(c RGB) float32 {
	return float32(0.2126*c[0]) + float32(0.7152*c[1]) + float32(0.0722*c[2])
}

// brownAbove is the ratio of red to green above which a root's own colour counts as brown.
const brownAbove = 1.3

// IsBrown reports whether a root of that own colour counts as brown.
func IsBrown(own RGB) bool { return own[0] > float32(brownAbove*own[1]) }
