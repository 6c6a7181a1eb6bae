package raster

import (
	"math"
	"sort"
)

// LinearOf holds the linear light of each 8-bit sRGB code, 0 to 1 (IEC 61966-2-1:1999, 5.2).
var LinearOf = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(ToLinear(float64(i) / 255))
	}
	return t
}()

// LeastLight is what light is taken for at least where something is divided by it, of the brightest that a file can hold: a third of what an
// 8-bit code of 1 stands for.
const LeastLight = 1e-4

// ToLinear is the inverse of the sRGB transfer curve: v is the code over its greatest, 0 to 1 (IEC 61966-2-1:1999, 5.2).
func ToLinear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// FromLinear is the sRGB transfer curve: linear light 0 to 1 gives the code over its greatest.
func FromLinear(l float64) float64 {
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

// RGB is an amount of light in linear sRGB; 1 is the brightest code. After white balance 1 is the card's paper.
type RGB [3]float32

// Scaled multiplies channel by channel.
func (c RGB) Scaled(g RGB) RGB { return RGB{c[0] * g[0], c[1] * g[1], c[2] * g[2]} }

// MiddleRGB returns the mean of the middle half of each channel's values: as little moved by what does not belong as the median, but finer than the
// codes of 8 bits that light comes in.
func MiddleRGB(c []RGB) (m RGB) {
	v := make([]float64, len(c))
	for k := range m {
		for i := range c {
			v[i] = float64(c[i][k])
		}
		m[k] = float32(middle(v))
	}
	return m
}

// middle is the mean of the values from the first to the third quartile, which it sorts; NaN for none.
func middle(v []float64) float64 {
	sort.Float64s(v)
	half := v[len(v)/4 : len(v)-len(v)/4]
	sum := 0.0
	for _, x := range half {
		sum += x
	}
	return sum / float64(len(half))
}
