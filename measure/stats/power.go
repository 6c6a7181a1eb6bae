package stats

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"traygauge/measure/stats/dist"
)

// beyond returns P(|T| > critical) of a noncentral t: the power of a two-sided test.
func beyond(critical, df, noncentrality float64) float64 {
	if math.IsNaN(critical) || !(df > 0) {
		return math.NaN()
	}
	t := distuv.NoncentralT{Nu: df, Mu: math.Abs(noncentrality)}
	return min(1, max(0, 1-t.CDF(critical)+t.CDF(-critical)))
}

// Noncentrality returns the noncentrality of a t with df degrees of freedom at which a two-sided test with a critical value has the
// given power; NaN where none has.
func Noncentrality(critical, df, power float64) float64 {
	delta, err := reach(func(delta float64) float64 { return beyond(critical, df, delta) }, 0, 1, power)
	if err != nil {
		return math.NaN()
	}
	return delta
}

// PowerT returns the power of a two-sided t test of two groups of n values, which need not be whole, whose means differ by delta:
//
//	P(|T'| > t_α)    T' noncentral with 2(n−1) degrees of freedom and δ/(σ√(2/n))
func PowerT(n, delta, sd, alpha float64) float64 {
	if !(n > 1) || !(sd > 0) || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	df := 2 * (n - 1)
	return beyond(dist.TwoSidedTQuantile(alpha, df), df, delta/sd*math.Sqrt(n/2))
}

// ReplicatesT returns the n, not rounded up, for which PowerT is power.
func ReplicatesT(delta, sd, power, alpha float64) (float64, error) {
	if delta == 0 {
		return math.NaN(), errors.New("no number of replicates shows a difference of 0")
	}
	return reach(func(n float64) float64 { return PowerT(n, delta, sd, alpha) }, 1+1e-6, 2, power)
}

// DetectableT returns the difference for which PowerT is power.
func DetectableT(n, sd, power, alpha float64) (float64, error) {
	return reach(func(delta float64) float64 { return PowerT(n, delta, sd, alpha) }, 0, sd, power)
}

// PowerANOVA returns the power of a one-way analysis of variance with n values in each group: noncentral F with λ = nΣ(mᵢ−m)²/σ².
func PowerANOVA(means []float64, n, sd, alpha float64) float64 {
	k := float64(len(means))
	if !(n > 1) || !(sd > 0) || k < 2 || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	d1, d2 := k-1, k*(n-1)
	y := mathext.InvRegIncBeta(d2/2, d1/2, alpha) // of the upper tail
	return dist.NoncentralF{D1: d1, D2: d2, Lambda: n * momentsOf(means).squares / (sd * sd)}.Survival(d2 * (1 - y) / (d1 * y))
}

// ReplicatesANOVA returns the n, not rounded up, for which PowerANOVA is power.
func ReplicatesANOVA(means []float64, sd, power, alpha float64) (float64, error) {
	if len(means) < 2 || momentsOf(means).flat() {
		return math.NaN(), errors.New("no number of replicates shows a difference between means that do not differ")
	}
	return reach(func(n float64) float64 { return PowerANOVA(means, n, sd, alpha) }, 1+1e-6, 2, power)
}

// Design is a trial of treatments against one control: each, the control too, on the same number of units, with the same number of values
// in each unit. SDUnit is between units treated alike, SDWithin between values of a unit; given as SDs of logarithms (about the CV),
// differences are logarithms of ratios.
type Design struct {
	Treatments int // beside the control
	Units      int // for each treatment
	PerUnit    int
	SDUnit     float64
	SDWithin   float64
}

// SDMean returns the standard deviation of a unit's mean, √(σ²unit + σ²within/m).
func (d Design) SDMean() float64 {
	return math.Sqrt(d.SDUnit*d.SDUnit + d.SDWithin*d.SDWithin/float64(d.PerUnit))
}

// check refuses designs that can show nothing.
func (d Design) check() error {
	switch {
	case d.Treatments < 1 || d.PerUnit < 1 || d.Units < 1:
		return fmt.Errorf("%d treatments, %d units each, %d values a unit: each has to be at least 1", d.Treatments, d.Units, d.PerUnit)
	case d.Units < 2:
		return errors.New("one unit a treatment: " + OneUnitEach)
	case !(d.SDUnit >= 0) || !(d.SDWithin >= 0) || !(d.SDMean() > 0) || math.IsInf(d.SDMean(), 1):
		return fmt.Errorf("standard deviations of %v between units and %v within: they are not below 0 and not both 0", d.SDUnit, d.SDWithin)
	}
	return nil
}

// PowerDunnett returns the power to show that one treatment differs from the control by delta, judged by Dunnett's critical value as
// one of d.Treatments: noncentral t with δ/(SDMean·√(2/Units)).
func PowerDunnett(d Design, delta, alpha float64) (float64, error) {
	power, err := d.power(alpha)
	if err != nil {
		return math.NaN(), err
	}
	return power(delta), nil
}

// DetectableDunnett returns the difference that PowerDunnett shows with the given power.
func DetectableDunnett(d Design, power, alpha float64) (float64, error) {
	of, err := d.power(alpha)
	if err != nil {
		return math.NaN(), err
	}
	return reach(of, 0, d.SDMean(), power)
}

// power prepares what does not depend on the difference.
func (d Design) power(alpha float64) (func(delta float64) float64, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	if !(alpha > 0 && alpha < 1) {
		return nil, fmt.Errorf("a false-alarm rate of %v: it lies between 0 and 1, such as 0.05", alpha)
	}
	n := make([]int, d.Treatments)
	for i := range n {
		n[i] = d.Units
	}
	df := float64((d.Treatments + 1) * (d.Units - 1))
	critical := dist.ManyToOne(d.Units, n, df).UpperQuantile(alpha)
	se := d.SDMean() * math.Sqrt(2/float64(d.Units))
	return func(delta float64) float64 { return beyond(critical, df, delta/se) }, nil
}

// Split spreads the values of each treatment over another number of units, as evenly as whole numbers allow, none added.
func (d Design) Split(units int) (Design, error) {
	total := d.Units * d.PerUnit
	if units < 1 || units > total {
		return d, fmt.Errorf("%d values cannot be spread over %d units", total, units)
	}
	d.Units, d.PerUnit = units, total/units
	return d, nil
}

// reach returns the x from lo on at which the rising function power(x) is the one wanted; step is the first stretch tried beyond lo.
func reach(power func(x float64) float64, lo, step, wanted float64) (float64, error) {
	if !(wanted > 0 && wanted < 1) {
		return math.NaN(), fmt.Errorf("a power of %v: it lies between 0 and 1, such as 0.8", wanted)
	}
	f := func(x float64) float64 { return power(x) - wanted }
	if f(lo) >= 0 {
		return lo, nil
	}
	hi := lo + step
	for range 60 {
		p := f(hi)
		if math.IsNaN(p) {
			break
		}
		if p >= 0 {
			return dist.Solve(f, lo, hi), nil
		}
		lo, hi = hi, lo+2*(hi-lo)+step
	}
	return math.NaN(), fmt.Errorf("a power of %v is out of reach", wanted)
}
