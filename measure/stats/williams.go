package stats

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
)

// williamsDraws is how many draws the null distribution of Williams' statistic is taken from: p is known to 0.0005 at 5 %.
const williamsDraws = 200_000

// Trend is Williams' test of groups in the order of their dose against a control.
type Trend struct {
	T float64 // Williams' t̄ of the highest dose: positive for a rise
	P float64 // two-sided: twice the smaller of the chances of such a rise and such a fall without any effect
	// Lowest is the index of the lowest dose at which the test still shows a rise or a fall, testing from the highest down, each at
	// level/2 a side; −1 for none.
	Lowest int
}

// WilliamsTrend tests whether means rise, or fall, with the dose (Williams 1971, Biometrics 27, 103-117; 1972, 28, 519-531). mean and n are those
// of the control and then of each dose from the lowest up; variance is the common one of a single value, with df degrees of freedom. Means
// that break the order are first made to keep it by pooling neighbours, and
//
//	t̄ = (μ̂ − m₀)/√(variance·(1/n + 1/n₀))
//
// with μ̂ of the highest dose. Its distribution has no closed form and is drawn with a fixed seed, so that the same data give the same p.
func WilliamsTrend(mean []float64, n []int, variance, df, level float64) (Trend, error) {
	if len(mean) != len(n) || len(mean) < 3 {
		return Trend{}, errors.New("a trend needs a control and two doses")
	}
	if !(variance > 0) || !(df > 0) || slices.Min(n) < 1 {
		return Trend{}, fmt.Errorf("a trend needs a scatter to judge by: variance %g, %g degrees of freedom", variance, df)
	}
	t := Trend{Lowest: -1}
	up, down := williamsT(mean, n, variance), -williamsT(negated(mean), n, variance)
	t.T, t.P = up, 1
	for k := len(mean); k > 1; k-- {
		null := williamsNull(n[:k], df)
		pUp, pDown := tailOf(null, williamsT(mean[:k], n, variance)), tailOf(null, williamsT(negated(mean[:k]), n, variance))
		if k == len(mean) {
			if t.P = math.Min(1, 2*math.Min(pUp, pDown)); pDown < pUp {
				t.T = down
			}
		}
		p := pUp
		if t.T < 0 {
			p = pDown
		}
		if p >= level/2 {
			break
		}
		t.Lowest = k - 2
	}
	return t, nil
}

func negated(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = -x
	}
	return out
}

// williamsT is t̄ for a rise: the isotonic mean of the highest dose is the largest of the means over the doses from some dose up.
func williamsT(mean []float64, n []int, variance float64) float64 {
	top := math.Inf(-1)
	sum, weight := 0.0, 0.0
	for i := len(mean) - 1; i > 0; i-- {
		sum, weight = sum+float64(n[i])*mean[i], weight+float64(n[i])
		top = math.Max(top, sum/weight)
	}
	return (top - mean[0]) / math.Sqrt(variance*(1/float64(n[len(mean)-1])+1/float64(n[0])))
}

var (
	williamsKept = map[string][]float64{}
	williamsLock sync.Mutex
)

// williamsNull draws t̄ without any effect, in order of size.
func williamsNull(n []int, df float64) []float64 {
	williamsLock.Lock()
	defer williamsLock.Unlock()
	key := fmt.Sprint(n, df)
	if null, ok := williamsKept[key]; ok {
		return null
	}
	r := rand.New(rand.NewPCG(1971, 1972))
	null, mean := make([]float64, williamsDraws), make([]float64, len(n))
	for i := range null {
		for k := range mean {
			mean[k] = r.NormFloat64() / math.Sqrt(float64(n[k]))
		}
		null[i] = williamsT(mean, n, chiSquaredOver(r, df))
	}
	slices.Sort(null)
	williamsKept[key] = null
	return null
}

// chiSquaredOver draws χ²/df, 1 for an infinite df (Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26, 363-372).
func chiSquaredOver(r *rand.Rand, df float64) float64 {
	if math.IsInf(df, 1) {
		return 1
	}
	shape, scale := df/2, 1.0
	if shape < 1 {
		scale = math.Pow(1-r.Float64(), 1/shape)
		shape++
	}
	d := shape - 1.0/3
	for {
		x := r.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(1-r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return scale * d * v * 2 / df
		}
	}
}

// tailOf is the share of a null distribution at or above t.
func tailOf(null []float64, t float64) float64 {
	i, _ := slices.BinarySearch(null, t)
	return float64(len(null)-i) / float64(len(null))
}
