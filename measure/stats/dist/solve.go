package dist

import "math"

// Solve returns a root of f between lo and hi, where f has opposite signs, by regula falsi with the Illinois rule: the end that
// stays has its value halved (Dowell & Jarratt 1971, BIT 11, 168-174). It is NaN if the signs do not differ.
func Solve(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi := f(lo), f(hi)
	switch {
	case flo == 0:
		return lo
	case fhi == 0:
		return hi
	case !(flo*fhi < 0):
		return math.NaN()
	}
	stayed := 0
	for range 200 {
		x := hi - fhi*(hi-lo)/(fhi-flo)
		if !(x > min(lo, hi) && x < max(lo, hi)) {
			x = (lo + hi) / 2
		}
		fx := f(x)
		if fx == 0 || math.Abs(hi-lo) <= 1e-13*(math.Abs(lo)+math.Abs(hi)) {
			return x
		}
		if fx*fhi < 0 {
			lo, flo, stayed = hi, fhi, 0
		} else if stayed++; stayed > 0 {
			flo /= 2
		}
		if math.Abs(x-hi) <= 1e-13*math.Abs(x) {
			return x
		}
		hi, fhi = x, fx
	}
	return hi
}
