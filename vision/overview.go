package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// overviewPxPerMM is how fine a smaller picture has to be for finding cells and outlines: half a millimetre is a plug's grain.
const overviewPxPerMM = 2.0

// overview is the photo shrunk by a whole number, in which cells and outlines are looked for. No amount is measured in it.
type overview struct {
	mat    gocv.Mat
	bgr    []uint8
	w, h   int
	shrink float64
}

// overview shrinks the photo as far as the scale at the tray's middle allows. The caller closes it.
func (s *Scene) overview(t Tray) *overview {
	p := s.Photo
	k := max(1, int(s.Plane.PxPerMM(s.TrayPoint(t.LengthMM/2, t.WidthMM/2))/overviewPxPerMM))
	size := image.Pt(max(1, p.Width/k), max(1, p.Height/k))
	o := &overview{mat: gocv.NewMat(), w: size.X, h: size.Y, shrink: float64(k)}
	// whole squares of k × k pixels, so that the few beyond the last whole one do not stretch the rest
	whole := p.mat.Region(image.Rect(0, 0, min(p.Width, size.X*k), min(p.Height, size.Y*k)))
	defer whole.Close()
	gocv.Resize(whole, &o.mat, size, 0, 0, gocv.InterpolationArea)
	o.bgr, _ = o.mat.DataPtrUint8()
	return o
}

func (o *overview) Close() { o.mat.Close() }

// light returns the linear light at a point given in the photo's pixels; ok is false outside.
func (o *overview) light(q Px) (c RGB, ok bool) {
	x, y := int((q.X+0.5)/o.shrink), int((q.Y+0.5)/o.shrink)
	if q.X < 0 || q.Y < 0 || x >= o.w || y >= o.h {
		return RGB{}, false
	}
	i := 3 * (y*o.w + x)
	return RGB{linearOf[o.bgr[i+2]], linearOf[o.bgr[i+1]], linearOf[o.bgr[i]]}, true
}
