package brush

import (
	"math"
	"math/rand/v2"
)

// dice draws the parameters of a drawing.
type dice struct{ *rand.Rand }

func (d dice) chance(p float64) bool { return d.Float64() < p }

// between draws evenly.
func (d dice) between(lo, hi float64) float64 { return blend(lo, hi, d.Float64()) }

func (d dice) between32(lo, hi float32) float32 { return blend32(lo, hi, float32(d.Float64())) }

// ratio draws so that each doubling is as likely as the next; lo is above 0.
func (d dice) ratio(lo, hi float64) float64 {
	return float64(lo * exponent(float64(d.Float64()*logarithm(hi/lo))))
}

// whole draws a whole number from lo to hi, both included.
func (d dice) whole(lo, hi int) int { return lo + d.IntN(hi-lo+1) }

// normal draws from a bell curve of mean 0 and deviation 1, cut off at 3.46: the sum of four even draws is near enough.
func (d dice) normal() float64 {
	bits := d.Uint64()
	sum := bits&0xffff + bits>>16&0xffff + bits>>32&0xffff + bits>>48
	return float64((float64(sum)/0xffff - 2) * math.Sqrt(3))
}

func (d dice) angle() float64 { return d.between(-math.Pi, math.Pi) }
func (d dice) direction() vec { return toward(d.angle()) }
func (d dice) sign() float64  { return float64(2*d.IntN(2) - 1) }

// of draws one of several things, each with its weight.
func of[T any](d dice, things []weighted[T]) T {
	total := 0.0
	for _, t := range things {
		total += t.weight
	}
	left := float64(d.Float64() * total)
	for _, t := range things {
		left -= t.weight
		if left < 0 {
			return t.thing
		}
	}
	return things[len(things)-1].thing
}

type weighted[T any] struct {
	weight float64
	thing  T
}
