package relief

import (
	"math/rand/v2"
	"sync"
)

const noiseSide = 512 // samples along a side of a noise table, which repeats without a seam

// noise is a table of smooth chance with mean 0 and standard deviation 1.
type noise [noiseSide * noiseSide]float32

// tables are made once and only read afterwards.
type tables struct {
	soft *noise // lumps of one size, 32 samples apart
	grit *noise // lumps of all sizes from 2 to 64 samples, the larger the higher
	fine *noise // lumps of 2 and 4 samples
}

var madeTables = sync.OnceValue(func() *tables {
	d := dice{rand.New(rand.NewPCG(11, 29))}
	return &tables{
		soft: newNoise(d, []int{32, 16}, []float32{1, 0.35}),
		grit: newNoise(d, []int{64, 32, 16, 8, 4, 2}, []float32{1, 0.8, 0.64, 0.5, 0.4, 0.32}),
		fine: newNoise(d, []int{4, 2}, []float32{1, 0.8}),
	}
})

// newNoise adds gradient noise (Perlin, "An image synthesizer", 1985) of several wavelengths, in samples.
func newNoise(d dice, waves []int, heights []float32) *noise {
	n := new(noise)
	for i, wave := range waves {
		n.add(d, wave, heights[i])
	}
	n.norm()
	return n
}

func (n *noise) add(d dice, wave int, height float32) {
	cells := noiseSide / wave
	slope := make([][2]float32, cells*cells)
	for i := range slope {
		slope[i][0], slope[i][1] = d.facing()
	}
	corner := func(cx, cy int, x, y float32) float32 {
		s := slope[(cy%cells)*cells+cx%cells]
		return dot(s[0], s[1], x, y)
	}
	for i := range n {
		x, y := i%noiseSide, i/noiseSide
		cx, cy := x/wave, y/wave
		u, v := (float32(x%wave)+0.5)/float32(wave), (float32(y%wave)+0.5)/float32(wave)
		top := mix(corner(cx, cy, u, v), corner(cx+1, cy, u-1, v), smooth(0, 1, u))
		low := mix(corner(cx, cy+1, u, v-1), corner(cx+1, cy+1, u-1, v-1), smooth(0, 1, u))
		n[i] += float32(height * mix(top, low, smooth(0, 1, v)))
	}
}

func (n *noise) norm() {
	sum, squares := float32(0), float32(0)
	for _, v := range n {
		sum += float32(v / float32(len(n)))
		squares += float32(v * v / float32(len(n)))
	}
	scale := 1 / sqrt(squares-float32(sum*sum))
	for i, v := range n {
		n[i] = (v - sum) * scale
	}
}

// near is the table's sample at whole steps.
func (n *noise) near(x, y int) float32 {
	return n[(y&(noiseSide-1))*noiseSide+x&(noiseSide-1)]
}

// at is the table between its samples, linear in x and y.
func (n *noise) at(x, y float32) float32 {
	fx, fy := floor(x), floor(y)
	ix, iy := int(fx), int(fy)
	top := mix(n.near(ix, iy), n.near(ix+1, iy), x-fx)
	low := mix(n.near(ix, iy+1), n.near(ix+1, iy+1), x-fx)
	return mix(top, low, y-fy)
}
