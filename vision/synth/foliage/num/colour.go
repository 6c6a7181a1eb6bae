package num

import "math"

// RGB is linear light or reflectance in sRGB's primaries (IEC 61966-2-1).
type RGB struct{ R, G, B float64 }

func (c RGB) Times(k float64) RGB { return RGB{c.R * k, c.G * k, c.B * k} }
func (c RGB) Plus(d RGB) RGB      { return RGB{c.R + d.R, c.G + d.G, c.B + d.B} }
func (c RGB) By(d RGB) RGB        { return RGB{c.R * d.R, c.G * d.G, c.B * d.B} }
func (c RGB) To(d RGB, k float64) RGB {
	return RGB{Mixed(c.R, d.R, k), Mixed(c.G, d.G, k), Mixed(c.B, d.B, k)}
}

// Grey is a reflectance without hue.
func Grey(v float64) RGB { return RGB{v, v, v} }

// Lab is a colour in CIELAB (ISO/CIE 11664-4) under D65, the white of sRGB.
type Lab struct{ L, A, B float64 }

// Lch is the same by lightness, chroma and hue in degrees.
func Lch(l, c, h float64) Lab {
	s, k := math.Sincos(h * Degree)
	return Lab{l, c * k, c * s}
}

func (c Lab) To(d Lab, k float64) Lab {
	return Lab{Mixed(c.L, d.L, k), Mixed(c.A, d.A, k), Mixed(c.B, d.B, k)}
}

func (c Lab) Chroma() float64 { return math.Sqrt(c.A*c.A + c.B*c.B) }

// Hue is from 0 to 360 degrees.
func (c Lab) Hue() float64 { return math.Mod(math.Atan2(c.B, c.A)/Degree+360, 360) }

const Darkest = 0.0015 // no tissue, soil or plastic sends back less

// Linear is the reflectance that looks like c: CIELAB to XYZ (ISO/CIE 11664-4, 5.2) to sRGB's primaries (IEC 61966-2-1).
func (c Lab) Linear() RGB {
	fy := (c.L + 16) / 116
	x, y, z := 0.95047*unroot(fy+c.A/500), unroot(fy), 1.08883*unroot(fy-c.B/200)
	return RGB{
		max(Darkest, 3.2404542*x-1.5371385*y-0.4985314*z),
		max(Darkest, -0.9692660*x+1.8760108*y+0.0415560*z),
		max(Darkest, 0.0556434*x-0.2040259*y+1.0572252*z),
	}
}

func unroot(f float64) float64 {
	const knee = 6.0 / 29
	if f > knee {
		return f * f * f
	}
	return 3 * knee * knee * (f - 4.0/29)
}

// Lab is the way back.
func (c RGB) Lab() Lab {
	fx := root((0.4124564*c.R + 0.3575761*c.G + 0.1804375*c.B) / 0.95047)
	fy := root(0.2126729*c.R + 0.7151522*c.G + 0.0721750*c.B)
	fz := root((0.0193339*c.R + 0.1191920*c.G + 0.9503041*c.B) / 1.08883)
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

func root(t float64) float64 {
	const knee = 6.0 / 29
	if t > knee*knee*knee {
		return math.Cbrt(t)
	}
	return t/(3*knee*knee) + 4.0/29
}

// Shifted scatters a colour by steps of lightness and hue.
func (c Lab) Shifted(l, h float64) Lab { return Lch(Clamp(c.L+l, 5, 95), c.Chroma(), c.Hue()+h) }
