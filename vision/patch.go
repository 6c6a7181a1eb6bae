package vision

import (
	"image"
	"math"
	"slices"
)

// patch is the part of a photo that shows one plug's bottom.
type patch struct {
	rect   image.Rectangle
	w, h   int
	inside []bool  // within the plug's outline
	n      int     // how many are
	ring   []uint8 // inside: 0 within the first of ringAt, 1 to the second, 2 to the outline
}

// ringAt are the parts of a plug's radius where its rim and its outermost rim begin. Towards its edge a plug's bottom is rounded and
// lies in the tray's shadow.
var ringAt = [2]float64{0.9, 0.95}

// patchMargin is how many pixels a patch goes beyond the plug's outline, for what looks at a pixel's neighbours.
const patchMargin = 4

// newPatch takes the pixels around an outline; rim and outer are the outline at the parts ringAt of its radius.
func (s *Scene) newPatch(edge, rim, outer []Px) *patch {
	in := boundsOf(edge).Inset(-patchMargin).Intersect(s.Photo.Bounds())
	p := &patch{rect: in, w: in.Dx(), h: in.Dy()}
	p.inside = make([]bool, p.w*p.h)
	p.n = fill(p.inside, in, edge)
	p.ring = make([]uint8, p.w*p.h)
	within := make([]bool, p.w*p.h)
	for k, q := range [2][]Px{outer, rim} {
		clear(within)
		fill(within, in, q)
		for i, on := range within {
			if !on {
				p.ring[i] = max(p.ring[i], uint8(2-k))
			}
		}
	}
	return p
}

// boundsOf returns the pixels that hold all of q; none for points beyond any photo.
func boundsOf(q []Px) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range q {
		x0, y0, x1, y1 = math.Min(x0, p.X), math.Min(y0, p.Y), math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	if !(x0 > -1e6 && y0 > -1e6 && x1 < 1e6 && y1 < 1e6) {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1))+1, int(math.Ceil(y1))+1)
}

// fill marks the pixels of rect whose centres lie in a polygon, by the even-odd rule, and returns how many.
func fill(on []bool, rect image.Rectangle, polygon []Px) (n int) {
	w := rect.Dx()
	var cuts []float64
	for y := range rect.Dy() {
		fy := float64(rect.Min.Y + y)
		cuts = cuts[:0]
		for i, a := range polygon {
			if b := polygon[(i+1)%len(polygon)]; (a.Y <= fy) != (b.Y <= fy) {
				cuts = append(cuts, a.X+(b.X-a.X)*(fy-a.Y)/(b.Y-a.Y)-float64(rect.Min.X))
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k += 2 {
			from, to := max(0, int(math.Ceil(cuts[k]))), min(w, int(math.Ceil(cuts[k+1])))
			for x := from; x < to; x++ {
				on[y*w+x] = true
			}
			n += max(0, to-from)
		}
	}
	return n
}

// rowAreas fills area with the mm² of the pixels of row y of the patch. A pixel's area is smooth along a row: three of them give
// the rest, to a few parts in ten million over a plug.
func (p *patch) rowAreas(pl *Plane, y int, area []float32) {
	fy, x0, half := float64(p.rect.Min.Y+y), float64(p.rect.Min.X), float64(p.w-1)/2
	a, b, c := pl.PixelMM2(x0, fy), pl.PixelMM2(x0+half, fy), pl.PixelMM2(x0+2*half, fy)
	slope, bend := (c-a)/2, (a+c)/2-b
	for x := range area {
		t := 0.0
		if half > 0 {
			t = (float64(x) - half) / half
		}
		area[x] = float32(b + t*(slope+t*bend))
	}
}

// row returns the codes of row y of the patch, blue, green and red in turn.
func (p *patch) row(ph *Photo, y int) []uint8 {
	i := ph.at(p.rect.Min.X, p.rect.Min.Y+y)
	return ph.BGR[i : i+3*p.w]
}

// mixer is a linear function of a pixel's linear light, read off its 8-bit codes: three looks into tables and two sums.
type mixer struct{ b, g, r [256]float32 }

// newMixer returns the function at0 + of·(gain·light), each colour's gain and weight taken together.
func newMixer(of, gain RGB, at0 float32) *mixer {
	m := new(mixer)
	for i, l := range linearOf {
		m.r[i], m.g[i], m.b[i] = of[0]*gain[0]*l, of[1]*gain[1]*l+at0, of[2]*gain[2]*l
	}
	return m
}

// at returns the function's value for the pixel at offset i of codes.
func (m *mixer) at(codes []uint8, i int) float32 {
	px := codes[i : i+3 : i+3]
	return m.b[px[0]] + m.g[px[1]] + m.r[px[2]]
}

// quantile returns the q-quantile of v (0 to 1, linear between values), which it reorders; NaN for none.
func quantile(v []float32, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	pos := q * float64(len(v)-1)
	k := int(pos)
	lo := nth(v, k)
	if k+1 >= len(v) {
		return float64(lo)
	}
	hi := v[k+1]
	for _, x := range v[k+1:] {
		hi = min(hi, x)
	}
	return float64(lo) + (pos-float64(k))*float64(hi-lo)
}

// nth reorders v so that its k-th smallest is at k, with smaller ones before it (Hoare's selection), and returns it.
func nth(v []float32, k int) float32 {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := v[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
