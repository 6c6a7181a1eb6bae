package herbarium

import (
	"math"
	"math/rand/v2"
)

// dice draws what varies at random.
type dice struct{ *rand.Rand }

// split returns dice of their own for one thing, so that how often they are thrown moves nothing else.
func (d dice) split() dice { return dice{rand.New(rand.NewPCG(d.Uint64(), d.Uint64()))} }

// between returns a number from lo to hi, each as likely as any other.
func (d dice) between(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// wide returns a number from lo to hi, both positive, each doubling as likely as any other.
func (d dice) wide(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

// around returns a number about mid with the given standard deviation, at most two of them away.
func (d dice) around(mid, deviation float64) float64 {
	return mid + deviation*min(2, max(-2, d.NormFloat64()))
}

// chance reports whether something of probability p happens.
func (d dice) chance(p float64) bool { return d.Float64() < p }

// some returns a number from lo to hi with probability p, else 0.
func (d dice) some(p, lo, hi float64) float64 {
	v := d.between(lo, hi)
	if d.chance(p) {
		return v
	}
	return 0
}

// angle returns a direction in radians.
func (d dice) angle() float64 { return d.between(0, 2*math.Pi) }

// pick returns an index, each as likely as its weight says.
func (d dice) pick(weights ...float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := sum * d.Float64()
	for i, w := range weights {
		if at < w {
			return i
		}
		at -= w
	}
	return len(weights) - 1
}
