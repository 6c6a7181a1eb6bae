package num

import "math/rand/v2"

// Dice is where all of a drawing's chances come from.
type Dice struct{ *rand.Rand }

func (d Dice) Between(low, high float32) float32 { return Mix(low, high, d.Float32()) }

// Scaled is between low and high with every doubling as likely as the next.
func (d Dice) Scaled(low, high float32) float32 {
	return float32(low * Exp2(float32(d.Float32()*Log2(high/low))))
}

func (d Dice) Chance(share float32) bool { return d.Float32() < share }

// Count is from low to high, both included.
func (d Dice) Count(low, high int) int { return low + d.IntN(high-low+1) }

// Bell is close to normal, with mean 0 and standard deviation 1, and never beyond 3.5 (the sum of four even draws).
func (d Dice) Bell() float32 {
	return float32((d.Float32() + d.Float32() + d.Float32() + d.Float32() - 2) * 1.7320508)
}

// Around scatters about 1, with a standard deviation of so many doublings.
func (d Dice) Around(doublings float32) float32 { return Exp2(float32(doublings * d.Bell())) }

func (d Dice) Sign() float32 {
	if d.Chance(0.5) {
		return -1
	}
	return 1
}

// Facing is a unit vector in any direction of the plane.
func (d Dice) Facing() (x, y float32) {
	y, x = SinCos(d.Float32())
	return x, y
}

// Pick returns the index of one of the weights, each as likely as it is large.
func (d Dice) Pick(weights ...float32) int {
	sum := float32(0)
	for _, w := range weights {
		sum += w
	}
	at := d.Float32() * sum
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// One returns any of the indexes.
func (d Dice) One(kin []uint16) uint16 { return kin[d.IntN(len(kin))] }

// Place is any place in a noise table, as one number: what is read there is all that one thing knows of the table.
func (d Dice) Place() int { return d.IntN(NoiseSide * NoiseSide) }
