// Package num is the arithmetic of the painted scenes: chance by seed and name, tiles of noise, and colours. In go seeds and numbers, out come
// numbers. It knows nothing of what is drawn.
package num

import (
	"math"
	"math/rand/v2"
	"sync"
)

// Habit returns the random numbers of one thing in a scene: the same seed and names give the same thing in every photo.
func Habit(seed uint64, names ...uint64) *rand.Rand {
	h := seed
	for _, n := range names {
		h = Mix(h ^ Mix(n+0x9e3779b97f4a7c15))
	}
	return rand.New(rand.NewPCG(h, Mix(h)))
}

// Mix is the finisher of splitmix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
func Mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// Between draws evenly from low to high.
func Between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

const (
	CloudSide = 512 // entries along a side of the cloud tile
	cloudMask = CloudSide - 1
)

// Clouds is a square of smooth noise that repeats without a seam, of mean 0 and standard deviation 1.
var Clouds = sync.OnceValue(func() []float32 { return noiseTile(0x636c6f756473, 128) })

// Grain is the same without slow waves, so that its repeating does not show.
var Grain = sync.OnceValue(func() []float32 { return noiseTile(0x677261696e, 8) })

func noiseTile(seed uint64, coarsest int) []float32 {
	r := Habit(seed)
	sum := make([]float64, CloudSide*CloudSide)
	for cell, weight := coarsest, 1.0; cell >= 2; cell, weight = cell/2, weight*0.62 {
		addLattice(r, sum, cell, weight)
	}
	return standardised(sum)
}

// addLattice adds smoothly interpolated random values on a lattice of the given cell.
func addLattice(r *rand.Rand, sum []float64, cell int, weight float64) {
	n := CloudSide / cell
	lattice := make([]float64, n*n)
	for i := range lattice {
		lattice[i] = r.NormFloat64() * weight
	}
	for y := range CloudSide {
		j, fy := y/cell, Smooth(float64(y%cell)/float64(cell))
		for x := range CloudSide {
			i, fx := x/cell, Smooth(float64(x%cell)/float64(cell))
			a, b := lattice[j*n+i], lattice[j*n+(i+1)%n]
			c, d := lattice[(j+1)%n*n+i], lattice[(j+1)%n*n+(i+1)%n]
			sum[y*CloudSide+x] += a + (b-a)*fx + (c-a)*fy + (a-b-c+d)*fx*fy
		}
	}
}

func standardised(values []float64) []float32 {
	var mean, square float64
	for _, v := range values {
		mean += v
		square += v * v
	}
	mean /= float64(len(values))
	sd := math.Sqrt(square/float64(len(values)) - mean*mean)
	out := make([]float32, len(values))
	for i, v := range values {
		out[i] = float32((v - mean) / sd)
	}
	return out
}

// Smooth is the cubic that rises from 0 at 0 to 1 at 1 with level ends; outside it stays 0 or 1.
func Smooth(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t * t * (3 - 2*t)
}

// Cloud reads the tile between its entries; x and y in entries.
func Cloud(tile []float32, x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	i, j := int(fx), int(fy)
	tx, ty := float32(x-fx), float32(y-fy)
	i0, i1 := i&cloudMask, (i+1)&cloudMask
	j0, j1 := (j&cloudMask)*CloudSide, ((j+1)&cloudMask)*CloudSide
	a, b, c, d := tile[j0+i0], tile[j0+i1], tile[j1+i0], tile[j1+i1]
	return float64(a + (b-a)*tx + (c-a)*ty + (a-b-c+d)*tx*ty)
}

// Rad is an angle in degrees as radians.
func Rad(deg float64) float64 { return deg * math.Pi / 180 }

// Poisson draws a number by Knuth's product of uniforms (1969, The Art of Computer Programming 2, 3.4.1).
func Poisson(r *rand.Rand, mean float64) int {
	n, limit := 0, math.Exp(-min(mean, 200))
	for product := r.Float64(); product > limit; product *= r.Float64() {
		n++
	}
	return n
}

// OrOne is a gain, where 0 stands for 1.
func OrOne(gain float64) float64 {
	if gain == 0 {
		return 1
	}
	return gain
}
