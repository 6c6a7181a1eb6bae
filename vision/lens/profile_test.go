package lens

import (
	"math"
	"testing"
)

// The corners of an upright 3 × 2 picture and where EXIF's eight orientations have them in the file (CIPA DC-008-2016, 4.6.4: the
// side of the picture that row 0 and column 0 of the file are).
func TestStoredPointsOfTurnedPictures(t *testing.T) {
	// The upright picture's top left and top right.
	for orientation, want := range map[int][2][2]float64{
		1: {{0, 0}, {2, 0}},
		2: {{2, 0}, {0, 0}}, // row 0 is the top, column 0 the right-hand side
		3: {{2, 1}, {0, 1}}, // bottom, right
		4: {{0, 1}, {2, 1}}, // bottom, left
		5: {{0, 0}, {0, 2}}, // left, top
		6: {{0, 2}, {0, 0}}, // right, top
		7: {{1, 2}, {1, 0}}, // right, bottom
		8: {{1, 0}, {1, 2}}, // left, bottom
	} {
		for i, at := range [2][2]float64{{0, 0}, {2, 0}} {
			x, y := Stored(at[0], at[1], 3, 2, orientation)
			if x != want[i][0] || y != want[i][1] {
				t.Errorf("orientation %d: %v lies at (%v, %v) in the file, want %v", orientation, at, x, y, want[i])
			}
			if bx, by := upright(x, y, 3, 2, orientation); bx != at[0] || by != at[1] {
				t.Errorf("orientation %d: %v comes back as (%v, %v)", orientation, at, bx, by)
			}
		}
	}
}

func TestAProfileIsForItsOwnLensAlone(t *testing.T) {
	k := Key{Camera: "Maker Phone 1", Focal35: 26, FocalMM: 5.6, Aspect: 4.0 / 3}
	for name, o := range map[string]Key{
		"another phone":     {Camera: "Maker Phone 2", Focal35: 26, FocalMM: 5.6, Aspect: 4.0 / 3},
		"another lens":      {Camera: "Maker Phone 1", Focal35: 13, FocalMM: 2.2, Aspect: 4.0 / 3},
		"zoomed in":         {Camera: "Maker Phone 1", Focal35: 52, FocalMM: 5.6, Aspect: 4.0 / 3},
		"cut to a square":   {Camera: "Maker Phone 1", Focal35: 26, FocalMM: 5.6, Aspect: 1},
		"no focal length":   {Camera: "Maker Phone 1", Aspect: 4.0 / 3},
		"nothing but shape": {Aspect: 4.0 / 3},
	} {
		if k.Same(o) || o.Same(k) {
			t.Errorf("%s: taken for the same lens", name)
		}
	}
	if !k.Same(Key{Camera: "Maker Phone 1", Focal35: 26, FocalMM: 5.6, Aspect: 4000.0 / 3008}) {
		t.Error("a few pixels' difference in shape was taken for another lens")
	}
	if (Key{Aspect: 1}).Same(Key{Aspect: 1}) {
		t.Error("two photos that name no camera were taken for one lens's")
	}
}

// In the covariance's own axes the squared steps add up to the variances again.
func TestSpreadCarriesTheCovariance(t *testing.T) {
	p := Profile{Focal: 0.6, K1: -0.05, K2: 0.01}
	p.Covariance[focal][focal], p.Covariance[k1][k1], p.Covariance[k2][k2] = 1e-6, 4e-6, 9e-6
	p.Covariance[k1][k2], p.Covariance[k2][k1] = -5e-6, -5e-6
	d := math.Hypot(4000, 3000)
	var f, a, b, ab float64
	for _, l := range p.Spread(4000, 3000, 1) {
		f += math.Pow(l.F/d-p.Focal, 2)
		a += math.Pow(l.K1-p.K1, 2)
		b += math.Pow(l.K2-p.K2, 2)
		ab += (l.K1 - p.K1) * (l.K2 - p.K2)
	}
	for name, pair := range map[string][2]float64{"focal length": {f, 1e-6}, "k1": {a, 4e-6}, "k2": {b, 9e-6}, "k1 and k2": {ab, -5e-6}} {
		if !(math.Abs(pair[0]-pair[1]) < 1e-12) {
			t.Errorf("%s: (co)variance %g comes out as %g", name, pair[1], pair[0])
		}
	}
}
