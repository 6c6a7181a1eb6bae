// Package dist has the distributions that tests of several comparisons need: Student's t, F and chi-squared tails, the studentized range, the
// largest of correlated t (Dunnett's).
//
//	in    a distribution's parameters, and a value or a probability
//	out   a tail probability or a quantile; NaN where none is defined
//
// It must not depend on groups, trays or files.
package dist
