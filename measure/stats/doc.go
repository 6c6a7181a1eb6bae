// Package stats compares groups of numbers. It estimates differences from a control with their uncertainty, and what a trial of a
// given size can detect. It uses only numbers and labels.
//
// Data are groups ([]Group), or units with several values each ([]Unit) if treatments were given to units, not to single values:
// a tray with its plugs, a pot with its leaves. UnitMeans turns units into groups with one mean per unit, and all tests of
// treatments use these means.
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
// Package dist has the distributions, leastsquares the linear models; tests read published tables with package published.
//
//	in    groups of numbers, by their labels
//	out   tests, intervals, power
//
// It must not depend on trays, photos or plans.
//
// Intervals and tests are two-sided. Undefined results, such as the SD of one value, are NaN, never 0. If a calculation is
// impossible, the error says why and what would help. Values that are not finite are refused.
package stats
