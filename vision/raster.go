package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// raster is a figure for each pixel of a patch, row by row, kept where OpenCV can reach it. Whoever makes one closes it.
type raster struct {
	mat  gocv.Mat
	v    []float32
	w, h int
}

// newRaster returns zeros for w × h pixels, at least one.
func newRaster(w, h int) *raster {
	m := gocv.NewMatWithSize(h, w, gocv.MatTypeCV32F)
	v, _ := m.DataPtrFloat32()
	clear(v)
	return &raster{m, v, w, h}
}

func (r *raster) Close() { r.mat.Close() }

// blurred returns r under a Gaussian blur of sigma pixels, its kernel cut at three sigmas and its border repeated. The
// caller closes it.
func (r *raster) blurred(sigma float64) *raster {
	out := newRaster(r.w, r.h)
	side := 2*int(3*sigma+0.999) + 1
	gocv.GaussianBlur(r.mat, &out.mat, image.Pt(side, side), sigma, sigma, gocv.BorderReplicate)
	return out
}

// averaged returns the mean over squares of 2·radius + 1 each way, the border repeated. The caller closes it.
func (r *raster) averaged(radius int) *raster {
	out := newRaster(r.w, r.h)
	gocv.BoxFilter(r.mat, &out.mat, -1, image.Pt(2*radius+1, 2*radius+1))
	return out
}

// between returns the value between pixels by bilinear interpolation; ok is false outside.
func (r *raster) between(x, y float32) (v float32, ok bool) {
	if x < 0 || y < 0 || x >= float32(r.w-1) || y >= float32(r.h-1) {
		return 0, false
	}
	x0, y0 := int(x), int(y)
	fx, fy := x-float32(x0), y-float32(y0)
	i := y0*r.w + x0
	return (r.v[i]*(1-fx)+r.v[i+1]*fx)*(1-fy) + (r.v[i+r.w]*(1-fx)+r.v[i+r.w+1]*fx)*fy, true
}
