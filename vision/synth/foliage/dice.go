package foliage

import (
	"math"
	"math/rand/v2"
)

// dice draws the random values that a drawing is made of.
type dice struct{ *rand.Rand }

// own returns dice of their own, so that what one plant throws does not change what the next one is.
func (d dice) own() dice { return dice{rand.New(rand.NewPCG(d.Uint64(), d.Uint64()))} }

func (d dice) between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// scaled draws between two sizes so that each ratio is as likely as another.
func (d dice) scaled(low, high float64) float64 { return low * math.Pow(high/low, d.Float64()) }

func (d dice) chance(p float64) bool { return d.Float64() < p }

// bell draws from a bell-shaped distribution of mean 0 and standard deviation 1 that ends at 3 on both sides: the sum of three
// even throws, whose variance is 3/12.
func (d dice) bell() float64 { return 2 * (d.Float64() + d.Float64() + d.Float64() - 1.5) }

func (d dice) near(mean, deviation float64) float64 { return mean + deviation*d.bell() }

// whole draws a whole number from low to high, both included.
func (d dice) whole(low, high int) int { return low + d.IntN(high-low+1) }

// pick draws an index with a chance in proportion to its weight.
func (d dice) pick(weights ...float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := d.Float64() * sum
	for i, w := range weights {
		if at < w {
			return i
		}
		at -= w
	}
	return len(weights) - 1
}

// hash turns whole numbers into a value from 0 up to 1 that looks random, and is always the same for the same numbers.
func hash(x, y, z int) float64 {
	h := uint64(x)*0x8da6b343c1f7a2d5 ^ uint64(y)*0xd8163841b5e2c6a9 ^ uint64(z)*0xcb1ab31f94d049bb
	h ^= h >> 29
	h *= 0xbf58476d1ce4e5b9
	h ^= h >> 32
	h *= 0x94d049bb133111eb
	return float64(h>>11) / (1 << 53)
}
