package compare

import "slices"

// poolBelow is up to which multiple of the floor the trays' own scatter is taken for the floor's alone, by the scatter's degrees of freedom and by
// how many comparisons are judged together. A few trays agree by luck so often that pooling at 1 with two to four degrees of freedom raises false
// alarms in 6.5 to 7.5 of 100 trials whose trays vary about as much as their plugs make them; with many, trays that vary no more than their plugs
// exceed the floor in every other trial, and pooling at 1 finds too little. Each limit is the largest at which the rate stays at 5.4 of 100 for all
// variances between trays, by integrating over the scatter's distribution (TestFalseAlarmsOfPooling); that the floor is only estimated adds 0.1.
//
// Where trays do not vary at all the rate is then 2.4 for one comparison with two degrees of freedom, 3.0 with four and 3.6 with eight; for three
// comparisons 2.5 with four, 3.0 with eight and 3.4 with twelve. No rule does better: of all that judge by a critical value between that of the
// trays' degrees of freedom and that of the plugs', whatever they make it depend on, none that keeps to 5.5 everywhere has more than 2.5 for one
// comparison with two degrees of freedom, nor more than 2.6 for three with four (TestNoRulePoolsBetter).
func poolBelow(df, together int) float64 {
	row := slices.IndexFunc(poolingLimits, func(r poolingRow) bool { return r.df > df }) - 1
	if row < -1 {
		row = len(poolingLimits) - 1
	}
	if row < 0 {
		return 0
	}
	column := slices.IndexFunc(poolingTogether, func(k int) bool { return k >= together })
	if column < 0 {
		column = len(poolingTogether) - 1
	}
	return poolingLimits[row].below[column]
}

// poolingRow holds the limits from so many degrees of freedom on, by poolingTogether.
type poolingRow struct {
	df    int
	below []float64
}

var poolingTogether = []int{1, 2, 3, 4, 6, 9, 14, 19, 30, 60, 190}

var poolingLimits = []poolingRow{
	{2, []float64{0.65, 0.5, 0.44, 0.39, 0.35, 0.31, 0.28, 0.26, 0.24, 0.21, 0.18}},
	{3, []float64{0.88, 0.75, 0.69, 0.65, 0.6, 0.56, 0.52, 0.5, 0.47, 0.43, 0.38}},
	{4, []float64{1.01, 0.88, 0.82, 0.78, 0.75, 0.71, 0.68, 0.66, 0.62, 0.59, 0.53}},
	{5, []float64{1.08, 0.96, 0.91, 0.87, 0.83, 0.8, 0.77, 0.75, 0.73, 0.69, 0.64}},
	{6, []float64{1.14, 1.01, 0.96, 0.93, 0.89, 0.86, 0.83, 0.81, 0.79, 0.76, 0.72}},
	{7, []float64{1.18, 1.06, 1.01, 0.98, 0.94, 0.91, 0.88, 0.86, 0.84, 0.81, 0.77}},
	{8, []float64{1.22, 1.09, 1.04, 1.01, 0.98, 0.94, 0.92, 0.9, 0.88, 0.85, 0.82}},
	{10, []float64{1.27, 1.14, 1.09, 1.06, 1.03, 0.99, 0.97, 0.96, 0.93, 0.91, 0.87}},
	{12, []float64{1.31, 1.18, 1.13, 1.1, 1.06, 1.03, 1.01, 0.99, 0.97, 0.94, 0.91}},
	{16, []float64{1.36, 1.23, 1.18, 1.15, 1.11, 1.08, 1.06, 1.04, 1.02, 1, 0.97}},
	{20, []float64{1.4, 1.27, 1.22, 1.19, 1.15, 1.12, 1.09, 1.08, 1.06, 1.03, 1}},
	{30, []float64{1.49, 1.33, 1.28, 1.24, 1.21, 1.17, 1.15, 1.13, 1.11, 1.08, 1.05}},
	{50, []float64{1.66, 1.42, 1.35, 1.31, 1.27, 1.24, 1.21, 1.19, 1.17, 1.14, 1.11}},
}
