package exposure

import (
	"math"

	"traygauge/vision/synth/painted/num"
)

// film turns linear light into noisy 8-bit sRGB.
type film struct {
	sigma   []float32 // noise by signal, in entries of code
	normal  []float32 // standard normal quantiles in random order
	code    []uint8   // sRGB by signal
	state   uint64
	without bool
}

const (
	codeEntries   = 1 << 14 // of full scale: 0.8 of a code in the darkest part
	normalEntries = 1 << 12
)

func newFilm(l Light, seed uint64) *film {
	f := &film{state: num.Mix(seed ^ 0x6e6f697365), without: l.Clean, code: codes()}
	f.sigma = make([]float32, 257)
	for i := range f.sigma {
		s := float64(i) / 256
		f.sigma[i] = float32(math.Sqrt(l.ShotNoise*l.ShotNoise*s+l.ReadNoise*l.ReadNoise) * codeEntries)
	}
	f.normal = make([]float32, normalEntries)
	for i := range f.normal {
		f.normal[i] = float32(math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/normalEntries-1))
	}
	return f
}

func codes() []uint8 {
	code := make([]uint8, codeEntries+1)
	for i := range code {
		code[i] = uint8(num.Encoded(float64(i)/codeEntries) + 0.5)
	}
	return code
}

// develop writes a row of pixels, three values each, as NRGBA.
func (f *film) develop(row []float32, out []uint8) {
	for x, o := 0, 0; x < len(row); x, o = x+3, o+4 {
		// One xorshift step (Marsaglia 2003) has bits enough for three draws.
		f.state ^= f.state << 13
		f.state ^= f.state >> 7
		f.state ^= f.state << 17
		out[o] = f.encode(row[x], f.state>>52)
		out[o+1] = f.encode(row[x+1], f.state>>40)
		out[o+2] = f.encode(row[x+2], f.state>>28)
		out[o+3] = 255
	}
}

func (f *film) encode(signal float32, draw uint64) uint8 {
	if signal > 1 {
		signal = 1
	} else if signal < 0 {
		signal = 0
	}
	v := signal*codeEntries + 0.5
	if !f.without {
		v += f.sigma[int(signal*256)] * f.normal[draw&(normalEntries-1)]
	}
	if v < 0 {
		return f.code[0]
	}
	if v >= codeEntries {
		return f.code[codeEntries]
	}
	return f.code[int(v)]
}
