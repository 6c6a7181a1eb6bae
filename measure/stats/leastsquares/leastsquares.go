// Package leastsquares fits linear models, such as trays' figures made of treatment and place.
//
//	in    a model's columns, one value an observation in each, and observations
//	out   the weights that an estimate gives each observation, residuals, leverages
//
// It must not depend on what a column stands for.
package leastsquares

import "math"

// Model is a linear model y = Σ βⱼ·xⱼ + error with errors of one variance, fitted by least squares. It is what an analysis of trays in
// incomplete blocks, or in rows and columns, is made of: the intra-block analysis (Yates 1936, Ann. Eugen. 7, 121-140; Cochran & Cox 1957,
// Experimental Designs, ch. 9 to 13).
type Model struct {
	N, DF int    // observations; degrees of freedom of the error
	Kept  []bool // whether a column adds to those before it; the coefficient of one that does not is 0

	q [][]float64 // an orthonormal basis of the kept columns, one vector a column
	r [][]float64 // r[j][k] is the part of q[k] in the j-th kept column
}

// New takes a model's columns, each with a value for every observation. A column that depends on those before it is left out. The columns
// are made orthogonal one by one, each twice (modified Gram-Schmidt; Björck 1996, Numerical Methods for Least Squares Problems, 2.4).
func New(columns [][]float64) *Model {
	m := &Model{}
	for _, x := range columns {
		m.N = len(x)
		rest, parts := append([]float64{}, x...), make([]float64, len(m.q), len(m.q)+1)
		for range 2 {
			for k, q := range m.q {
				part := dot(q, rest)
				parts[k] += part
				for i := range rest {
					rest[i] -= float64(part * q[i])
				}
			}
		}
		long := math.Sqrt(dot(rest, rest))
		adds := long > 1e-9*math.Sqrt(dot(x, x))
		m.Kept = append(m.Kept, adds)
		if !adds {
			continue
		}
		for i := range rest {
			rest[i] /= long
		}
		m.q, m.r = append(m.q, rest), append(m.r, append(parts, long))
	}
	m.DF = m.N - len(m.q)
	return m
}

// Weights returns the weights of the observations whose weighted sum estimates Σ lⱼ·βⱼ; the sum of their squares times the error's variance is
// the estimate's. l has an entry for each column.
func (m *Model) Weights(l []float64) []float64 {
	var kept []float64
	for j, in := range m.Kept {
		if in {
			kept = append(kept, l[j])
		}
	}
	weights := make([]float64, m.N)
	z := make([]float64, len(m.q))
	for j := range m.q { // Rᵀ·z = l
		z[j] = kept[j]
		for k := range j {
			z[j] -= float64(m.r[j][k] * z[k])
		}
		z[j] /= m.r[j][j]
		for i := range weights {
			weights[i] += float64(z[j] * m.q[j][i])
		}
	}
	return weights
}

// Residuals returns what the fitted model leaves of y.
func (m *Model) Residuals(y []float64) []float64 {
	rest := append([]float64{}, y...)
	for range 2 {
		for _, q := range m.q {
			part := dot(q, rest)
			for i := range rest {
				rest[i] -= float64(part * q[i])
			}
		}
	}
	return rest
}

// Leverages returns the share of each observation in its own fitted value, 0 to 1: a residual has the variance (1 − h)·σ².
func (m *Model) Leverages() []float64 {
	h := make([]float64, m.N)
	for _, q := range m.q {
		for i := range h {
			h[i] += float64(q[i] * q[i])
		}
	}
	return h
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}

// Mirrors returns for each observation the first one whose residual is always in proportion to its own, which is itself where there is none
// before it, and −1 where its residual is always 0: the model then takes the observation as it is. The two values of a group of two mirror each other.
func (m *Model) Mirrors() []int {
	h := m.Leverages()
	first := make([]int, m.N)
	for i := range first {
		first[i] = i
		if 1-h[i] < 1e-9 {
			first[i] = -1
			continue
		}
		for j := range i {
			if first[j] != j {
				continue
			}
			both := 0.0
			for _, q := range m.q {
				both += float64(q[i] * q[j])
			}
			if own := (1 - h[i]) * (1 - h[j]); math.Abs(both*both-own) < 1e-9*own {
				first[i] = j
				break
			}
		}
	}
	return first
}
