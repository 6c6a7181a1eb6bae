package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// The card shows how sharp the photo is where the card lies. A phone that was held at a slant or focused on the card leaves the tray's far end
// unsharp, and plants that a fan moves are unsharp beside a sharp card. How sharp the photo is on the tray, the clearest edges on each cell tell: an edge
// blurred by σ whose slope falls to 1/R when it is blurred once more by σ0 has σ = σ0/√(R²−1) (Zhuo & Sim 2011, Pattern Recognition 44, 1852-1858).
// Lines come out sharper than they are, grain of the medium and noise too, so that a cell is hardly ever less sharp than this says.
const (
	moreBlurMM    = 0.2    // σ0: the width of a thin root
	leastBlurPx   = 1.0    // of σ0
	noiseBlurPx   = 0.7    // blurred by so much before anything, for the sensor's noise
	differencePx2 = 1. / 3 // the variance of a difference over two pixels
	clearestShare = 0.02   // of the places along a cell's lines: the steepest of them
	lineStep      = 8      // every eighth row and column is looked at
	cellLooked    = 0.8    // of the pitch
	fewestSlopes  = 20
)

// Blur returns for each cell, in reading order, how blurred the photo is there and beside it: the sigma of a Gaussian in mm, as Sharpness.BlurMM has it; NaN where
// the cell is not in the photo or shows nothing.
func Blur(s *scene.Scene, t Layout, g Grid) []float64 {
	own := make([]float64, t.Rows*t.Columns)
	for k := range own {
		own[k] = cellBlur(s, t, g, k/t.Columns, k%t.Columns)
	}
	usual := make([]float64, len(own))
	for k := range own {
		usual[k] = beside(own, t, k/t.Columns, k%t.Columns)
	}
	return usual
}

// beside is the lower quartile over a cell and its neighbours: focus changes little from cell to cell, and what lies on one cell may be smooth.
func beside(own []float64, t Layout, row, col int) float64 {
	var near []float64
	for r := max(0, row-1); r <= min(t.Rows-1, row+1); r++ {
		for c := max(0, col-1); c <= min(t.Columns-1, col+1); c++ {
			if b := own[r*t.Columns+c]; !math.IsNaN(b) {
				near = append(near, b)
			}
		}
	}
	if len(near) == 0 {
		return math.NaN()
	}
	slices.Sort(near)
	return near[(len(near)-1)/4]
}

// cellBlur is the blur on one cell in the direction that is blurred more.
func cellBlur(s *scene.Scene, t Layout, g Grid, row, col int) float64 {
	outline := CellOutline(s, &s.Plane, t, g, row, col)
	if !s.Photo.Holds(outline) {
		return math.NaN()
	}
	u, v := t.Centre(row, col)
	gu, gv := g.Place(t, u, v)
	at := s.TrayPoint(gu, gv)
	perMM := s.Plane.PxPerMM(at)
	q, half := s.Plane.ToPx(at), int(cellLooked*t.PitchMM/2*perMM)
	x0, y0 := max(0, int(q.X)-half), max(0, int(q.Y)-half)
	n := min(2*half, s.Photo.Width-x0, s.Photo.Height-y0)
	more := math.Max(leastBlurPx, moreBlurMM*perMM)
	first, then := gaussian(noiseBlurPx), gaussian(math.Hypot(noiseBlurPx, more))
	if n < 4*len(then) {
		return math.NaN()
	}
	worst := math.NaN()
	for way := range 2 {
		lines := linesOf(s, x0, y0, n, way)
		if ratio := lines.clearest(first, then); ratio > 1 {
			b := math.Sqrt(math.Max(0, more*more/(ratio*ratio-1)-noiseBlurPx*noiseBlurPx-differencePx2)) / perMM
			if !(b < worst) {
				worst = b
			}
		}
	}
	return worst
}

// lines are some of the green codes of a square of the photo, row by row or column by column.
type lines [][]float32

func linesOf(s *scene.Scene, x0, y0, n, way int) (all lines) {
	codes := make([]float32, (n+lineStep-1)/lineStep*n)
	for j := 0; j < n; j += lineStep {
		line := codes[:n:n]
		codes = codes[n:]
		for i := range line {
			at := s.Photo.At(x0+i, y0+j)
			if way == 1 {
				at = s.Photo.At(x0+j, y0+i)
			}
			line[i] = float32(s.Photo.BGR[at+1])
		}
		all = append(all, line)
	}
	return all
}

// clearest is the median of how many times less steep the steepest places are when they are blurred by then instead of first; 0 where there are
// hardly any.
func (all lines) clearest(first, then []float32) float64 {
	reach := len(then)/2 + 1
	var steep []float32
	var bins [4 * 256]int // by quarters of a code
	for _, line := range all {
		for i := reach; i < len(line)-reach; i++ {
			d := abs32(slopeAt(line, first, i))
			steep = append(steep, d)
			bins[min(len(bins)-1, int(4*d))]++
		}
	}
	least, n := len(bins)-1, bins[len(bins)-1]
	for ; least > 1 && n < int(clearestShare*float64(len(steep))); least-- {
		n += bins[least-1]
	}
	var ratios []float64
	k := 0
	for _, line := range all {
		for i := reach; i < len(line)-reach; i++ {
			if d := steep[k]; d >= float32(least)/4 {
				if later := abs32(slopeAt(line, then, i)); later > 0 {
					ratios = append(ratios, float64(d/later))
				}
			}
			k++
		}
	}
	if len(ratios) < fewestSlopes {
		return 0
	}
	return raster.Median(ratios)
}

// slopeAt is the difference over two pixels about i of a line blurred by a kernel.
func slopeAt(line, kernel []float32, i int) (d float32) {
	half := len(kernel) / 2
	line = line[i-half-1:]
	for k, w := range kernel {
		d += w * (line[k+2] - line[k])
	}
	return d
}

func abs32(v float32) float32 { return max(v, -v) }

// gaussian is a kernel of a standard deviation in pixels, of sum 1.
func gaussian(sigma float64) []float32 {
	half := int(math.Ceil(3 * sigma))
	k := make([]float32, 2*half+1)
	sum := float32(0)
	for i := range k {
		k[i] = float32(math.Exp(-raster.Sq(float64(i-half)) / (2 * sigma * sigma)))
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	return k
}
