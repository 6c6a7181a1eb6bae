package num

import (
	"math"
	"math/rand/v2"
)

// Dice draws the parameters of a drawing.
type Dice struct{ *rand.Rand }

func (d Dice) Chance(p float64) bool { return d.Float64() < p }

// Between draws evenly.
func (d Dice) Between(lo, hi float64) float64 { return Blend(lo, hi, d.Float64()) }

func (d Dice) Between32(lo, hi float32) float32 { return Blend32(lo, hi, float32(d.Float64())) }

// Ratio draws so that each doubling is as likely as the next; lo is above 0.
func (d Dice) Ratio(lo, hi float64) float64 {
	return float64(lo * Exponent(float64(d.Float64()*Logarithm(hi/lo))))
}

// Whole draws a whole number from lo to hi, both included.
func (d Dice) Whole(lo, hi int) int { return lo + d.IntN(hi-lo+1) }

// Normal draws from a bell curve of mean 0 and deviation 1, cut off at 3.46: the sum of four even draws is near enough.
func (d Dice) Normal() float64 {
	bits := d.Uint64()
	sum := bits&0xffff + bits>>16&0xffff + bits>>32&0xffff + bits>>48
	return float64((float64(sum)/0xffff - 2) * math.Sqrt(3))
}

// Angle is any direction, from −π to π.
func (d Dice) Angle() float64 { return d.Between(-math.Pi, math.Pi) }
func (d Dice) Direction() Vec { return Toward(d.Angle()) }
func (d Dice) Sign() float64  { return float64(2*d.IntN(2) - 1) }

// Of draws one of several things, each with its weight.
func Of[T any](d Dice, things []Weighted[T]) T {
	total := 0.0
	for _, t := range things {
		total += t.Weight
	}
	left := float64(d.Float64() * total)
	for _, t := range things {
		left -= t.Weight
		if left < 0 {
			return t.Thing
		}
	}
	return things[len(things)-1].Thing
}

// Weighted is a thing with its weight among others.
type Weighted[T any] struct {
	Weight float64
	Thing  T
}
