package num

import "math"

// RGB is an amount of light: linear red, green and blue of the sRGB primaries.
type RGB [3]float32

func (c RGB) Times(g float32) RGB { return RGB{c[0] * g, c[1] * g, c[2] * g} }

func Mixed(a, b RGB, t float64) RGB {
	u := float32(t)
	return RGB{a[0] + (b[0]-a[0])*u, a[1] + (b[1]-a[1])*u, a[2] + (b[2]-a[2])*u}
}

// Linear is the inverse of the sRGB curve, code 0 to 255 (IEC 61966-2-1).
func Linear(code uint8) float64 {
	s := float64(code) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// Encoded is the sRGB curve, 0 to 255 (IEC 61966-2-1).
func Encoded(l float64) float64 {
	if l <= 0.0031308 {
		return 255 * 12.92 * l
	}
	return 255 * (1.055*math.Pow(l, 1/2.4) - 0.055)
}

// whiteD65 is the white of CIE illuminant D65, 2° observer, as IEC 61966-2-1 rounds it.
var whiteD65 = [3]float64{0.95047, 1, 1.08883}

// FromLCh returns the colour of CIELAB lightness, chroma and hue angle in degrees (CIE 15:2004, 8.2.1; the matrix is the
// inverse one of IEC 61966-2-1). What sRGB cannot show is cut at 0.
func FromLCh(l, c, h float64) RGB {
	sin, cos := math.Sincos(Rad(h))
	fy := (l + 16) / 116
	f := [3]float64{fy + c*cos/500, fy, fy - c*sin/200}
	var xyz [3]float64
	for i, t := range f {
		if t > 6.0/29 {
			xyz[i] = whiteD65[i] * t * t * t
		} else {
			xyz[i] = whiteD65[i] * 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0/29)
		}
	}
	cut := func(v float64) float32 { return float32(math.Max(v, 0)) }
	return RGB{
		cut(3.2404542*xyz[0] - 1.5371385*xyz[1] - 0.4985314*xyz[2]),
		cut(-0.9692660*xyz[0] + 1.8760108*xyz[1] + 0.0415560*xyz[2]),
		cut(0.0556434*xyz[0] - 0.2040259*xyz[1] + 1.0572252*xyz[2]),
	}
}

// ChromaHue returns CIELAB C*_ab and h_ab in degrees, 0 to 360, of a colour (CIE 15:2004, 8.2.1).
func ChromaHue(p RGB) (c, h float64) {
	r, g, b := float64(p[0]), float64(p[1]), float64(p[2])
	xyz := [3]float64{
		0.4124564*r + 0.3575761*g + 0.1804375*b,
		0.2126729*r + 0.7151522*g + 0.0721750*b,
		0.0193339*r + 0.1191920*g + 0.9503041*b,
	}
	var f [3]float64
	for i := range f {
		t := xyz[i] / whiteD65[i]
		if t > math.Pow(6.0/29, 3) {
			f[i] = math.Cbrt(t)
		} else {
			f[i] = t/(3*(6.0/29)*(6.0/29)) + 4.0/29
		}
	}
	a, bb := 500*(f[0]-f[1]), 200*(f[1]-f[2])
	h = math.Atan2(bb, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return math.Hypot(a, bb), h
}
