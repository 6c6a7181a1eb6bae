package stats

import (
	"math"
	"slices"
)

// moments are a group's sums about a pivot close to its values. Sums of squares of the values themselves would lose the digits that
// many leading digits in common push out (Chan, Golub & LeVeque 1983, Am. Stat. 37, 242-247).
type moments struct {
	n       float64
	pivot   float64
	shift   float64 // mean − pivot
	squares float64 // Σ(x − mean)²
	scale   float64 // the largest |x|: what rounding is relative to
}

// momentsOf takes the values about the first of them.
func momentsOf(values []float64) moments { return momentsAbout(values[0], values) }

// momentsAbout passes twice over the values' distances to pivot, with compensated sums; the second pass takes off what the mean's
// rounding adds. The order of the values does not matter, as they are sorted first.
func momentsAbout(pivot float64, values []float64) moments {
	m := moments{n: float64(len(values)), pivot: pivot}
	var first, rest, squares compensated
	sorted := slices.Sorted(slices.Values(values))
	for _, v := range sorted {
		first.add(v - pivot)
		m.scale = max(m.scale, math.Abs(v))
	}
	m.shift = first.sum() / m.n
	for _, v := range sorted {
		d := (v - pivot) - m.shift
		rest.add(d)
		squares.add(float64(d * d))
	}
	m.shift += rest.sum() / m.n
	m.squares = max(0, squares.sum()-float64(rest.sum()*rest.sum())/m.n)
	return m
}

func (m moments) mean() float64     { return m.pivot + m.shift }
func (m moments) variance() float64 { return m.squares / (m.n - 1) } // NaN for one value

// flat reports whether the values differ by no more than rounding.
func (m moments) flat() bool { return flat(m.squares, m.n, m.scale) }

// flat reports whether n squares add up to no more than the rounding of values as large as scale.
func flat(squares, n, scale float64) bool {
	eps := 4 * 0x1p-52 * scale
	return squares <= n*eps*eps
}

// compensated is a sum that carries along what rounding dropped (Neumaier 1974, ZAMM 54, 39-51).
type compensated struct{ total, lost float64 }

func (c *compensated) add(v float64) {
	t := c.total + v
	if math.Abs(c.total) >= math.Abs(v) {
		c.lost += (c.total - t) + v
	} else {
		c.lost += (v - t) + c.total
	}
	c.total = t
}

func (c *compensated) sum() float64 { return c.total + c.lost }
