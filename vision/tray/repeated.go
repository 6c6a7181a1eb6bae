package tray

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Under a net, fine things come back at a little distance, the same in neighbouring cells. By the theorem of Wiener and
// Khinchin a picture's likeness to itself at each distance is the Fourier transform of its power spectrum.
const (
	repeatedStepMM               = 0.5
	repeatedSize                 = 64  // places each way; a cell's middle fills two thirds of them, so that nothing is compared around the edge
	repeatedRadius               = 0.2 // of the pitch: within it places count in full
	repeatedFromMM, repeatedToMM = 2.0, 9.0
	fineMM                       = 1.0 // what changes over more is no fine thing: the sigma of a Gaussian
	repeatedCells                = 2   // each way, side by side
)

// Repeated returns how much the fine things in neighbouring cells are like themselves at a distance of 2 to 9 mm, for the cells and the distance where that is
// most: 1 is the same all over. It is 0 where the tray has fewer than two cells either way.
func Repeated(s *scene.Scene, t Layout, g Grid) (most float64) {
	p := newPattern(s, t, g)
	sum := make([]complex128, repeatedSize*repeatedSize)
	for r := 0; r+repeatedCells <= t.Rows; r += repeatedCells {
		for c := 0; c+repeatedCells <= t.Columns; c += 2 * repeatedCells { // every other block: a net lies over all of them
			clear(sum)
			for i := range repeatedCells * repeatedCells {
				for k, v := range p.power(t.Centre(r+i/repeatedCells, c+i%repeatedCells)) {
					sum[k] += complex(v, 0)
				}
			}
			most = math.Max(most, likeness(p.f, sum))
		}
	}
	return most
}

// pattern looks at the fine things in the middles of a tray's cells, place by place around each.
type pattern struct {
	o       overview
	f       *fourier.CmplxFFT
	place   func(u, v float64) (float64, float64)
	weights [repeatedSize * repeatedSize]float64 // of places: 1 in a cell's middle, 0 beyond what is looked at
	fine    [repeatedSize * repeatedSize]float64 // how much of the power at each frequency is of fine things
}

func newPattern(s *scene.Scene, t Layout, g Grid) *pattern {
	p := &pattern{o: overviewOf(s, t), f: fourier.NewCmplxFFT(repeatedSize), place: g.placing(t)}
	for k := range p.weights {
		du, dv := placeBeside(k)
		if far := math.Hypot(du, dv) / (repeatedRadius * t.PitchMM); far <= 1.3 {
			p.weights[k] = math.Exp(-math.Pow(far, 6))
		}
		fu, fv := p.f.Freq(k%repeatedSize)/repeatedStepMM, p.f.Freq(k/repeatedSize)/repeatedStepMM
		p.fine[k] = raster.Sq(1 - math.Exp(-2*raster.Sq(math.Pi*fineMM)*(fu*fu+fv*fv)))
	}
	return p
}

// placeBeside is where place k lies from a cell's middle, in mm.
func placeBeside(k int) (du, dv float64) {
	const n = repeatedSize
	return (float64(k%n) - n/2) * repeatedStepMM, (float64(k/n) - n/2) * repeatedStepMM
}

// power returns the power spectrum of the fine things about a cell's middle, of sum 1; nil where they are not all in the photo.
func (p *pattern) power(u, v float64) []float64 {
	const n = repeatedSize
	var codes [n * n]float64
	var mean, all float64
	for k, weight := range p.weights {
		if weight == 0 {
			continue
		}
		du, dv := placeBeside(k)
		at, ok := p.o.index(p.place(u+du, v+dv))
		if !ok {
			return nil
		}
		codes[k] = math.Log(float64(p.o.BGR[at+1]) + 8)
		mean, all = mean+codes[k]*weight, all+weight
	}
	mean /= all
	wave := make([]complex128, n*n)
	for k, weight := range p.weights {
		wave[k] = complex((codes[k]-mean)*weight, 0)
	}
	transform(p.f, wave)
	power, sum := make([]float64, n*n), 0.0
	for k, c := range wave {
		power[k] = p.fine[k] * (raster.Sq(real(c)) + raster.Sq(imag(c)))
		sum += power[k]
	}
	for k := range power {
		power[k] /= math.Max(sum, raster.LeastLight)
	}
	return power
}

// likeness returns how much cells are like themselves at the distance where that is most, from the sum of their power spectra. It overwrites sum.
func likeness(f *fourier.CmplxFFT, sum []complex128) (most float64) {
	const n = repeatedSize
	transform(f, sum)
	for k, c := range sum {
		x, y := (k%n+n/2)%n-n/2, (k/n+n/2)%n-n/2
		if far := math.Hypot(float64(x), float64(y)) * repeatedStepMM; far >= repeatedFromMM && far <= repeatedToMM {
			most = math.Max(most, real(c))
		}
	}
	return most / math.Max(real(sum[0]), raster.LeastLight)
}

// transform is the Fourier transform along rows, then along columns.
func transform(f *fourier.CmplxFFT, wave []complex128) {
	n := f.Len()
	line := make([]complex128, n)
	for r := range n {
		f.Coefficients(wave[r*n:(r+1)*n], wave[r*n:(r+1)*n])
	}
	for c := range n {
		for r := range n {
			line[r] = wave[r*n+c]
		}
		f.Coefficients(line, line)
		for r := range n {
			wave[r*n+c] = line[r]
		}
	}
}
