package colours

import (
	"image/color"
	"math"
	"testing"
)

// linear is a colour's light by channel (IEC 61966-2-1).
func linear(c color.RGBA) [3]float64 {
	var l [3]float64
	for k, code := range []uint8{c.R, c.G, c.B} {
		v := float64(code) / 255
		if l[k] = v / 12.92; v > 0.04045 {
			l[k] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return l
}

// contrast is that of WCAG 2.2.
func contrast(a, b color.RGBA) float64 {
	light := func(c color.RGBA) float64 { l := linear(c); return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] + 0.05 }
	return math.Max(light(a)/light(b), light(b)/light(a))
}

// The matrices that turn linear light into what someone without one kind of cone sees: Machado, Oliveira & Fernandes 2009, IEEE Trans.
// Vis. Comput. Graph. 15, 1291-1298, severity 1 (from memory).
var colourVision = map[string][3][3]float64{
	"all cones":          {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"no cones for red":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"no cones for green": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"no cones for blue":  {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// labOf is a colour in CIELAB as someone sees it (D65).
func labOf(c color.RGBA, sees [3][3]float64) [3]float64 {
	l, from := [3]float64{}, linear(c)
	for i := range l {
		for k := range from {
			l[i] += sees[i][k] * from[k]
		}
		l[i] = math.Min(1, math.Max(0, l[i]))
	}
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124*l[0] + 0.3576*l[1] + 0.1805*l[2]) / 0.9505)
	y := f(0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2])
	z := f((0.0193*l[0] + 0.1192*l[1] + 0.9505*l[2]) / 1.089)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// Treatments' lines keep 3 : 1 against the page (WCAG 2.2, 1.4.11) and everybody can tell them apart: at least 10 apart in CIELAB, where 2.3 is
// just noticed (Mahy, Van Eycken & Oosterlinck 1994, Color Res. Appl. 19, 105-121).
func TestTreatmentsAreToldApart(t *testing.T) {
	for name, scheme := range map[string]scheme{"light": Light, "dark": dark} {
		for i, a := range scheme.treatments {
			for _, ground := range []color.RGBA{scheme.Paper, scheme.Panel} {
				if got := contrast(a, ground); got < 3 {
					t.Errorf("%s: treatment %d has %.2f : 1 against %s", name, i, got, hexOf(ground))
				}
			}
			for vision, sees := range colourVision {
				for k, b := range scheme.treatments[:i] {
					p, q := labOf(a, sees), labOf(b, sees)
					if d := math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2]); d < 10 {
						t.Errorf("%s, %s: treatments %d and %d are %.1f apart", name, vision, k, i, d)
					}
				}
			}
		}
	}
}

// Twelve treatments have a colour each.
func TestTwelveTreatmentsHaveColours(t *testing.T) {
	if n := len(Light.treatments); n < 12 || n != len(dark.treatments) {
		t.Errorf("%d colours, in the dark %d", n, len(dark.treatments))
	}
	if a, b := Class(7), Class(11); a == b {
		t.Errorf("the eighth and the twelfth treatment are both %s", a)
	}
	if a, b := Class(len(Light.treatments)), Class(40); a != b {
		t.Errorf("beyond the colours there are %s and %s", a, b)
	}
}
