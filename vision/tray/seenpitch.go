package tray

import (
	"math"
	"math/cmplx"
)

// A tray of another pitch than the drawing's is seen by waves: along and across the tray, warmth rises and falls once a pitch.
const (
	leastPitchMM = 15.0 // of the closest plugs that are looked for
	leastWaves   = 2.5  // across the tray: what comes back less often may be a thing on it
	nearPitch    = 1.06 // times what both ways show: there the longer side is searched
	mostLonger   = 1.45 // than the plan's pitch: where every other cell is planted, plants come back at twice the pitch
	pitchStep    = 1.01 // from one pitch to the next; a tray of ten columns separates pitches that differ by a tenth

	// Strength of a wave is 1 where the line is nothing but that wave. Over some 300 drawn photos the strongest has 0.05 to 0.6, and the plan's own at least 0.36 times
	// as much; with plans whose pitch was 10 to 100 % off it had at most 0.25 times as much, and the strongest 0.14 and more.
	leastStrength = 0.12
	faintStrength = 0.3
	halfStrength  = 0.5 // from above, walls and plants alike make two waves a pitch
)

// otherPitch returns the pitch, in mm, at which the tray's warmth comes back both ways, where that is clear and the drawing's pitch is hardly seen; else 0.
func (m *Map) otherPitch() float64 {
	along, across := make([]float64, m.w), make([]float64, m.h)
	for j := range m.h {
		for i := range m.w {
			v := m.at(i, j)
			along[i], across[j] = along[i]+v, across[j]+v
		}
	}
	along, across = faded(along), faded(across)
	strength := func(pitch float64) float64 {
		return math.Sqrt(waveStrength(along, pitch) * waveStrength(across, pitch))
	}
	longest := m.t.WidthMM / leastWaves
	best, top := strongest(strength, leastPitchMM, longest)
	if best*pitchStep > longest || top < leastStrength || strength(m.t.PitchMM) > faintStrength*top {
		return 0
	}
	if 2*best < longest && strength(2*best) > halfStrength*top {
		best *= 2
	}
	if best > mostLonger*m.t.PitchMM {
		return 0
	}
	best, _ = strongest(func(pitch float64) float64 { return waveStrength(along, pitch) }, best/nearPitch, best*nearPitch) // the longer line shows it more finely
	return best
}

// strongest returns the pitch between two at which a strength is most, and that strength.
func strongest(strength func(pitch float64) float64, from, to float64) (best, top float64) {
	for pitch := from; pitch <= to; pitch *= pitchStep {
		if f := strength(pitch); f > top {
			best, top = pitch, f
		}
	}
	return best, top
}

// faded returns a line without its mean, fading towards its ends, of sum of squares 1.
func faded(line []float64) []float64 {
	n := float64(len(line))
	mean, squares := 0.0, 0.0
	for _, v := range line {
		mean += v / n
	}
	out := make([]float64, len(line))
	for i, v := range line {
		out[i] = (v - mean) * fade(i, len(line))
		squares += out[i] * out[i]
	}
	for i := range out {
		out[i] /= math.Sqrt(math.Max(squares, 1e-12))
	}
	return out
}

// fade is a weight that falls to 0 at both ends of n values (Hann's window).
func fade(i, n int) float64 { return 1 - math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n)) }

// waveStrength is which share of a line's sum of squares a wave of that length makes up.
func waveStrength(line []float64, mm float64) float64 {
	turn, step, sum := complex(1, 0), cmplx.Rect(1, 2*math.Pi/mm), complex(0, 0)
	for _, v := range line {
		sum += complex(v, 0) * turn
		turn *= step
	}
	return 2 * (real(sum)*real(sum) + imag(sum)*imag(sum)) / float64(len(line))
}
