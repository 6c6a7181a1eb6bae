package leaves

import (
	"image"
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// leafPerMM is the one scale at which the networks see leaves, in prepared pixels per mm.
const leafPerMM = 3.0

// sheet is the tray with its overhanging leaves, laid flat: prepared pixels along the tray's own sides, so that each covers as much.
type sheet struct {
	plane  scene.Plane // of the leaves
	t      tray.Layout
	grid   tray.Grid
	w, h   int         // whole squares of what the network halves four times
	camera int         // camera pixels averaged each way into a prepared one
	places []raster.Px // where every latticePx-th prepared pixel's corner is in the photo
	lw     int

	leaf, yellow []uint8 // shares, 0 to 255
}

// latticePx is how far apart places are worked out exactly; between them they are interpolated, to a hundredth of a pixel.
const latticePx = 16

// wholePx is what the network's sides must be whole multiples of: squares of two, halved four times.
const wholePx = 32

func newSheet(s *scene.Scene, plane scene.Plane, t tray.Layout, g tray.Grid) *sheet {
	whole := func(mm float64) int { return wholePx * int(math.Ceil(mm*leafPerMM/wholePx)) }
	f := &sheet{plane: plane, t: t, grid: g, w: whole(t.LengthMM + 2*overhangMM), h: whole(t.WidthMM + 2*overhangMM)}
	f.camera = max(1, int(plane.PxPerMM(s.TrayPoint(t.LengthMM/2, t.WidthMM/2))/leafPerMM+0.5))
	f.lw = f.w/latticePx + 2
	for j := range f.h/latticePx + 2 {
		for i := range f.lw {
			u, v := g.Place(t, float64(i*latticePx)/leafPerMM-overhangMM, float64(j*latticePx)/leafPerMM-overhangMM)
			f.places = append(f.places, plane.ToPx(s.TrayPoint(u, v)))
		}
	}
	f.leaf, f.yellow = make([]uint8, f.w*f.h), make([]uint8, f.w*f.h)
	return f
}

// uv returns where a point, in prepared pixels from the sheet's corner, lies in the drawing of the tray.
func (f *sheet) uv(x, y float64) (u, v float64) {
	return x/leafPerMM - overhangMM, y/leafPerMM - overhangMM
}

// leafAt returns the leaf's share at a place in the drawing of the tray, 0 to 255.
func (f *sheet) leafAt(u, v float64) uint8 {
	if at := f.at(u, v); at >= 0 {
		return f.leaf[at]
	}
	return 0
}

// span is a part of the sheet from one column up to another; own is the part of it whose results count.
type span struct {
	from, to int
	own      struct{ from, to int }
}

func (p span) n() int { return p.to - p.from }

// marginPx is how far beyond what counts a strip sees: as far as leaves reach.
const marginPx = 128

// strips parts the sheet into two of one size, which keeps the memory that the network needs small.
func (f *sheet) strips() [2]span {
	middle := wholePx * (f.w / 2 / wholePx)
	n := max(middle, f.w-middle) + marginPx
	n = min(f.w, wholePx*((n+wholePx-1)/wholePx))
	left, right := span{from: 0, to: n}, span{from: f.w - n, to: f.w}
	left.own.from, left.own.to = 0, middle
	right.own.from, right.own.to = middle, f.w
	return [2]span{left, right}
}

// onTray returns where the tray lies in a strip, in prepared pixels.
func (f *sheet) onTray(strip span) image.Rectangle {
	const over = overhangMM * leafPerMM
	r := image.Rect(over, over, over+int(f.t.LengthMM*leafPerMM), over+int(f.t.WidthMM*leafPerMM))
	return r.Sub(image.Pt(strip.from, 0)).Intersect(image.Rect(0, 0, strip.n(), f.h))
}

// fillLight averages the camera pixels nearest to camera × camera points in each prepared pixel of a strip, and writes the light of each. Beyond the photo its
// border goes on.
func (f *sheet) fillLight(s *scene.Scene, strip span, light []float32) {
	over := 1 / float32(f.camera*f.camera)
	for y := range f.h {
		row := light[3*strip.n()*y : 3*strip.n()*(y+1)]
		clear(row)
		for j := range f.camera {
			f.addLight(s, strip, float64(y)+(float64(j)+0.5)/float64(f.camera), row)
		}
		for i := range row {
			row[i] *= over
		}
	}
}

// addLight adds the light along one line through the strip's prepared pixels, camera points to each.
func (f *sheet) addLight(s *scene.Scene, strip span, y float64, light []float32) {
	w, h := s.Photo.Width-1, s.Photo.Height-1
	for x0 := strip.from; x0 < strip.to; x0 += latticePx {
		a, b := f.px(float64(x0), y), f.px(float64(x0+latticePx), y)
		to := (*[3 * latticePx]float32)(light[3*(x0-strip.from):])
		p := points{at: raster.Px{X: a.X + 0.5, Y: a.Y + 0.5}, step: raster.Px{X: (b.X - a.X) / float64(latticePx*f.camera), Y: (b.Y - a.Y) / float64(latticePx*f.camera)}, n: f.camera}
		p.at.X, p.at.Y = p.at.X+p.step.X/2, p.at.Y+p.step.Y/2
		if min(a.X, b.X) >= 1 && min(a.Y, b.Y) >= 1 && max(a.X, b.X) <= float64(w-1) && max(a.Y, b.Y) <= float64(h-1) {
			p.addInside(s, to)
		} else {
			p.addAnywhere(s, to)
		}
	}
}

// points are places of a photo in a row, n of them to each of latticePx prepared pixels; whole numbers are the corners of pixels.
type points struct {
	at, step raster.Px
	n        int
}

// addInside adds the light of points that all lie in the photo.
func (p points) addInside(s *scene.Scene, to *[3 * latticePx]float32) {
	const part, one = 32, 1 << 32 // places and steps are counted in parts of a pixel: whole numbers add up faster
	x, y, stepX, stepY := int(p.at.X*one), int(p.at.Y*one), int(p.step.X*one), int(p.step.Y*one)
	tone, codes, row := s.CodeLight(), s.Photo.BGR, s.Photo.Width
	for i := 0; i < len(to); i += 3 {
		red, green, blue := to[i], to[i+1], to[i+2]
		for range p.n {
			k := 3 * (y>>part*row + x>>part)
			code := codes[k : k+3 : k+3]
			red += tone[2][code[2]]
			green += tone[1][code[1]]
			blue += tone[0][code[0]]
			x, y = x+stepX, y+stepY
		}
		to[i], to[i+1], to[i+2] = red, green, blue
	}
}

// addAnywhere adds the light of points of which some may lie beyond the photo, where its border goes on.
func (p points) addAnywhere(s *scene.Scene, to *[3 * latticePx]float32) {
	tone := s.CodeLight()
	for i := 0; i < len(to); i += 3 {
		for range p.n {
			k := s.Photo.At(min(max(int(p.at.X), 0), s.Photo.Width-1), min(max(int(p.at.Y), 0), s.Photo.Height-1))
			for c := range 3 {
				to[i+c] += tone[2-c][s.Photo.BGR[k+2-c]]
			}
			p.at.X, p.at.Y = p.at.X+p.step.X, p.at.Y+p.step.Y
		}
	}
}

// px returns where a point of the sheet is in the photo.
func (f *sheet) px(x, y float64) raster.Px {
	i, j := int(x)/latticePx, int(y)/latticePx
	fx, fy := x/latticePx-float64(i), y/latticePx-float64(j)
	at := f.places[j*f.lw+i:]
	a, b := at[0], at[1]
	at = f.places[(j+1)*f.lw+i:]
	c, d := at[0], at[1]
	return raster.Px{
		X: (a.X*(1-fx)+b.X*fx)*(1-fy) + (c.X*(1-fx)+d.X*fx)*fy,
		Y: (a.Y*(1-fx)+b.Y*fx)*(1-fy) + (c.Y*(1-fx)+d.Y*fx)*fy,
	}
}

// onPhoto lays leaf and yellow shares over the photo again, for looking at: a pixel for half a mm.
func (f *sheet) onPhoto(s *scene.Scene) (leaf, yellow raster.Share) {
	const perMM = 2
	r := raster.BoundsOf(f.places).Intersect(s.Photo.Bounds())
	step := math.Max(1, f.plane.PxPerMM(s.TrayPoint(f.t.LengthMM/2, f.t.WidthMM/2))/perMM)
	leaf = raster.Share{X0: float64(r.Min.X), Y0: float64(r.Min.Y), StepX: step, StepY: step, W: int(float64(r.Dx()) / step), H: int(float64(r.Dy()) / step)}
	yellow = leaf
	leaf.A, yellow.A = make([]uint8, max(0, leaf.W*leaf.H)), make([]uint8, max(0, leaf.W*leaf.H))
	for y := range leaf.H {
		for x := range leaf.W {
			q := raster.Px{X: leaf.X0 + (float64(x)+0.5)*step - 0.5, Y: leaf.Y0 + (float64(y)+0.5)*step - 0.5}
			u, v := s.TrayUV(f.plane.ToMM(q))
			if at := f.at(f.grid.Back(f.t, u, v)); at >= 0 {
				leaf.A[y*leaf.W+x], yellow.A[y*leaf.W+x] = f.leaf[at], f.yellow[at]
			}
		}
	}
	return leaf, yellow
}

// at returns the index of the prepared pixel at a place in the drawing of the tray, −1 beyond the sheet.
func (f *sheet) at(u, v float64) int {
	x, y := math.Floor((u+overhangMM)*leafPerMM), math.Floor((v+overhangMM)*leafPerMM)
	if x < 0 || y < 0 || x >= float64(f.w) || y >= float64(f.h) {
		return -1
	}
	return int(y)*f.w + int(x)
}
