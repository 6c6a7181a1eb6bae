package stats

import (
	"math"
	"slices"
	"testing"
)

// In groups of two both values lie equally far from the middle, whatever they are: rounding must not be taken for a spread. The logarithms of these
// four differ in their last bits only from being so.
func TestSpreadsOfPairsAreNotCompared(t *testing.T) {
	groups := []Group{{Name: "water", Values: []float64{3.2, 2.9}}, {Name: "feed", Values: []float64{5.1, 4.8}}}
	for _, centre := range []Centre{BrownForsythe, LeveneMean} {
		for _, logs := range []bool{false, true} {
			of := slices.Clone(groups)
			for i, g := range of {
				of[i].Values = slices.Clone(g.Values)
				for j, v := range g.Values {
					if logs {
						of[i].Values[j] = math.Log(v)
					}
				}
			}
			if f, err := Levene(of, centre); err == nil {
				t.Errorf("centre %v, logarithms %v: F %v, p %v", centre, logs, f.F, f.P)
			}
		}
	}
	c, err := Compare(groups, Options{Control: "water"})
	if err != nil || c.Procedure != OneVariance {
		t.Errorf("%v, %v: %q", err, c.Procedure, c.Steps)
	}
}
