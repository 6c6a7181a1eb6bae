package num

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// LCH is a colour in CIELAB (ISO/CIE 11664-4, white D65): lightness, chroma, and hue angle in degrees.
type LCH struct{ L, C, H float64 }

// whiteD65 is the white of sRGB (IEC 61966-2-1), Y of 1.
var whiteD65 = [3]float64{0.95047, 1, 1.08883}

// Light returns the colour in linear sRGB, drawn into the range of reflectances where it lies outside
// (CIE 15:2004, 8.2.1, turned round; the matrix is that of IEC 61966-2-1).
func (k LCH) Light() closeup.RGB {
	a, b := k.C*math.Cos(k.H*math.Pi/180), k.C*math.Sin(k.H*math.Pi/180)
	y := (k.L + 16) / 116
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

// MostReflected is the most that anything here sends back, as a share of the light.
const MostReflected = 0.95

func reflected(v float64) float32 { return float32(Clamp(v, 0.002, MostReflected)) }

// Toward returns the colour a share k of the way to another, hue by the shorter way round.
func (k LCH) Toward(o LCH, share float64) LCH {
	turn := math.Mod(o.H-k.H+540, 360) - 180
	return LCH{Mix(k.L, o.L, share), Mix(k.C, o.C, share), k.H + turn*share}
}

// Scattered returns the colour a little changed, by the given standard deviations.
func (k LCH) Scattered(d Dice, l, c, h float64) LCH {
	return LCH{Clamp(d.Around(k.L, l), 4, 96), max(0, d.Around(k.C, c)), d.Around(k.H, h)}
}

// Blend goes from a at k = 0 to b at k = 1.
func Blend(a, b closeup.RGB, k float32) closeup.RGB {
	return closeup.RGB{a[0] + (b[0]-a[0])*k, a[1] + (b[1]-a[1])*k, a[2] + (b[2]-a[2])*k}
}

func Scaled(a closeup.RGB, k float32) closeup.RGB { return closeup.RGB{a[0] * k, a[1] * k, a[2] * k} }
