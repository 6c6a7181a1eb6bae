package vision

import "math"

// fineSigma is the least scale in pixels at which centre lines are looked for: a line shows best at its half-width over √3
// (Steger 1998, IEEE TPAMI 20, 113-125), and a pixel's own width and the lens make every line 1.5 pixels wide at least.
const fineSigma = 0.9

// lineTest says what passes for a centre line: roundest is the greatest curvature along it over that across it, bend the
// least curvature across it in share per square pixel at sigma 1.
type lineTest struct{ roundest, bend float64 }

// surelyLine finds roots among specks; anyCrest follows known roots through crossings and where they lie close.
var (
	surelyLine = lineTest{0.5, 0.05}
	anyCrest   = lineTest{0.9, 0.025}
)

// ridges is a map of centre lines: for each pixel on one, the length in pixels that it stands for and the line's direction.
type ridges struct {
	w, h   int
	is     lineTest
	weight []float32 // 0 off the lines
	nx, ny []float32 // unit normal
}

// findRidges finds the centre lines of a map of shares at a scale in pixels. A pixel is on one when the share's quadratic part
// has its maximum across the line inside that pixel (Steger 1998, section 2), and bends along the line by less than
// roundest times as much as across it: half for what is surely a line, nearly one to follow lines through their crossings. A
// line with the unit normal n passes 1/max(|n_x|, |n_y|) such pixels a pixel of its length, so each stands for
// max(|n_x|, |n_y|).
func findRidges(share []float32, w, h int, sigma float64, is lineTest) *ridges {
	n := w * h
	buf := make([]float32, 3*n)
	r := &ridges{w, h, is, buf[:n], buf[n : 2*n], buf[2*n:]}
	s := gaussian(share, w, h, sigma)
	least := is.bend / sq(sigma)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			if i := y*w + x; s[i] > 0.1 {
				r.look(s, i, least)
			}
		}
	}
	return r
}

// look decides on the pixel at i.
func (r *ridges) look(s []float32, i int, least float64) {
	w := r.w
	at := func(d int) float64 { return float64(s[i+d]) }
	gx, gy := (at(1)-at(-1))/2, (at(w)-at(-w))/2
	xx, yy := at(1)-2*at(0)+at(-1), at(w)-2*at(0)+at(-w)
	xy := (at(w+1) - at(w-1) - at(-w+1) + at(-w-1)) / 4
	mid, dif := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	low, high := mid-dif, mid+dif
	if low > -least || high < r.is.roundest*low {
		return
	}
	nx, ny := xy, low-xx
	if math.Abs(low-yy) > math.Abs(ny) {
		nx, ny = low-yy, xy
	}
	l := math.Hypot(nx, ny)
	if l == 0 {
		return
	}
	nx, ny = nx/l, ny/l
	t := -(gx*nx + gy*ny) / low
	if math.Abs(t*nx) > 0.5 || math.Abs(t*ny) > 0.5 {
		return
	}
	r.weight[i] = float32(math.Max(math.Abs(nx), math.Abs(ny)))
	r.nx[i], r.ny[i] = float32(nx), float32(ny)
}

// keepsDirection is the least cosine between the normals of neighbours on one piece: a root turns by less than 35° in a pixel.
const keepsDirection = 0.82

// pieces returns the runs of neighbouring pixels on centre lines that keep their direction from each to the next.
func (r *ridges) pieces() [][]int {
	seen := make([]bool, len(r.weight))
	var all [][]int
	for start := range r.weight {
		if r.weight[start] == 0 || seen[start] {
			continue
		}
		seen[start] = true
		piece := []int{start}
		for k := 0; k < len(piece); k++ {
			i := piece[k]
			for _, d := range [8]int{1, -1, r.w, -r.w, r.w + 1, r.w - 1, -r.w + 1, -r.w - 1} {
				j := i + d
				if j < 0 || j >= len(seen) || seen[j] || r.weight[j] == 0 {
					continue
				}
				if c := r.nx[i]*r.nx[j] + r.ny[i]*r.ny[j]; c > keepsDirection || c < -keepsDirection {
					seen[j] = true
					piece = append(piece, j)
				}
			}
		}
		all = append(all, piece)
	}
	return all
}

// lengthMM adds up the centre lines inside the support.
func (c *rootCell) lengthMM(share []float32, support []bool) float64 {
	r := findRidges(share, c.p.w, c.p.h, fineSigma, anyCrest)
	sum := 0.0
	for i, ok := range support {
		if ok && share[i] >= perhapsShare {
			sum += float64(r.weight[i])
		}
	}
	return sum / c.pxMM
}

// gaussian blurs with a kernel cut at three sigmas, edges repeated.
func gaussian(src []float32, w, h int, sigma float64) []float32 {
	r := int(math.Ceil(3 * sigma))
	k := make([]float32, 2*r+1)
	var sum float32
	for i := range k {
		k[i] = float32(math.Exp(-sq(float64(i-r)) / (2 * sigma * sigma)))
		sum += k[i]
	}
	tmp, out := make([]float32, len(src)), make([]float32, len(src))
	for y := range h {
		for x := range w {
			var v float32
			for i, f := range k {
				v += f * src[y*w+min(w-1, max(0, x+i-r))]
			}
			tmp[y*w+x] = v / sum
		}
	}
	for y := range h {
		for x := range w {
			var v float32
			for i, f := range k {
				v += f * tmp[min(h-1, max(0, y+i-r))*w+x]
			}
			out[y*w+x] = v / sum
		}
	}
	return out
}
