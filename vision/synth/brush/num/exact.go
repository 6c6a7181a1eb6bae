// Package num is the arithmetic of the brush style: numbers, directions, colours and chance, which come out the same to the last bit on
// every processor. In go numbers and a source of chance, out come numbers. It knows nothing of what is drawn.
package num

import "math"

// The functions of this file, and the products written float64(a*b) or float32(a*b) all over the package, round after every
// step. The standard library's own functions differ in their last bits from processor to processor, and Go may fuse a*b + c into
// one rounding where the processor can; either would make a seed give slightly different drawings on different machines.

// Sincos returns sine and cosine of an angle in radians, to 1e-10.
func Sincos(a float64) (sin, cos float64) {
	return sine(a), sine(a + math.Pi/2)
}

// sine is Taylor's series after folding the angle into ±π/2.
func sine(a float64) float64 {
	a -= float64(2 * math.Pi * math.Floor(float64(a/(2*math.Pi))+0.5))
	if a > math.Pi/2 {
		a = math.Pi - a
	} else if a < -math.Pi/2 {
		a = -math.Pi - a
	}
	sq, sum, term := float64(a*a), a, a
	for k := 3.0; k <= 17; k += 2 {
		term = float64(-term*sq) / float64(k*(k-1))
		sum += term
	}
	return sum
}

// Exponent is e to the power of x, to 1e-12 of itself: Taylor's series within ±ln 2 / 2, scaled by a power of two.
func Exponent(x float64) float64 {
	twos := math.Floor(x/math.Ln2 + 0.5)
	rest := x - float64(twos*math.Ln2)
	sum, term := 1.0, 1.0
	for k := 1.0; k <= 12; k++ {
		term = float64(term*rest) / k
		sum += term
	}
	return math.Ldexp(sum, int(twos))
}

// Logarithm is the natural logarithm of a positive x, to 1e-11: the series of the inverse hyperbolic tangent about a power of two.
func Logarithm(x float64) float64 {
	part, twos := math.Frexp(x)
	if part < math.Sqrt2/2 {
		part, twos = 2*part, twos-1
	}
	z := (part - 1) / (part + 1)
	sq, power, sum := float64(z*z), z, 0.0
	for k := 1.0; k <= 15; k += 2 {
		sum += power / k
		power = float64(power * sq)
	}
	return 2*sum + float64(float64(twos)*math.Ln2)
}
