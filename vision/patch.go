package vision

import (
	"image"
	"math"

	"traygauge/vision/card"
)

// patch is a piece of a photo in white-balanced linear light, 1 for the card's paper, with the frame of one cell.
type patch struct {
	rect    image.Rectangle
	w, h    int
	r, g, b []float32
	lum     []float32
	du, dv  []float32 // mm from the cell's centre, along the tray's u and v
	area    []float32 // mm² a pixel covers
}

// cellRect returns the pixels within half mm of the tray point (u, v), along u and v; cut tells that some lie outside.
func (s *Scene) cellRect(pl *Plane, u, v, half float64) (r image.Rectangle, cut bool) {
	first := true
	for _, d := range [4][2]float64{{-half, -half}, {half, -half}, {half, half}, {-half, half}} {
		q := pl.ToPx(s.TrayPoint(u+d[0], v+d[1]))
		if math.Abs(q.X) > 1e6 || math.Abs(q.Y) > 1e6 || math.IsNaN(q.X+q.Y) {
			return image.Rectangle{}, true
		}
		pt := image.Rect(int(math.Floor(q.X)), int(math.Floor(q.Y)), int(math.Ceil(q.X))+1, int(math.Ceil(q.Y))+1)
		if first {
			r, first = pt, false
		} else {
			r = r.Union(pt)
		}
	}
	in := r.Intersect(s.Photo.Bounds())
	return in, in != r
}

// cut out a patch around the tray point (u, v) on pl.
func (s *Scene) patch(pl *Plane, rect image.Rectangle, u, v float64) *patch {
	p := &patch{rect: rect, w: rect.Dx(), h: rect.Dy()}
	n := p.w * p.h
	buf := make([]float32, 7*n)
	p.r, p.g, p.b, p.lum, p.du, p.dv, p.area = buf[:n], buf[n:2*n], buf[2*n:3*n], buf[3*n:4*n], buf[4*n:5*n], buf[5*n:6*n], buf[6*n:]
	gain := s.Light.ToPaper
	g := &pl.toMM
	det := math.Abs(g.det())
	origin := s.TrayPoint(u, v)
	sign := 1.0
	if s.Face == card.Roots {
		sign = -1
	}
	for y := range p.h {
		src := s.Photo.BGR[s.Photo.at(rect.Min.X, rect.Min.Y+y):]
		fy := float64(rect.Min.Y + y)
		for x := range p.w {
			i := y*p.w + x
			c := RGB{linearOf[src[3*x+2]] * gain[0], linearOf[src[3*x+1]] * gain[1], linearOf[src[3*x]] * gain[2]}
			p.r[i], p.g[i], p.b[i], p.lum[i] = c[0], c[1], c[2], c.luminance()
			fx := float64(rect.Min.X + x)
			w := g[6]*fx + g[7]*fy + g[8]
			p.du[i] = float32(sign * ((g[0]*fx+g[1]*fy+g[2])/w - origin.X))
			p.dv[i] = float32((g[3]*fx+g[4]*fy+g[5])/w - origin.Y)
			aw := math.Abs(w)
			p.area[i] = float32(det / (aw * aw * aw))
		}
	}
	return p
}

func (p *patch) at(i int) RGB { return RGB{p.r[i], p.g[i], p.b[i]} }

// boxBlur returns the mean over a window of 2·radius + 1 pixels each way, less at the border.
func boxBlur(src []float32, w, h, radius int) []float32 {
	if radius < 1 {
		return append([]float32(nil), src...)
	}
	tmp, out := make([]float32, len(src)), make([]float32, len(src))
	for y := range h {
		row := src[y*w : (y+1)*w]
		var sum float64
		lo, hi := 0, -1
		for x := range w {
			for hi < min(w-1, x+radius) {
				hi++
				sum += float64(row[hi])
			}
			for lo < x-radius {
				sum -= float64(row[lo])
				lo++
			}
			tmp[y*w+x] = float32(sum / float64(hi-lo+1))
		}
	}
	sums := make([]float64, w)
	lo, hi := 0, -1
	for y := range h {
		for hi < min(h-1, y+radius) {
			hi++
			for x := range w {
				sums[x] += float64(tmp[hi*w+x])
			}
		}
		for lo < y-radius {
			for x := range w {
				sums[x] -= float64(tmp[lo*w+x])
			}
			lo++
		}
		for x := range w {
			out[y*w+x] = float32(sums[x] / float64(hi-lo+1))
		}
	}
	return out
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
