package vision

import (
	"math"

	"traygauge/vision/coverage"
)

// leafPerMM is the one scale at which the networks see leaves, in prepared pixels a mm.
const leafPerMM = 3.0

// sheet is the tray with its overhanging leaves, laid flat: prepared pixels along the tray's own sides, so that each covers as much.
type sheet struct {
	plane  Plane // of the leaves
	t      Tray
	grid   Grid
	w, h   int  // whole squares of what the network halves four times
	camera int  // camera pixels averaged each way into a prepared one
	places []Px // where every latticePx-th prepared pixel's corner is in the photo
	lw     int

	leaf, yellow []uint8 // shares, 0 to 255
	owner        []int32 // by squares of 2 × 2: 1 + the number of the cell, 0 for none
}

// latticePx is how far apart places are worked out exactly; between them they are interpolated, to a hundredth of a pixel.
const latticePx = 16

// wholePx is what the network's sides must be whole multiples of: squares of two, halved four times.
const wholePx = 32

func (s *Scene) newSheet(plane Plane, t Tray, g Grid) *sheet {
	whole := func(mm float64) int { return wholePx * int(math.Ceil(mm*leafPerMM/wholePx)) }
	f := &sheet{plane: plane, t: t, grid: g, w: whole(t.LengthMM + 2*overhangMM), h: whole(t.WidthMM + 2*overhangMM)}
	f.camera = max(1, int(math.Ceil(plane.PxPerMM(s.TrayPoint(t.LengthMM/2, t.WidthMM/2))/leafPerMM)))
	f.lw = f.w/latticePx + 2
	for j := range f.h/latticePx + 2 {
		for i := range f.lw {
			u, v := g.place(t, float64(i*latticePx)/leafPerMM-overhangMM, float64(j*latticePx)/leafPerMM-overhangMM)
			f.places = append(f.places, plane.ToPx(s.TrayPoint(u, v)))
		}
	}
	f.leaf, f.yellow, f.owner = make([]uint8, f.w*f.h), make([]uint8, f.w*f.h), make([]int32, f.w*f.h/4)
	return f
}

// uv returns where a point, in prepared pixels from the sheet's corner, lies in the drawing of the tray.
func (f *sheet) uv(x, y float64) (u, v float64) {
	return x/leafPerMM - overhangMM, y/leafPerMM - overhangMM
}

// leafAt returns the leaf's share at a place in the drawing of the tray, 0 to 255.
func (f *sheet) leafAt(u, v float64) uint8 {
	x, y := int((u+overhangMM)*leafPerMM), int((v+overhangMM)*leafPerMM)
	if x < 0 || y < 0 || x >= f.w || y >= f.h {
		return 0
	}
	return f.leaf[y*f.w+x]
}

func (f *sheet) mark(x, y int, owner int32) { f.owner[y/2*(f.w/2)+x/2] = owner }

// span is a part of the sheet from one column up to another; own is the part of it whose results count.
type span struct {
	from, to int
	own      struct{ from, to int }
}

func (p span) n() int { return p.to - p.from }

// Strips keep the memory that the network needs small; beyond what counts, each sees as far as leaves reach.
const (
	stripPx  = 640
	marginPx = 128
)

func (f *sheet) strips() (list []span) {
	for from := 0; from < f.w; from += stripPx {
		s := span{from: max(0, from-marginPx), to: min(f.w, from+stripPx+marginPx)}
		s.own.from, s.own.to = from, min(f.w, from+stripPx)
		list = append(list, s)
	}
	return list
}

// fillLight averages the camera pixels nearest to camera × camera points in each prepared pixel, and writes the light as the networks
// take it: its root less 0.4, squares of 2 × 2 pixels as channels of one, red first. Beyond the photo its border goes on.
func (f *sheet) fillLight(s *Scene, strip span, in coverage.Tensor) {
	n := f.camera
	step := 1 / float64(n)
	over := float32(step * step)
	for y := range f.h {
		for x := strip.from; x < strip.to; x++ {
			var sum RGB
			for j := range n {
				for i := range n {
					q := f.px(float64(x)+(float64(i)+0.5)*step, float64(y)+(float64(j)+0.5)*step)
					px, py := min(max(int(q.X+0.5), 0), s.Photo.Width-1), min(max(int(q.Y+0.5), 0), s.Photo.Height-1)
					k := s.Photo.at(px, py)
					code := s.Photo.BGR[k : k+3 : k+3]
					sum[0] += s.tone.light[2][code[2]]
					sum[1] += s.tone.light[1][code[1]]
					sum[2] += s.tone.light[0][code[0]]
				}
			}
			to := y/2*in.W + (x-strip.from)/2
			for k := range 3 {
				channel := 4*k + 2*(y%2) + x%2
				in.V[channel*in.H*in.W+to] = sqrt32(sum[k]*over) - 0.4
			}
		}
	}
}

// px returns where a point of the sheet is in the photo.
func (f *sheet) px(x, y float64) Px {
	i, j := int(x)/latticePx, int(y)/latticePx
	fx, fy := x/latticePx-float64(i), y/latticePx-float64(j)
	at := f.places[j*f.lw+i:]
	a, b := at[0], at[1]
	at = f.places[(j+1)*f.lw+i:]
	c, d := at[0], at[1]
	return Px{
		(a.X*(1-fx)+b.X*fx)*(1-fy) + (c.X*(1-fx)+d.X*fx)*fy,
		(a.Y*(1-fx)+b.Y*fx)*(1-fy) + (c.Y*(1-fx)+d.Y*fx)*fy,
	}
}

// onPhoto lays shares over the photo again, for looking at: a pixel of the result for each prepared one or so.
func (f *sheet) onPhoto(s *Scene, shares []uint8) Share {
	r := boundsOf(f.places).Intersect(s.Photo.Bounds())
	step := math.Max(1, s.Plane.PxPerMM(s.TrayPoint(f.t.LengthMM/2, f.t.WidthMM/2))/leafPerMM)
	out := Share{X0: float64(r.Min.X), Y0: float64(r.Min.Y), StepX: step, StepY: step, W: int(float64(r.Dx()) / step), H: int(float64(r.Dy()) / step)}
	out.A = make([]uint8, max(0, out.W*out.H))
	for y := range out.H {
		for x := range out.W {
			q := Px{out.X0 + (float64(x)+0.5)*step - 0.5, out.Y0 + (float64(y)+0.5)*step - 0.5}
			u, v := s.TrayUV(f.plane.ToMM(q))
			u, v = f.grid.back(f.t, u, v)
			i, j := int((u+overhangMM)*leafPerMM), int((v+overhangMM)*leafPerMM)
			if i >= 0 && j >= 0 && i < f.w && j < f.h && u > -overhangMM && v > -overhangMM {
				out.A[y*out.W+x] = shares[j*f.w+i]
			}
		}
	}
	return out
}
