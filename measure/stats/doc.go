// Package stats compares groups of numbers: what differs from a control, by how much, how surely, and what a trial of a given size
// could show at all. It knows numbers and labels only.
//
// Data come as groups ([]Group), or as units that hold several values each ([]Unit) where the units, not the values in them, were
// treated: a tray with its plugs, a pot with its leaves. UnitMeans turns units into groups of one mean a unit, which is what
// every test of a treatment then works on.
//
//	Compare, CompareUnits        what differs, with the test chosen by the rule written in Rule
//	Every                        all procedures side by side: Dunnett, Tukey-Kramer, Games-Howell, Kruskal-Wallis, nested units and more
//	RanksToControl, RankPairs    each against a control, all pairs; by ranks
//	Adjust                       p-values of several tests, by Holm, Bonferroni or Benjamini-Hochberg
//	WilliamsTrend                do means rise or fall with the dose?
//	Contrast                     any weighted sum of group means, such as the interaction of a 2 × 2
//	Fieller                      the interval of a ratio of means
//	Levene, ShapiroWilk          do spreads differ, are residuals normal?
//	Noncentrality                what a test with a given power shows
//	Wilson, FisherExact          counts
//	LogFrom, ParseCentred        logarithms of groups; decimals with many leading digits in common, without losing those that differ
//
// What they are judged by is in dist, the distributions; linear models are in leastsquares; tests read published tables by published.
//
//	in    groups of numbers, by their labels
//	out   tests, intervals, power
//
// It must not know of trays, photos and plans.
//
// Intervals and tests are two-sided. What is undefined, such as the SD of one value, is NaN in a result, never 0; what cannot be
// done at all is an error that says why and what would help. Values that are not finite are refused.
package stats
