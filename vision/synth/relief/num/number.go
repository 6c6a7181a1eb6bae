// Package num is the arithmetic of the relief style: numbers, colours, chance and tables of noise, which come out the same to the last bit
// on every processor. In go numbers and a source of chance, out come numbers. It knows nothing of what is drawn.
//
// Go may round a product and a sum in one step where the processor can, so each product that goes into a sum is rounded first, by a
// conversion: float32(a*b) + c. The math package's own sines and powers differ in the same way; those here do not.
package num

import "math"

// Mix goes in a straight line from a at t = 0 to b at t = 1.
func Mix(a, b, t float32) float32 {
	a, b = float32(a), float32(b)
	return a + float32((b-a)*t)
}

func Clamp(v, low, high float32) float32 { return min(high, max(low, v)) }

// Smooth rises from 0 at v = low to 1 at v = high without a corner.
func Smooth(low, high, v float32) float32 {
	low, high = float32(low), float32(high)
	t := Clamp((float32(v)-low)/(high-low), 0, 1)
	return float32(t * t * (3 - float32(2*t)))
}

func Dot(ax, ay, bx, by float32) float32 { return float32(ax*bx) + float32(ay*by) }

func Dot3(ax, ay, az, bx, by, bz float32) float32 {
	return float32(ax*bx) + float32(ay*by) + float32(az*bz)
}

func Sqrt(v float32) float32 { return float32(math.Sqrt(float64(v))) }

func Length(x, y float32) float32 { return Sqrt(Dot(x, y, x, y)) }

func Floor(v float32) float32 { return float32(math.Floor(float64(v))) }

func Abs(v float32) float32 { return max(v, -v) }

// SinCos returns the sine and the cosine of an angle given in turns, to about 1e-6 (Taylor's series within an eighth of a turn).
func SinCos(turns float32) (sin, cos float32) {
	quarter := Floor(float32(4*turns) + 0.5)
	a := (turns - float32(quarter*0.25)) * (2 * math.Pi)
	q := a * a
	sin = a * (1 - float32(q/6*(1-float32(q/20*(1-float32(q/42))))))
	cos = 1 - float32(q/2*(1-float32(q/12*(1-float32(q/30*(1-float32(q/56)))))))
	switch int(quarter) & 3 {
	case 1:
		return cos, -sin
	case 2:
		return -sin, -cos
	case 3:
		return -cos, sin
	}
	return sin, cos
}

// Exp2 returns 2 to the power v, to about 1e-6 (Taylor's series of the fraction's power).
func Exp2(v float32) float32 {
	whole := Floor(v)
	t := (v - whole) * math.Ln2
	p := float32(1)
	for k := float32(7); k >= 1; k-- {
		p = 1 + float32(t/k*p)
	}
	return float32(math.Ldexp(float64(p), int(whole)))
}

// Log2 returns the logarithm of v > 0 to base 2, to about 1e-6 (the series of the inverse hyperbolic tangent).
func Log2(v float32) float32 {
	fraction, exponent := math.Frexp(float64(v))
	y := (float32(fraction) - 1) / (float32(fraction) + 1)
	q := y * y
	p := float32(0)
	for k := float32(11); k >= 1; k -= 2 {
		p = 1/k + float32(q*p)
	}
	return float32(exponent) + float32(2/math.Ln2*float32(y*p))
}

// Turned is a unit vector turned by so many turns.
func Turned(x, y, by float32) (float32, float32) {
	sin, cos := SinCos(by)
	return float32(x*cos) - float32(y*sin), float32(x*sin) + float32(y*cos)
}
