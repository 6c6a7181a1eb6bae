package relief

import "math/rand/v2"

// dice is where all of a drawing's chances come from.
type dice struct{ *rand.Rand }

func (d dice) between(low, high float32) float32 { return mix(low, high, d.Float32()) }

// scaled is between low and high with every doubling as likely as the next.
func (d dice) scaled(low, high float32) float32 {
	return float32(low * exp2(float32(d.Float32()*log2(high/low))))
}

func (d dice) chance(share float32) bool { return d.Float32() < share }

// count is from low to high, both included.
func (d dice) count(low, high int) int { return low + d.IntN(high-low+1) }

// bell is close to normal, with mean 0 and standard deviation 1, and never beyond 3.5 (the sum of four even draws).
func (d dice) bell() float32 {
	return float32((d.Float32() + d.Float32() + d.Float32() + d.Float32() - 2) * 1.7320508)
}

// around scatters about 1, with a standard deviation of so many doublings.
func (d dice) around(doublings float32) float32 { return exp2(float32(doublings * d.bell())) }

func (d dice) sign() float32 {
	if d.chance(0.5) {
		return -1
	}
	return 1
}

// facing is a unit vector in any direction of the plane.
func (d dice) facing() (x, y float32) {
	y, x = sinCos(d.Float32())
	return x, y
}

// pick returns the index of one of the weights, each as likely as it is large.
func (d dice) pick(weights ...float32) int {
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
