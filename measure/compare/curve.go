package compare

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/stats/dist"
)

// leastForCurve is how many doses a curve takes, and curvePoints at how many it is given, from none to the highest dose and not beyond.
const (
	leastForCurve = 3
	curvePoints   = 25
)

// curve fits a parabola in the dose to the trays' figures on the scale, each dose's mean weighted by its trays, by least squares; its interval
// is y ± t·√(s²·x'(X'WX)⁻¹x) with the trays' common variance s², times its inflation, (Draper & Smith 1998, Applied Regression Analysis, ch. 5 and 8). nil where the
// doses do not determine one.
func (l *layout) curve(doses, means []float64, counts []int, inflation float64) []outcome.CurvePoint {
	if len(doses) < leastForCurve+1 || !l.byTrays() {
		return nil
	}
	most := doses[len(doses)-1]
	at := func(dose float64) *mat.VecDense { x := dose / most; return mat.NewVecDense(3, []float64{1, x, x * x}) }
	var normal, inverse mat.Dense
	normal.ReuseAs(3, 3)
	right := mat.NewVecDense(3, nil)
	for i, dose := range doses {
		x, w := at(dose), float64(counts[i])
		var outer mat.Dense
		outer.Outer(w, x, x)
		normal.Add(&normal, &outer)
		right.AddScaledVec(right, w*means[i], x)
	}
	if err := inverse.Inverse(&normal); err != nil {
		return nil
	}
	var beta mat.VecDense
	beta.MulVec(&inverse, right)
	variance, df := l.known(1)
	variance *= inflation
	t := dist.TwoSidedTQuantile(1-outcome.Level, df)
	var points []outcome.CurvePoint
	for i := range curvePoints {
		dose := most * float64(i) / (curvePoints - 1)
		x := at(dose)
		y, half := mat.Dot(x, &beta), t*math.Sqrt(variance*mat.Inner(x, &inverse, x))
		points = append(points, outcome.CurvePoint{MLPerL: dose, Value: l.back(y), Lower: l.back(y - half), Upper: l.back(y + half)})
	}
	return points
}
