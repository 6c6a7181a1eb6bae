package vision

import "math"

// fineSigma is the least scale in pixels at which centre lines are looked for: a line shows best at its half-width over √3
// (Steger 1998, IEEE TPAMI 20, 113-125), and a pixel's own width and the lens make every line 1.5 pixels wide at least.
const fineSigma = 0.9

// What passes for a centre line: the greatest curvature along it over that across it, and the least curvature across it in share
// per square pixel at sigma 1. What is surely a line tells roots from specks; any crest will do to follow known roots through
// crossings and where they lie close.
const (
	sureRoundest, sureBend = 0.5, 0.05
	anyRoundest, anyBend   = 0.9, 0.025
)

// crest is a pixel on a centre line.
type crest struct {
	i      int32   // which pixel
	x, y   float32 // where in the patch the line passes it, in pixels
	nx, ny float32 // unit normal of the line
	sure   bool
}

// crests are the pixels on centre lines of a raster, and where to find them.
type crests struct {
	list  []crest
	index []int32 // by pixel: 1 + place in list, 0 for none
	w, h  int
}

// onPixel is how far from a pixel's middle along x or y a line may pass it to be on it: half a pixel, and a little, so that a line
// just between two is not missed for rounding. That it may be on both does no harm, see lengthPx.
const onPixel = 0.55

// findCrests finds the centre lines of a map of shares at a scale in pixels. A pixel is on one when the share's quadratic part
// has its maximum across the line inside that pixel (Steger 1998, section 2), and bends along the line by less than a part
// of that across it.
func findCrests(share *raster, sigma float64) *crests {
	w, h := share.w, share.h
	f := &crests{index: make([]int32, w*h), w: w, h: h}
	smooth := share.blurred(sigma)
	defer smooth.Close()
	s := smooth.v
	per := float32(1 / sq(sigma))
	for y := 1; y < h-1; y++ {
		for i := y*w + 1; i < (y+1)*w-1; i++ {
			// no crest is below a neighbour in all four directions, and most pixels are
			if m := s[i]; m > 0.1 && (m >= s[i-1] && m >= s[i+1] || m >= s[i-w] && m >= s[i+w] ||
				m >= s[i-w-1] && m >= s[i+w+1] || m >= s[i-w+1] && m >= s[i+w-1]) {
				f.look(s, i, per)
			}
		}
	}
	return f
}

// look decides on the pixel at i.
func (f *crests) look(s []float32, i int, per float32) {
	w := f.w
	gx, gy := (s[i+1]-s[i-1])/2, (s[i+w]-s[i-w])/2
	xx, yy := s[i+1]-2*s[i]+s[i-1], s[i+w]-2*s[i]+s[i-w]
	xy := (s[i+w+1] - s[i+w-1] - s[i-w+1] + s[i-w-1]) / 4
	mid, dif := (xx+yy)/2, root32(sq32((xx-yy)/2)+xy*xy)
	low, high := mid-dif, mid+dif
	if low > -anyBend*per || high < anyRoundest*low {
		return
	}
	nx, ny := xy, low-xx
	if abs32(low-yy) > abs32(ny) {
		nx, ny = low-yy, xy
	}
	l := root32(nx*nx + ny*ny)
	if l == 0 {
		return
	}
	nx, ny = nx/l, ny/l
	t := -(gx*nx + gy*ny) / low
	if abs32(t*nx) > onPixel || abs32(t*ny) > onPixel {
		return
	}
	f.list = append(f.list, crest{int32(i), float32(i%w) + t*nx, float32(i/w) + t*ny, nx, ny, low <= -sureBend*per && high >= sureRoundest*low})
	f.index[i] = int32(len(f.list))
}

func root32(v float32) float32 { return float32(math.Sqrt(float64(v))) }
func abs32(v float32) float32  { return max(v, -v) }
func sq32(v float32) float32   { return v * v }

// keepsDirection is the least cosine between the normals of neighbours on one piece: a root turns by less than 35° in a pixel.
const keepsDirection = 0.82

// pieces returns the runs of neighbouring pixels that are surely on a line and keep their direction from each to the next, as
// places in the list.
func (f *crests) pieces() [][]int32 {
	seen := make([]bool, len(f.list))
	pool := make([]int32, 0, len(f.list)) // every piece is a part of it
	var all [][]int32
	for first := range f.list {
		if !f.list[first].sure || seen[first] {
			continue
		}
		seen[first] = true
		from := len(pool)
		pool = append(pool, int32(first))
		for k := from; k < len(pool); k++ {
			a := &f.list[pool[k]]
			for _, d := range [8]int{1, -1, f.w, -f.w, f.w + 1, f.w - 1, -f.w + 1, -f.w - 1} {
				n := f.index[int(a.i)+d] - 1
				if n < 0 || seen[n] || !f.list[n].sure {
					continue
				}
				b := &f.list[n]
				if c := a.nx*b.nx + a.ny*b.ny; c > keepsDirection || c < -keepsDirection {
					seen[n] = true
					pool = append(pool, n)
				}
			}
		}
		all = append(all, pool[from:])
	}
	return all
}
