package tray

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A picture that is laid over itself, moved by d and with the weight w, has its power at each frequency f times |1 − w + w·e^(−2πi·f·d)|². These ripples, in the logarithm
// of the power, become a peak at d in that logarithm's own Fourier transform, the cepstrum (Bogert, Healy & Tukey 1963, in Rosenblatt, Time Series Analysis, 209-243; from
// memory). Edges, grain and blur of a picture that was taken once have no peak there that lies one way only; a thing's shadow has one below 0.
const (
	doubledSize            = 96 // pixels each way about a cell's middle
	doubledFrom, doubledTo = 3.0, 32.0
	doubledNoise           = 3.0 // codes: noise and rounding, below which no ripples are seen
	doubledLeast           = 3   // cells, of nine
	jpegBlock              = 8   // pixels each way; compression repeats itself from block to block

	// The highest peaks of photos that were taken once, over some 300 drawn ones, are about 0.1 at 3 pixels and less the farther apart, 0.043 from 7 pixels on.
	nearPeak, nearPeakAt = 0.1, 3.0
	farPeak, farPeakAt   = 0.043, 7.0
)

// usualPeak is as high as a peak so far from the middle gets in photos that were taken once.
func usualPeak(far float64) float64 {
	return farPeak + (nearPeak-farPeak)*math.Max(0, (farPeakAt-far)/(farPeakAt-nearPeakAt))
}

// Doubled returns how clearly the tray is in the photo twice, for the neighbouring cells where that is most, and how many pixels apart: how high the cepstrum's peak stands
// over what lies as far off in other directions, in times of what a photo that was taken once can have. Every other cell is looked at.
func Doubled(s *scene.Scene, t Layout, g Grid) (most, px float64) {
	c := newCepstra(s, t, g)
	of := make([][]float64, t.Rows*t.Columns) // nil for those not looked at, or not wholly in the photo
	var pair []int
	for k := range of {
		if (k/t.Columns+k%t.Columns)%2 == 0 && c.has(k) {
			pair = append(pair, k)
		}
		if len(pair) == 2 || k == len(of)-1 && len(pair) == 1 {
			first, last := pair[0], pair[len(pair)-1]
			of[first], of[last] = c.both(first, last)
			pair = nil
		}
	}
	for k := range of {
		if peak, far := c.peak(c.about(k, of)); peak > most {
			most, px = peak, far
		}
	}
	return most, px
}

// about is, at each lag, the median of the cepstra of a cell and the eight around it, so that two edges of one root in one cell do not count; nil where too few were
// looked at.
func (c *cepstra) about(cell int, of [][]float64) []float64 {
	var near [][]float64
	row, col := cell/c.t.Columns, cell%c.t.Columns
	for r := max(0, row-1); r <= min(c.t.Rows-1, row+1); r++ {
		for k := r*c.t.Columns + max(0, col-1); k <= r*c.t.Columns+min(c.t.Columns-1, col+1); k++ {
			if of[k] != nil {
				near = append(near, of[k])
			}
		}
	}
	if len(near) < doubledLeast {
		return nil
	}
	middle, at := make([]float64, len(c.lags)), make([]float64, len(near))
	for i := range middle {
		for k, cepstrum := range near {
			at[k] = cepstrum[i]
		}
		slices.Sort(at)
		middle[i] = at[(len(at)-1)/2]
	}
	return middle
}

// cepstra works out the cepstrum about cells' middles.
type cepstra struct {
	s      *scene.Scene
	t      Layout
	place  func(u, v float64) (float64, float64)
	f      *fourier.CmplxFFT
	window [doubledSize]float64
	floor  float64 // added to each power
	lags   []lag
}

// lag is a place in the cepstrum, and how many pixels it is from the middle.
type lag struct {
	at  int
	far float64
}

func newCepstra(s *scene.Scene, t Layout, g Grid) *cepstra {
	c := &cepstra{s: s, t: t, place: g.placing(t), f: fourier.NewCmplxFFT(doubledSize)}
	for i := range c.window {
		c.window[i] = fade(i, doubledSize)
		c.floor += raster.Sq(c.window[i])
	}
	c.floor = raster.Sq(doubledNoise * c.floor)
	for y := 0; y <= doubledTo; y++ { // the other half is the same
		for x := int(-doubledTo); x <= doubledTo; x++ {
			if far := math.Hypot(float64(x), float64(y)); far >= doubledFrom && far <= doubledTo && (y > 0 || x > 0) && (x%jpegBlock != 0 || y%jpegBlock != 0) {
				c.lags = append(c.lags, lag{y*doubledSize + (x+doubledSize)%doubledSize, far})
			}
		}
	}
	return c
}

// corner is the upper left pixel of what is looked at about a cell's middle.
func (c *cepstra) corner(cell int) (x, y int) {
	u, v := c.place(c.t.Centre(cell/c.t.Columns, cell%c.t.Columns))
	q := c.s.Plane.ToPx(c.s.TrayPoint(u, v))
	return int(math.Floor(q.X)) - doubledSize/2, int(math.Floor(q.Y)) - doubledSize/2
}

// has reports whether the photo has all that is looked at about a cell's middle.
func (c *cepstra) has(cell int) bool {
	x, y := c.corner(cell)
	return x >= 0 && y >= 0 && x+doubledSize <= c.s.Photo.Width && y+doubledSize <= c.s.Photo.Height
}

// both returns the cepstra of two cells at the lags, for the price of one: a goes into the real parts, b into the imaginary ones.
func (c *cepstra) both(a, b int) (ofA, ofB []float64) {
	const n = doubledSize
	wave := make([]complex128, n*n)
	codesA, codesB := c.codes(a), c.codes(b)
	for k := range wave {
		wave[k] = complex(codesA[k], codesB[k])
	}
	transform(c.f, wave)
	logs := make([]complex128, n*n)
	for y := range n {
		for x := range n {
			z, other := wave[y*n+x], wave[(n-y)%n*n+(n-x)%n]
			re, im := real(z)+real(other), imag(z)-imag(other) // twice a's
			reB, imB := imag(z)+imag(other), real(other)-real(z)
			logs[y*n+x] = complex(math.Log((re*re+im*im)/4+c.floor), math.Log((reB*reB+imB*imB)/4+c.floor))
		}
	}
	transform(c.f, logs)
	ofA, ofB = make([]float64, len(c.lags)), make([]float64, len(c.lags))
	for i, l := range c.lags {
		ofA[i], ofB[i] = real(logs[l.at])/(n*n), imag(logs[l.at])/(n*n)
	}
	return ofA, ofB
}

// codes are the green codes about a cell's middle, less their mean, fading towards the edges.
func (c *cepstra) codes(cell int) []float64 {
	const n = doubledSize
	x0, y0 := c.corner(cell)
	codes, mean, all := make([]float64, n*n), 0.0, 0.0
	for y := range n {
		row := c.s.Photo.BGR[3*((y0+y)*c.s.Photo.Width+x0):]
		for x := range n {
			weight := c.window[x] * c.window[y]
			codes[y*n+x] = float64(row[3*x+1])
			mean, all = mean+weight*codes[y*n+x], all+weight
		}
	}
	mean /= all
	for k := range codes {
		codes[k] = (codes[k] - mean) * c.window[k%n] * c.window[k/n]
	}
	return codes
}

// peak returns how far the cepstrum's clearest value stands over the mean of those as far from the middle, in times of the usual, and how far that is.
func (c *cepstra) peak(cepstrum []float64) (times, px float64) {
	if cepstrum == nil {
		return 0, 0
	}
	var sum, n [doubledTo + 2]float64
	for i, l := range c.lags {
		ring := int(l.far + 0.5)
		sum[ring], n[ring] = sum[ring]+cepstrum[i], n[ring]+1
	}
	for i, l := range c.lags {
		ring := int(l.far + 0.5)
		if over := (cepstrum[i] - sum[ring]/n[ring]) / usualPeak(l.far); over > times {
			times, px = over, l.far
		}
	}
	return times, px
}
