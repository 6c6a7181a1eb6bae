package foliage

import "math"

// rgb is linear light or reflectance in sRGB's primaries (IEC 61966-2-1).
type rgb struct{ r, g, b float64 }

func (c rgb) times(k float64) rgb { return rgb{c.r * k, c.g * k, c.b * k} }
func (c rgb) plus(d rgb) rgb      { return rgb{c.r + d.r, c.g + d.g, c.b + d.b} }
func (c rgb) by(d rgb) rgb        { return rgb{c.r * d.r, c.g * d.g, c.b * d.b} }
func (c rgb) to(d rgb, k float64) rgb {
	return rgb{mixed(c.r, d.r, k), mixed(c.g, d.g, k), mixed(c.b, d.b, k)}
}
func grey(v float64) rgb { return rgb{v, v, v} }

// lab is a colour in CIELAB (ISO/CIE 11664-4) under D65, the white of sRGB.
type lab struct{ l, a, b float64 }

// lch is the same by lightness, chroma and hue in degrees.
func lch(l, c, h float64) lab {
	s, k := math.Sincos(h * degree)
	return lab{l, c * k, c * s}
}

func (c lab) to(d lab, k float64) lab {
	return lab{mixed(c.l, d.l, k), mixed(c.a, d.a, k), mixed(c.b, d.b, k)}
}

func (c lab) chroma() float64 { return math.Sqrt(c.a*c.a + c.b*c.b) }

// hue is from 0 to 360 degrees.
func (c lab) hue() float64 { return math.Mod(math.Atan2(c.b, c.a)/degree+360, 360) }

const darkest = 0.0015 // no tissue, soil or plastic sends back less

// linear is the reflectance that looks like c: CIELAB to XYZ (ISO/CIE 11664-4, 5.2) to sRGB's primaries (IEC 61966-2-1).
func (c lab) linear() rgb {
	fy := (c.l + 16) / 116
	x, y, z := 0.95047*unroot(fy+c.a/500), unroot(fy), 1.08883*unroot(fy-c.b/200)
	return rgb{
		max(darkest, 3.2404542*x-1.5371385*y-0.4985314*z),
		max(darkest, -0.9692660*x+1.8760108*y+0.0415560*z),
		max(darkest, 0.0556434*x-0.2040259*y+1.0572252*z),
	}
}

func unroot(f float64) float64 {
	const knee = 6.0 / 29
	if f > knee {
		return f * f * f
	}
	return 3 * knee * knee * (f - 4.0/29)
}

// lab is the way back.
func (c rgb) lab() lab {
	fx := root((0.4124564*c.r + 0.3575761*c.g + 0.1804375*c.b) / 0.95047)
	fy := root(0.2126729*c.r + 0.7151522*c.g + 0.0721750*c.b)
	fz := root((0.0193339*c.r + 0.1191920*c.g + 0.9503041*c.b) / 1.08883)
	return lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

func root(t float64) float64 {
	const knee = 6.0 / 29
	if t > knee*knee*knee {
		return math.Cbrt(t)
	}
	return t/(3*knee*knee) + 4.0/29
}
