// Package stats compares groups of numbers: what differs from a control, by how much, how surely, and what a trial of a given size
// could show at all. It knows numbers and labels only.
//
// Data come as groups ([]Group), or as units that hold several values each ([]Unit) where the units, not the values in them, were
// treated: a tray with its plugs, a pot with its leaves. UnitMeans turns units into groups of one mean a unit, which is what
// every test of a treatment then works on.
//
//	Describe                       n, mean, SD, CV, SE, interval, median of one group
//	OneWay, WelchANOVA             do any of the groups differ?
//	Levene, Bartlett               do their spreads differ?      ShapiroWilk: are residuals normal?
//	KruskalWallis                  do any differ, by ranks
//	Dunnett, TukeyKramer           each against a control, all pairs; one variance for all
//	WelchToControl, GamesHowell    the same where variances differ
//	WilliamsTrend                  do means rise or fall with the dose?
//	RanksToControl, RankPairs      the same by ranks
//	PairwiseT, Adjust              pairs with Holm, Bonferroni or Benjamini-Hochberg
//	Log, Comparisons.Ratios        the logarithms of groups; differences of logarithms read as ratios
//	Fieller                        the interval of a ratio of means
//	Contrast                       any weighted sum of group means, such as the interaction of a 2 × 2
//	Nested                         groups, units, values: F, variance components
//	BetweenUnits                   two single units, and what would explain their difference away
//	Compare, CompareUnits          all of that, with the test chosen by the rule written in Rule
//	Every                          all procedures side by side
//	ParseCentred                   decimals with many leading digits in common, without losing those that differ
//	Noncentrality                  what a test with a given power shows
//	Wilson, FisherExact            counts
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
