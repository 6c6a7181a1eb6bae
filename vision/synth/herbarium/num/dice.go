package num

import (
	"math"
	"math/rand/v2"
)

// Dice draws what varies at random.
type Dice struct{ *rand.Rand }

// Split returns dice of their own for one thing, so that how often they are thrown moves nothing else.
func (d Dice) Split() Dice { return Dice{rand.New(rand.NewPCG(d.Uint64(), d.Uint64()))} }

// Between returns a number from lo to hi, each as likely as any other.
func (d Dice) Between(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// Wide returns a number from lo to hi, both positive, each doubling as likely as any other.
func (d Dice) Wide(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

// Around returns a number about mid with the given standard deviation, at most two of them away.
func (d Dice) Around(mid, deviation float64) float64 {
	return mid + deviation*min(2, max(-2, d.NormFloat64()))
}

// Chance reports whether something of probability p happens.
func (d Dice) Chance(p float64) bool { return d.Float64() < p }

// Some returns a number from lo to hi with probability p, else 0.
func (d Dice) Some(p, lo, hi float64) float64 {
	v := d.Between(lo, hi)
	if d.Chance(p) {
		return v
	}
	return 0
}

// Angle returns a direction in radians.
func (d Dice) Angle() float64 { return d.Between(0, 2*math.Pi) }

// Pick returns an index, each as likely as its weight says.
func (d Dice) Pick(weights ...float64) int {
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
