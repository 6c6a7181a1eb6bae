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
		for x := range width {
			v := 2*logLight(light[3*x+1]) - logLight(light[3*x]) - logLight(light[3*x+2])
			to[x/2*each+x%2] = v
			if x >= onTray.Min.X && x < onTray.Max.X && y >= onTray.Min.Y && y < onTray.Max.Y {
				count[min(max(int((v-greenFrom)/step), 0), greenSteps-1)]++
			}
		}
	}
	limit, apart := parted(count[:])
	from, unit := float32(greenFrom+step*limit), float32(math.Max(step*apart, leastApart))
	for k := behind; k < len(in.Also); k += each {
		for i, v := range in.Also[k : k+4] {
			in.Also[k+i] = min(max((v-from)/unit, -mostGreen), mostGreen)
		}
	}
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

// logs holds the logarithms of dark plus light, in even steps of light from 0 to brightest. The table takes a tenth of the time, and is off by less than 0.004.
var logs = func() (t [1<<14 + 1]float32) {
	for i := range t {
		t[i] = float32(math.Log(dark + float64(i)*brightest/(1<<14)))
	}
	return t
}()

func logLight(v float32) float32 {
	return logs[int(min(max(v, 0), brightest)*((1<<14)/brightest)+0.5)]
}
