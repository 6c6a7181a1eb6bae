package tray

import (
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// overviewPxPerMM is how fine a smaller picture has to be for finding cells and outlines: half a millimetre is a plug's grain.
const overviewPxPerMM = 2.0

// overview is the photo shrunk by a whole number, in which cells and outlines are looked for. No amount is measured in it.
type overview struct {
	*photo.Small
	s *scene.Scene
}

// overviewOf returns the photo shrunk as far as the scale at the tray's middle allows.
func overviewOf(s *scene.Scene, t Layout) overview {
	return overview{s.Photo.Shrunk(int(s.Plane.PxPerMM(s.TrayPoint(t.LengthMM/2, t.WidthMM/2)) / overviewPxPerMM)), s}
}

// light returns the linear light at a place of the tray, paper 1; ok is false outside the photo.
func (o overview) light(u, v float64) (c raster.RGB, ok bool) {
	i, ok := o.index(u, v)
	if !ok {
		return raster.RGB{}, false
	}
	c = raster.RGB{raster.LinearOf[o.BGR[i+2]], raster.LinearOf[o.BGR[i+1]], raster.LinearOf[o.BGR[i]]}
	return c.Scaled(o.s.Light.ToPaper), true
}

// index returns where in BGR the pixel at a place of the tray begins; ok is false outside the photo.
func (o overview) index(u, v float64) (i int, ok bool) {
	q := o.s.Plane.ToPx(o.s.TrayPoint(u, v))
	shrink := float64(o.Shrink)
	x, y := int((q.X+0.5)/shrink), int((q.Y+0.5)/shrink)
	if q.X < 0 || q.Y < 0 || x >= o.Width || y >= o.Height {
		return 0, false
	}
	return 3 * (y*o.Width + x), true
}
