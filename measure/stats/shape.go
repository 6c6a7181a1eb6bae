package stats

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/stats/dist"
)

// ShapeTest is a Shapiro-Wilk W and its p: a small p says that the values are not from one normal distribution.
type ShapeTest struct {
	W float64 `json:"w"`
	P float64 `json:"p"`
}

// Residuals returns every value's distance from its group's mean.
func Residuals(groups []Group) (rs []float64) {
	for _, g := range groups {
		if len(g.Values) == 0 {
			continue
		}
		m := momentsOf(g.Values)
		for _, v := range g.Values {
			rs = append(rs, (v-m.pivot)-m.shift)
		}
	}
	return rs
}

// ShapiroWilk tests 3 to 5000 values for normality, by Royston's approximation (1995, Appl. Stat. 44, 547-551, AS R94), whose
// polynomials in 1/√n and ln n stand below.
func ShapiroWilk(values []float64) (ShapeTest, error) {
	n := len(values)
	if n < 3 || n > 5000 {
		return ShapeTest{}, fmt.Errorf("%d values: the Shapiro-Wilk test needs 3 to 5000", n)
	}
	m := momentsOf(values)
	if math.IsNaN(m.squares) || math.IsInf(m.squares, 0) || m.flat() {
		return ShapeTest{}, fmt.Errorf("the values do not vary, so their shape is unknown")
	}
	sorted := slices.Sorted(slices.Values(values))
	b, weights := 0.0, shapiroWeights(n)
	for i, a := range weights {
		b += float64(a * (sorted[n-1-i] - sorted[i]))
	}
	w := min(1, b*b/m.squares)
	return ShapeTest{w, shapiroP(w, n)}, nil
}

// shapiroWeights returns the weights of the larger half of the ordered values, outermost first.
func shapiroWeights(n int) []float64 {
	if n == 3 {
		return []float64{math.Sqrt2 / 2}
	}
	m, total := make([]float64, n/2), 0.0
	for i := range m { // the expected order statistics of n normal values (Blom 1958)
		m[i] = -distuv.UnitNormal.Quantile((float64(i+1) - 0.375) / (float64(n) + 0.25))
		total += 2 * m[i] * m[i]
	}
	root, u := math.Sqrt(total), 1/math.Sqrt(float64(n))
	a := make([]float64, len(m))
	a[0] = m[0]/root + polynomial(u, 0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056)
	rest, left, from := total-2*m[0]*m[0], 1-2*a[0]*a[0], 1
	if n > 5 {
		a[1] = m[1]/root + polynomial(u, 0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633)
		rest, left, from = rest-2*m[1]*m[1], left-2*a[1]*a[1], 2
	}
	for i := from; i < len(m); i++ {
		a[i] = m[i] / math.Sqrt(rest/left)
	}
	return a
}

// shapiroP returns the p of W: exact for 3 values, else by a normal distribution of a function of ln(1 − W).
func shapiroP(w float64, n int) float64 {
	if n == 3 {
		return max(0, 6/math.Pi*(math.Asin(math.Sqrt(w))-math.Asin(math.Sqrt(0.75))))
	}
	y, x := math.Log1p(-w), float64(n)
	var mean, sd float64
	if n <= 11 {
		gamma := polynomial(x, -2.273, 0.459)
		if y >= gamma {
			return 0
		}
		y = -math.Log(gamma - y)
		mean = polynomial(x, 0.544, -0.39978, 0.025054, -0.0006714)
		sd = math.Exp(polynomial(x, 1.3822, -0.77857, 0.062767, -0.0020322))
	} else {
		x = math.Log(x)
		mean = polynomial(x, -1.5861, -0.31082, -0.083751, 0.0038915)
		sd = math.Exp(polynomial(x, -0.4803, -0.082676, 0.0030302))
	}
	return dist.NormalCDF((mean - y) / sd)
}

// polynomial returns Σ cᵢxⁱ.
func polynomial(x float64, c ...float64) (y float64) {
	for _, ci := range slices.Backward(c) {
		y = float64(y*x) + ci
	}
	return y
}
