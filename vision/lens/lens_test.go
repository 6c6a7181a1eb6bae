package lens

import (
	"math"
	"testing"

	"gocv.io/x/gocv"
)

// lenses of a 12-megapixel photo: barrel, pincushion, a wide-angle lens and one with its middle off the picture's.
var someLenses = map[string]Lens{
	"barrel":      {F: 3030, CX: 2015.5, CY: 1511.5, K1: -0.08},
	"pincushion":  {F: 3030, CX: 2015.5, CY: 1511.5, K1: 0.05, K2: -0.01},
	"wide":        {F: 2000, CX: 2015.5, CY: 1511.5, K1: -0.1, K2: 0.01},
	"off middle":  {F: 3030, CX: 1990, CY: 1530, K1: -0.03, K2: 0.004},
	"hardly bent": {F: 3030, CX: 2015.5, CY: 1511.5, K1: 1e-5},
}

const width, height = 4032, 3024

// everywhere calls see with points all over the picture, its corners included.
func everywhere(see func(x, y float64)) {
	for _, v := range []float64{0, 0.1, 0.31, 0.5, 0.77, 1} {
		for _, u := range []float64{0, 0.07, 0.5, 0.64, 0.9, 1} {
			see(u*(width-1), v*(height-1))
		}
	}
}

func TestAStraightenedPointBendsBackToItself(t *testing.T) {
	for name, l := range someLenses {
		r := l.Over(width, height)
		if r == nil {
			t.Fatalf("%s: refused", name)
		}
		worst := 0.0
		everywhere(func(x, y float64) {
			u, v := r.Straight(x, y)
			bx, by := r.Bent(u, v)
			worst = math.Max(worst, math.Hypot(bx-x, by-y))
		})
		t.Logf("%s: %.2g px", name, worst)
		if !(worst < 0.01) {
			t.Errorf("%s: there and back is %g px off", name, worst)
		}
	}
}

// The formula as OpenCV's documentation of calib3d writes it, by hand, and OpenCV's own inverse of it.
func TestALensBendsAsOpenCVSays(t *testing.T) {
	for name, l := range someLenses {
		r := l.Over(width, height)
		a, b := 0.31, -0.22
		rr := a*a + b*b
		d := 1 + l.K1*rr + l.K2*rr*rr
		if x, y := r.Bent(l.CX+l.F*a, l.CY+l.F*b); math.Hypot(x-(l.CX+l.F*a*d), y-(l.CY+l.F*b*d)) > 1e-9 {
			t.Errorf("%s: (%v, %v) instead of (%v, %v)", name, x, y, l.CX+l.F*a*d, l.CY+l.F*b*d)
		}
		everywhere(func(x, y float64) {
			u, v := r.Straight(x, y)
			wantU, wantV := undistortedByOpenCV(t, l, x, y)
			// OpenCV stops after five steps of a fixed-point iteration, each of which leaves up to
			// |2·K1·r²/(1 + K1·r²)| of the shift.
			rr := ((u-l.CX)*(u-l.CX) + (v-l.CY)*(v-l.CY)) / (l.F * l.F)
			left := math.Hypot(x-u, y-v) * math.Pow(2*math.Abs(l.K1)*rr/(1+l.K1*rr), 5)
			if d := math.Hypot(u-wantU, v-wantV); d > 0.001+left {
				t.Errorf("%s: (%v, %v) is straightened to (%v, %v), OpenCV has (%v, %v)", name, x, y, u, v, wantU, wantV)
			}
		})
	}
}

func undistortedByOpenCV(t *testing.T, l Lens, x, y float64) (u, v float64) {
	t.Helper()
	row := func(v ...float64) gocv.Mat {
		m := gocv.NewMatWithSize(1, len(v), gocv.MatTypeCV64F)
		for i := range v {
			m.SetDoubleAt(0, i, v[i])
		}
		return m
	}
	k := gocv.NewMatWithSize(3, 3, gocv.MatTypeCV64F)
	defer k.Close()
	for i, e := range []float64{l.F, 0, l.CX, 0, l.F, l.CY, 0, 0, 1} {
		k.SetDoubleAt(i/3, i%3, e)
	}
	dist := row(l.K1, l.K2, 0, 0)
	defer dist.Close()
	none := gocv.NewMat()
	defer none.Close()
	src := gocv.NewMatWithSize(1, 1, gocv.MatTypeCV64FC2)
	defer src.Close()
	src.SetDoubleAt(0, 0, x)
	src.SetDoubleAt(0, 1, y)
	dst := gocv.NewMat()
	defer dst.Close()
	gocv.UndistortPoints(src, &dst, k, dist, none, k)
	return dst.GetDoubleAt(0, 0), dst.GetDoubleAt(0, 1)
}

// What lies far outside the picture stays outside: a barrel lens's formula would bend it back in.
func TestPointsFarOutsideStayOutside(t *testing.T) {
	r := Lens{F: 3030, CX: 2015.5, CY: 1511.5, K1: -0.08}.Over(width, height)
	last := 0.0
	for k := range 200 {
		x, y := r.Bent(2015.5+100*float64(k), 1511.5+75*float64(k))
		d := math.Hypot(x-2015.5, y-1511.5)
		if k > 0 && d <= last {
			t.Fatalf("at %d steps out the picture turns back: %v after %v px", k, d, last)
		}
		last = d
		if u, v := r.Straight(x, y); math.Hypot(u-2015.5-100*float64(k), v-1511.5-75*float64(k)) > 0.01 {
			t.Errorf("%d steps out: back at (%v, %v)", k, u, v)
		}
	}
}

func TestALensThatFoldsThePictureIsNone(t *testing.T) {
	for name, l := range map[string]Lens{"no focal length": {K1: -0.1}, "folds": {F: 2000, CX: 2015.5, CY: 1511.5, K1: -0.5}} {
		if l.Over(width, height) != nil {
			t.Errorf("%s: taken", name)
		}
	}
}
