// Package lens knows how lenses bend a picture, and the profiles that a trial keeps of them.
package lens

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Lens is how a photo's lens bends the picture: radially about the principal point (CX, CY), r_d = r_u (1 + K1 r_u² + K2 r_u⁴),
// with r_u where a pinhole would show a point and r_d where the photo shows it, both in units of the focal length
// (Brown 1971, Photogrammetric Engineering 37, 855-866, eq. for radial distortion; the signs are OpenCV's). F, CX and CY are in px.
type Lens struct{ F, CX, CY, K1, K2 float64 }

// Curve is a Lens made ready for many pixels of one picture. Beyond reach, a little outside the picture's corner, it magnifies
// evenly, so that no point far outside is bent back into the picture.
type Curve struct {
	Lens
	reach2, bentReach2 float64   // r_u² and r_d² up to which the formula holds
	back, slope        []float64 // r_u/r_d as a polynomial in r_d²/bentReach2, and its derivative
}

// terms of the inverse's polynomial leave less than 0.01 px for lenses that bend a 50-megapixel photo's corner by a tenth.
const terms = 10

// Over makes l ready for a picture of width × height px. It is nil for a lens without a focal length, and for one that bends too
// far to be followed, or would fold the picture over itself.
func (l Lens) Over(width, height int) *Curve {
	if !(l.F > 0) {
		return nil
	}
	far := math.Hypot(math.Max(l.CX, float64(width-1)-l.CX), math.Max(l.CY, float64(height-1)-l.CY)) / l.F
	r := Curve{Lens: l}
	for k := 0; ; k++ { // the radius that the picture's farthest corner shows
		ru := far * (0.5 + 0.01*float64(k))
		if l.stretch(ru*ru) < 0.1 || k > 200 {
			return nil
		}
		if rd := ru * l.bend(ru*ru); rd >= 1.05*far {
			r.reach2, r.bentReach2 = ru*ru, rd*rd
			break
		}
	}
	r.invert()
	if !r.comesBack() {
		return nil
	}
	return &r
}

// comesBack reports whether straightened points bend back to themselves, to a twentieth of a pixel, out to the formula's reach.
func (l *Curve) comesBack() bool {
	const steps = 50
	for i := range steps {
		x := l.F * math.Sqrt(l.bentReach2) * float64(i) / steps
		u, v := l.Straight(l.CX+x, l.CY)
		if back, _ := l.Bent(u, v); !(math.Abs(back-l.CX-x) < 0.05) {
			return false
		}
	}
	return true
}

// bend is r_d/r_u for a squared r_u.
func (l Lens) bend(r2 float64) float64 { return 1 + r2*(l.K1+r2*l.K2) }

// stretch is dr_d/dr_u for a squared r_u.
func (l Lens) stretch(r2 float64) float64 { return 1 + r2*(3*l.K1+r2*5*l.K2) }

// invert fits r_u/r_d at Chebyshev's points, where a polynomial of few terms comes near everywhere.
func (l *Curve) invert() {
	const points = 4 * terms
	a, b := mat.NewDense(points, terms, nil), mat.NewVecDense(points, nil)
	for i := range points {
		t := (1 - math.Cos(math.Pi*(float64(i)+0.5)/points)) / 2
		rd := math.Sqrt(t * l.bentReach2)
		ru := rd
		for range 50 { // Newton
			ru -= (ru*l.bend(ru*ru) - rd) / l.stretch(ru*ru)
		}
		b.SetVec(i, ru/rd)
		for k, p := 0, 1.0; k < terms; k, p = k+1, p*t {
			a.Set(i, k, p)
		}
	}
	var c mat.VecDense
	if err := c.SolveVec(a, b); err != nil {
		return
	}
	l.back = c.RawVector().Data
	radius := l.F * math.Sqrt(l.bentReach2)
	for n := len(l.back) - 1; n > 0 && math.Abs(l.back[n])*radius < 1e-4; n-- { // px: a lens that bends little is quickly worked out
		l.back = l.back[:n]
	}
	for k := range l.back[1:] {
		l.slope = append(l.slope, float64(k+1)*l.back[k+1])
	}
}

// Straight returns where a pinhole would show what the photo shows at (x, y).
func (l *Curve) Straight(x, y float64) (float64, float64) {
	x, y = x-l.CX, y-l.CY
	s := polynomial(l.back, math.Min(1, (x*x+y*y)/(l.F*l.F*l.bentReach2)))
	return l.CX + s*x, l.CY + s*y
}

// Bent is the inverse of Straight.
func (l *Curve) Bent(x, y float64) (float64, float64) {
	x, y = x-l.CX, y-l.CY
	s := l.bend(math.Min(l.reach2, (x*x+y*y)/(l.F*l.F)))
	return l.CX + s*x, l.CY + s*y
}

// StraightPixel is Straight with how large a pinhole would show the pixel: |det J| of it, which for r_u = s(t)·r_d is
// s·(s + 2·t·ds/dt), t = r_d²/bentReach2.
func (l *Curve) StraightPixel(x, y float64) (u, v, area float64) {
	x, y = x-l.CX, y-l.CY
	t := (x*x + y*y) / (l.F * l.F * l.bentReach2)
	if t >= 1 {
		s := polynomial(l.back, 1)
		return l.CX + s*x, l.CY + s*y, s * s
	}
	s := polynomial(l.back, t)
	return l.CX + s*x, l.CY + s*y, s * (s + 2*t*polynomial(l.slope, t))
}

// polynomial by Horner's rule, the constant first.
func polynomial(c []float64, t float64) (v float64) {
	for k := len(c) - 1; k >= 0; k-- {
		v = v*t + c[k]
	}
	return v
}
