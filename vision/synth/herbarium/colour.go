package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// lch is a colour in CIELAB (ISO/CIE 11664-4, white D65): lightness, chroma, and hue angle in degrees.
type lch struct{ l, c, h float64 }

// whiteD65 is the white of sRGB (IEC 61966-2-1), Y of 1.
var whiteD65 = [3]float64{0.95047, 1, 1.08883}

// light returns the colour in linear sRGB, drawn into the range of reflectances where it lies outside
// (CIE 15:2004, 8.2.1, turned round; the matrix is that of IEC 61966-2-1).
func (k lch) light() closeup.RGB {
	a, b := k.c*math.Cos(k.h*math.Pi/180), k.c*math.Sin(k.h*math.Pi/180)
	y := (k.l + 16) / 116
	f := [3]float64{y + a/500, y, y - b/200}
	var w [3]float64
	for i, t := range f {
		if t > 6.0/29 {
			w[i] = whiteD65[i] * t * t * t
		} else {
			w[i] = whiteD65[i] * 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0/29)
		}
	}
	return closeup.RGB{
		reflected(3.2406*w[0] - 1.5372*w[1] - 0.4986*w[2]),
		reflected(-0.9689*w[0] + 1.8758*w[1] + 0.0415*w[2]),
		reflected(0.0557*w[0] - 0.2040*w[1] + 1.0570*w[2]),
	}
}

// mostReflected is the most that anything here sends back, as a share of the light.
const mostReflected = 0.95

func reflected(v float64) float32 { return float32(clamp(v, 0.002, mostReflected)) }

// toward returns the colour a share k of the way to another, hue by the shorter way round.
func (k lch) toward(o lch, share float64) lch {
	turn := math.Mod(o.h-k.h+540, 360) - 180
	return lch{mix(k.l, o.l, share), mix(k.c, o.c, share), k.h + turn*share}
}

// scattered returns the colour a little changed, by the given standard deviations.
func (k lch) scattered(d dice, l, c, h float64) lch {
	return lch{clamp(d.around(k.l, l), 4, 96), max(0, d.around(k.c, c)), d.around(k.h, h)}
}

func blend(a, b closeup.RGB, k float32) closeup.RGB {
	return closeup.RGB{a[0] + (b[0]-a[0])*k, a[1] + (b[1]-a[1])*k, a[2] + (b[2]-a[2])*k}
}

func scaled(a closeup.RGB, k float32) closeup.RGB { return closeup.RGB{a[0] * k, a[1] * k, a[2] * k} }
