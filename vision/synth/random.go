package synth

import (
	"math"
	"math/rand/v2"
	"sync"
)

// habit returns the random numbers of one thing in a scene: the same seed and names give the same thing in every photo.
func habit(seed uint64, names ...uint64) *rand.Rand {
	h := seed
	for _, n := range names {
		h = mix(h ^ mix(n+0x9e3779b97f4a7c15))
	}
	return rand.New(rand.NewPCG(h, mix(h)))
}

// mix is the finisher of splitmix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

const (
	cloudSide = 512 // entries along a side of the cloud tile
	cloudMask = cloudSide - 1
)

// clouds is a square of smooth noise that repeats without a seam, of mean 0 and standard deviation 1.
var clouds = sync.OnceValue(func() []float32 { return noiseTile(0x636c6f756473, 128) })

// grain is the same without slow waves, so that its repeating does not show.
var grain = sync.OnceValue(func() []float32 { return noiseTile(0x677261696e, 8) })

func noiseTile(seed uint64, coarsest int) []float32 {
	r := habit(seed)
	sum := make([]float64, cloudSide*cloudSide)
	for cell, weight := coarsest, 1.0; cell >= 2; cell, weight = cell/2, weight*0.62 {
		addLattice(r, sum, cell, weight)
	}
	return standardised(sum)
}

// addLattice adds smoothly interpolated random values on a lattice of the given cell.
func addLattice(r *rand.Rand, sum []float64, cell int, weight float64) {
	n := cloudSide / cell
	lattice := make([]float64, n*n)
	for i := range lattice {
		lattice[i] = r.NormFloat64() * weight
	}
	for y := range cloudSide {
		j, fy := y/cell, smooth(float64(y%cell)/float64(cell))
		for x := range cloudSide {
			i, fx := x/cell, smooth(float64(x%cell)/float64(cell))
			a, b := lattice[j*n+i], lattice[j*n+(i+1)%n]
			c, d := lattice[(j+1)%n*n+i], lattice[(j+1)%n*n+(i+1)%n]
			sum[y*cloudSide+x] += a + (b-a)*fx + (c-a)*fy + (a-b-c+d)*fx*fy
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

// smooth is the cubic that rises from 0 at 0 to 1 at 1 with level ends; outside it stays 0 or 1.
func smooth(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t * t * (3 - 2*t)
}

// cloud reads the tile between its entries; x and y in entries.
func cloud(tile []float32, x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	i, j := int(fx), int(fy)
	tx, ty := float32(x-fx), float32(y-fy)
	i0, i1 := i&cloudMask, (i+1)&cloudMask
	j0, j1 := (j&cloudMask)*cloudSide, ((j+1)&cloudMask)*cloudSide
	a, b, c, d := tile[j0+i0], tile[j0+i1], tile[j1+i0], tile[j1+i1]
	return float64(a + (b-a)*tx + (c-a)*ty + (a-b-c+d)*tx*ty)
}
