package num

import (
	"math"
	"math/rand/v2"
)

// Dice draws the random values that a drawing is made of.
type Dice struct{ *rand.Rand }

// Own returns dice of their own, so that what one plant throws does not change what the next one is.
func (d Dice) Own() Dice { return Dice{rand.New(rand.NewPCG(d.Uint64(), d.Uint64()))} }

func (d Dice) Between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// Scaled draws between two sizes so that each ratio is as likely as another.
func (d Dice) Scaled(low, high float64) float64 { return low * math.Pow(high/low, d.Float64()) }

func (d Dice) Chance(p float64) bool { return d.Float64() < p }

// Bell draws from a bell-shaped distribution of mean 0 and standard deviation 1 that ends at 3 on both sides: the sum of three
// even throws, whose variance is 3/12.
func (d Dice) Bell() float64 { return 2 * (d.Float64() + d.Float64() + d.Float64() - 1.5) }

// Near draws about a mean with the given standard deviation.
func (d Dice) Near(mean, deviation float64) float64 { return mean + deviation*d.Bell() }

// Whole draws a whole number from low to high, both included.
func (d Dice) Whole(low, high int) int { return low + d.IntN(high-low+1) }

// Pick draws an index with a chance in proportion to its weight.
func (d Dice) Pick(weights ...float64) int {
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

// Hash turns whole numbers into a value from 0 up to 1 that looks random, and is always the same for the same numbers.
func Hash(x, y, z int) float64 {
	h := uint64(x)*0x8da6b343c1f7a2d5 ^ uint64(y)*0xd8163841b5e2c6a9 ^ uint64(z)*0xcb1ab31f94d049bb
	h ^= h >> 29
	h *= 0xbf58476d1ce4e5b9
	h ^= h >> 32
	h *= 0x94d049bb133111eb
	return float64(h>>11) / (1 << 53)
}

// PickHue draws a hue in degrees from one of two ranges.
func (d Dice) PickHue(a, b, c, e float64) float64 {
	if d.Chance(0.5) {
		return d.Between(a, b)
	}
	return d.Between(c, e)
}
