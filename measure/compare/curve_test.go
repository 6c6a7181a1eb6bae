package compare

import (
	"math"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/trayfigure"
)

// Means that lie on the parabola 1 + 2d − d²/4 are met exactly. With four doses of two trays each and a variance of 0.04, the interval at
// dose 0 follows from the hat value 0.95 of four equally spaced points and a parabola (1, 11, … /20: the diagonal is 0.95, 0.55, 0.55, 0.95):
// ± t(0.975; 4)·√(0.04·0.95/2) = ± 2.776445·0.137840.
func TestCurveThroughDoses(t *testing.T) {
	l := &layout{About: trayfigure.About{Scale: outcome.Difference}, pooled: 0.04, floor: math.NaN(), df: 4}
	doses := []float64{0, 1, 2, 3}
	means := make([]float64, 4)
	for i, d := range doses {
		means[i] = 1 + 2*d - d*d/4
	}
	points := l.curve(doses, means, []int{2, 2, 2, 2}, 1)
	if len(points) != curvePoints || points[0].MLPerL != 0 || points[curvePoints-1].MLPerL != 3 {
		t.Fatalf("%+v", points)
	}
	for _, p := range points {
		near(t, "curve", p.Value, 1+2*p.MLPerL-p.MLPerL*p.MLPerL/4, 1e-9)
	}
	near(t, "half width at no dose", points[0].Upper-points[0].Value, 2.776445*math.Sqrt(0.04*0.95/2), 1e-6)
	if few := l.curve(doses[:3], means[:3], []int{2, 2, 2}, 1); few != nil {
		t.Errorf("a curve through two doses: %v", few)
	}
}
