package vision

import (
	"image"
	"sync"

	"gocv.io/x/gocv"
)

// overviewPxPerMM is how fine a smaller picture has to be for finding cells and outlines: half a millimetre is a plug's grain.
const overviewPxPerMM = 2.0

// overview is the photo shrunk by a whole number, in which cells and outlines are looked for. No amount is measured in it.
type overview struct {
	bgr    []uint8
	w, h   int
	shrink float64
}

// overviews keeps the overview that was made last: all that looks at one tray asks for the same.
type overviews struct {
	mu   sync.Mutex
	last *overview
}

// overview returns the photo shrunk as far as the scale at the tray's middle allows.
func (s *Scene) overview(t Tray) *overview {
	k := max(1, int(s.Plane.PxPerMM(s.TrayPoint(t.LengthMM/2, t.WidthMM/2))/overviewPxPerMM))
	s.overviews.mu.Lock()
	defer s.overviews.mu.Unlock()
	if last := s.overviews.last; last == nil || last.shrink != float64(k) {
		s.overviews.last = shrunk(s.Photo, k)
	}
	return s.overviews.last
}

// shrunk averages squares of k × k pixels. The few pixels beyond the last whole square are left out, or they would stretch the rest.
func shrunk(p *Photo, k int) *overview {
	size := image.Pt(max(1, p.Width/k), max(1, p.Height/k))
	whole := p.mat.Region(image.Rect(0, 0, min(p.Width, size.X*k), min(p.Height, size.Y*k)))
	defer whole.Close()
	small := gocv.NewMat()
	defer small.Close()
	gocv.Resize(whole, &small, size, 0, 0, gocv.InterpolationArea)
	return &overview{bgr: small.ToBytes(), w: size.X, h: size.Y, shrink: float64(k)}
}

// light returns the linear light at a point given in the photo's pixels; ok is false outside.
func (o *overview) light(q Px) (c RGB, ok bool) {
	x, y := int((q.X+0.5)/o.shrink), int((q.Y+0.5)/o.shrink)
	if q.X < 0 || q.Y < 0 || x >= o.w || y >= o.h {
		return RGB{}, false
	}
	i := 3 * (y*o.w + x)
	return RGB{linearOf[o.bgr[i+2]], linearOf[o.bgr[i+1]], linearOf[o.bgr[i]]}, true
}
