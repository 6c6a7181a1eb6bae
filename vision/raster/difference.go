package raster

import "math"

// Difference returns the CIEDE2000 colour difference of two colours, kL = kC = kH = 1 (ISO/CIE 11664-6:2014; step by step in Sharma,
// Wu & Dalal 2005, Color Research & Application 30, 21-30, eq. 2-22). Some one is what an eye just tells apart side by side.
//
// Special cases are: a colour without chroma has no hue and counts as having the other's; two hues half a turn apart take the
// mean on the side that their order gives, so that there rounding decides.
func (c Lab) Difference(o Lab) float64 {
	c1, h1, c2, h2 := c.stretched(o)
	meanL, meanC := (c.L+o.L)/2, (c1+c2)/2
	dL, dC := o.L-c.L, c2-c1

	turn := h2 - h1
	switch {
	case c1*c2 == 0:
		turn = 0
	case turn > 180:
		turn -= 360
	case turn < -180:
		turn += 360
	}
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(turn/2*math.Pi/180)

	meanH := h1 + h2
	switch {
	case c1*c2 == 0:
	case math.Abs(h1-h2) <= 180:
		meanH /= 2
	case meanH < 360:
		meanH = (meanH + 360) / 2
	default:
		meanH = (meanH - 360) / 2
	}
	cos := func(deg float64) float64 { return math.Cos(deg * math.Pi / 180) }
	t := 1 - 0.17*cos(meanH-30) + 0.24*cos(2*meanH) + 0.32*cos(3*meanH+6) - 0.20*cos(4*meanH-63)
	l50 := Sq(meanL - 50)
	sL := 1 + 0.015*l50/math.Sqrt(20+l50)
	sC, sH := 1+0.045*meanC, 1+0.015*meanC*t
	rT := -2 * math.Sqrt(seventh(meanC)) * math.Sin(60*math.Exp(-Sq((meanH-275)/25))*math.Pi/180)
	return math.Sqrt(Sq(dL/sL) + Sq(dC/sC) + Sq(dH/sH) + rT*dC/sC*dH/sH)
}

// stretched returns chroma and hue in degrees of both colours with a* stretched as CIEDE2000 does, which spreads greys.
func (c Lab) stretched(o Lab) (c1, h1, c2, h2 float64) {
	g := 1 + 0.5*(1-math.Sqrt(seventh((c.Chroma()+o.Chroma())/2)))
	a, b := Lab{c.L, g * c.A, c.B}, Lab{o.L, g * o.A, o.B}
	return a.Chroma(), a.HueDeg(), b.Chroma(), b.HueDeg()
}

// seventh is C⁷/(C⁷ + 25⁷).
func seventh(c float64) float64 {
	p := math.Pow(c, 7)
	return p / (p + 6103515625)
}
