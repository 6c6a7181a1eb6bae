package num

import (
	"math/rand/v2"
	"sync"
)

const NoiseSide = 512 // samples along a side of a noise table, which repeats without a seam

// Noise is a table of smooth chance with mean 0 and standard deviation 1.
type Noise [NoiseSide * NoiseSide]float32

// SoftWave is how many samples of the soft table lie from lump to lump.
const SoftWave = 32

// Tables are made once and only read afterwards.
type Tables struct {
	Soft *Noise // lumps of one size, SoftWave samples apart
	Grit *Noise // lumps of all sizes from 2 to 64 samples, the larger the higher
	Fine *Noise // lumps of 2 and 4 samples
}

// MadeTables makes them, the first time.
var MadeTables = sync.OnceValue(func() *Tables {
	d := Dice{rand.New(rand.NewPCG(11, 29))}
	return &Tables{
		Soft: newNoise(d, []int{SoftWave, SoftWave / 2}, []float32{1, 0.35}),
		Grit: newNoise(d, []int{64, 32, 16, 8, 4, 2}, []float32{1, 0.8, 0.64, 0.5, 0.4, 0.32}),
		Fine: newNoise(d, []int{4, 2}, []float32{1, 0.8}),
	}
})

// newNoise adds gradient noise (Perlin, "An image synthesizer", 1985) of several wavelengths, in samples.
func newNoise(d Dice, waves []int, heights []float32) *Noise {
	n := new(Noise)
	for i, wave := range waves {
		n.add(d, wave, heights[i])
	}
	n.norm()
	return n
}

func (n *Noise) add(d Dice, wave int, height float32) {
	cells := NoiseSide / wave
	slope := make([][2]float32, cells*cells)
	for i := range slope {
		slope[i][0], slope[i][1] = d.Facing()
	}
	corner := func(cx, cy int, x, y float32) float32 {
		s := slope[(cy%cells)*cells+cx%cells]
		return Dot(s[0], s[1], x, y)
	}
	for i := range n {
		x, y := i%NoiseSide, i/NoiseSide
		cx, cy := x/wave, y/wave
		u, v := (float32(x%wave)+0.5)/float32(wave), (float32(y%wave)+0.5)/float32(wave)
		top := Mix(corner(cx, cy, u, v), corner(cx+1, cy, u-1, v), Smooth(0, 1, u))
		low := Mix(corner(cx, cy+1, u, v-1), corner(cx+1, cy+1, u-1, v-1), Smooth(0, 1, u))
		n[i] += float32(height * Mix(top, low, Smooth(0, 1, v)))
	}
}

func (n *Noise) norm() {
	sum, squares := float32(0), float32(0)
	for _, v := range n {
		sum += float32(v / float32(len(n)))
		squares += float32(v * v / float32(len(n)))
	}
	scale := 1 / Sqrt(squares-float32(sum*sum))
	for i, v := range n {
		n[i] = (v - sum) * scale
	}
}

// Near is the table's sample at whole steps.
func (n *Noise) Near(x, y int) float32 {
	return n[(y&(NoiseSide-1))*NoiseSide+x&(NoiseSide-1)]
}

// At is the table between its samples, linear in x and y.
func (n *Noise) At(x, y float32) float32 {
	fx, fy := Floor(x), Floor(y)
	ix, iy := int(fx), int(fy)
	top := Mix(n.Near(ix, iy), n.Near(ix+1, iy), x-fx)
	low := Mix(n.Near(ix, iy+1), n.Near(ix+1, iy+1), x-fx)
	return Mix(top, low, y-fy)
}
