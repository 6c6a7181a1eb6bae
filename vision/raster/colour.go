package raster

import "math"

// Lab is a colour in CIELAB (ISO/CIE 11664-4), white D65.
type Lab struct{ L, A, B float64 }

// Chroma is C*_ab.
func (c Lab) Chroma() float64 { return math.Hypot(c.A, c.B) }

// HueDeg is h_ab in degrees, 0 to 360.
func (c Lab) HueDeg() float64 {
	h := math.Atan2(c.B, c.A) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

// linear sRGB to CIE XYZ over the white's Y, from the primaries of ITU-R BT.709-6 and D65 (0.3127, 0.3290).
var toXYZ = rgbToXYZ()

var whiteXYZ = [3]float64{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290}

// OverWhite is linear sRGB to X, Y and Z over white's, row by row.
var OverWhite = func() (m [9]float32) {
	for i := range m {
		m[i] = float32(toXYZ[i/3][i%3] / whiteXYZ[i/3])
	}
	return m
}()

// rgbToXYZ derives the matrix from the primaries' chromaticities (SMPTE RP 177-1993).
func rgbToXYZ() (m [3][3]float64) {
	prim := [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	var eq [3][4]float64
	for i, p := range prim {
		col := [3]float64{p[0] / p[1], 1, (1 - p[0] - p[1]) / p[1]}
		for r := range 3 {
			eq[r][i] = col[r]
		}
	}
	for r := range 3 {
		eq[r][3] = whiteXYZ[r]
	}
	s, _ := solve3(eq)
	for r := range 3 {
		for i := range 3 {
			m[r][i] = eq[r][i] * s[i]
		}
	}
	return m
}

// LabOf converts linear sRGB, 1 for white, to CIELAB (CIE 15:2004, 8.2.1.1).
func LabOf(c RGB) Lab {
	var f [3]float64
	for r := range f {
		xyz := toXYZ[r][0]*float64(c[0]) + toXYZ[r][1]*float64(c[1]) + toXYZ[r][2]*float64(c[2])
		f[r] = labCurve(xyz / whiteXYZ[r])
	}
	return Lab{116*f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])}
}

// linear returns the linear sRGB of a colour; what the screen cannot show is below 0 or above 1.
func (c Lab) linear() (rgb RGB) {
	fy := (c.L + 16) / 116
	f := [3]float64{fy + c.A/500, fy, fy - c.B/200}
	var xyz [3]float64
	for i, t := range f {
		if t > 6.0/29 {
			xyz[i] = whiteXYZ[i] * t * t * t
		} else {
			xyz[i] = whiteXYZ[i] * 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0/29)
		}
	}
	for r := range rgb {
		rgb[r] = float32(fromXYZ[3*r]*xyz[0] + fromXYZ[3*r+1]*xyz[1] + fromXYZ[3*r+2]*xyz[2])
	}
	return rgb
}

// Under returns what a colour looks like where the white balance is off by gains: red, green and blue light times these.
func (c Lab) Under(gains RGB) Lab { return LabOf(c.linear().Scaled(gains)) }

// DGCI returns the dark-green colour index of the colour as a screen shows it; see dgci.
func (c Lab) DGCI() float64 {
	var code [3]float64
	for k, v := range c.linear() {
		code[k] = FromLinear(math.Min(1, math.Max(0, float64(v))))
	}
	return dgci(code[0], code[1], code[2])
}

// Distance is ΔE*ab (CIE 15:2004, 8.2.1.3).
func (c Lab) Distance(d Lab) float64 {
	return math.Sqrt(Sq(c.L-d.L) + Sq(c.A-d.A) + Sq(c.B-d.B))
}

// fromXYZ is the inverse of toXYZ.
var fromXYZ = func() Matrix3 {
	m := Matrix3{toXYZ[0][0], toXYZ[0][1], toXYZ[0][2], toXYZ[1][0], toXYZ[1][1], toXYZ[1][2], toXYZ[2][0], toXYZ[2][1], toXYZ[2][2]}
	return m.Inverse()
}()

func labCurve(t float64) float64 {
	const d = 6.0 / 29
	if t > d*d*d {
		return math.Cbrt(t)
	}
	return t/(3*d*d) + 4.0/29
}

// dgci returns the dark-green colour index of a colour in sRGB codes over their greatest: the mean of (H − 60)/60, 1 − S and
// 1 − B, with H in degrees and S, B of HSB from 0 to 1 (Karcher & Richardson 2003, Crop Science 43, 943-951). It is
// meant for hues from 60° to 120°. A grey has no hue and gives NaN.
func dgci(r, g, b float64) float64 {
	top, low := math.Max(r, math.Max(g, b)), math.Min(r, math.Min(g, b))
	if top == low {
		return math.NaN()
	}
	var h float64
	switch d := top - low; top {
	case r:
		h = math.Mod((g-b)/d+6, 6)
	case g:
		h = (b-r)/d + 2
	default:
		h = (r-g)/d + 4
	}
	return ((60*h-60)/60 + (1 - (top-low)/top) + (1 - top)) / 3
}
