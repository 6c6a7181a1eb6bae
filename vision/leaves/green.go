package leaves

import (
	"image"
	"math"

	"traygauge/vision/coverage"
)

// dark is added to light (paper 1) before logarithms are taken, because the darkest places of a photo have no colour.
const dark = 0.02

// Greenness, a difference of natural logarithms, is counted in greenSteps steps from greenFrom to greenTo.
const (
	greenFrom, greenTo = -1.0, 2.0
	greenSteps         = 96
)

// leastApart is the least unit of greenness, so that grain is not taken for green and ground where all is alike. Values are cut off at mostGreen units on either side.
const (
	leastApart = 0.2
	mostGreen  = 1.5
)

// fillGreen writes how green each pixel is for this photo: the four of each square of 2 × 2, in reading order, into in.Also from its value number behind on. Greenness is
// twice the logarithm of green less those of red and blue. It is counted from the value that best parts the tray's pixels into two kinds, in units of
// how far apart the means of the kinds are. A lamp of another colour moves all pixels alike and changes nothing. onTray is where the tray lies, in pixels; what lies around
// it is not parted. Source: greenness in vision/train/leaves.py.
func fillGreen(in coverage.Input, behind int, onTray image.Rectangle) {
	each, width := len(in.Also)/(in.H*in.W), 2*in.W
	const step = (greenTo - greenFrom) / greenSteps
	var count [greenSteps]int
	for y := range 2 * in.H {
		light := in.Light[3*width*y : 3*width*(y+1)]
		to := in.Also[y/2*in.W*each+behind+2*(y%2):]
		counted := y >= onTray.Min.Y && y < onTray.Max.Y
		for x := range width {
			red, green, blue := lit(light[3*x]), lit(light[3*x+1]), lit(light[3*x+2])
			v := logarithm(green * green / (red * blue))
			to[x/2*each+x%2] = v
			if counted && x >= onTray.Min.X && x < onTray.Max.X {
				count[min(max(int((v-greenFrom)*(1/step)), 0), greenSteps-1)]++
			}
		}
	}
	limit, apart := parted(count[:])
	from, perUnit := float32(greenFrom+step*limit), float32(1/math.Max(step*apart, leastApart))
	for k := behind; k < len(in.Also); k += each {
		four := (*[4]float32)(in.Also[k:])
		for i, v := range four {
			four[i] = within((v-from)*perUnit, mostGreen)
		}
	}
}

// within returns v, at most so far from 0.
func within(v, most float32) float32 {
	if v > most {
		return most
	}
	if v < -most {
		return -most
	}
	return v
}

// parted returns where values, counted in steps, part best into two kinds, and how far apart the means of the kinds are, both in steps and the first one from the
// beginning of the first step. Both are 0 where all values lie in one step. Source: Otsu 1979, doi:10.1109/TSMC.1979.4310076.
func parted(count []int) (limit, apart float64) {
	n, sum := 0.0, 0.0
	for i, c := range count {
		n, sum = n+float64(c), sum+float64(c)*float64(i)
	}
	below, sumBelow, best := 0.0, 0.0, 0.0
	for i, c := range count {
		below, sumBelow = below+float64(c), sumBelow+float64(c)*float64(i)
		if below == 0 || below == n {
			continue
		}
		d := (sum-sumBelow)/(n-below) - sumBelow/below
		if between := below * (n - below) * d * d; between > best {
			best, limit, apart = between, float64(i+1), d
		}
	}
	return limit, apart
}

// brightest is the most light that networks are shown, paper 1.
const brightest = 2.25

// lit returns light as logarithms of it are taken.
func lit(v float32) float32 {
	if v < 0 {
		return dark
	}
	if v > brightest {
		return brightest + dark
	}
	return v + dark
}

// logs holds the logarithms of 1 to 2, in even steps, each at its middle.
var logs = func() (t [1 << 12]float32) {
	for i := range t {
		t[i] = float32(math.Log1p((float64(i) + 0.5) / float64(len(t))))
	}
	return t
}()

// logarithm returns the natural logarithm of v > 0 to 0.0002: exponent and fraction are read off its bits (IEEE 754, binary32), which takes a quarter of math.Log's time.
func logarithm(v float32) float32 {
	bits := math.Float32bits(v)
	return (float32(bits>>23)-127)*math.Ln2 + logs[bits>>11&(1<<12-1)]
}
