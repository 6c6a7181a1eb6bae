package photo

// #cgo CFLAGS: -O3
// #include "shrink.h"
import "C"

import (
	"image"
	"math"

	"gocv.io/x/gocv"
)

// Small is a photo shrunk by a whole number: each pixel is the mean of a square of Shrink × Shrink. The few pixels beyond the last whole square
// are left out. BGR is laid out as Photo's, and is valid as long.
type Small struct {
	BGR                   []byte
	Width, Height, Shrink int
}

// mostShrink is the most that a photo is shrunk by: the sums of so many rows of bytes fit in 16 bits.
const mostShrink = 257

// Shrunk returns the photo shrunk by k, at least 1. The last one is kept: who looks for the card and who looks at the tray mostly ask for the same.
func (p *Photo) Shrunk(k int) *Small {
	k = max(1, min(k, p.Width, p.Height, mostShrink))
	if k == 1 {
		return &Small{p.BGR, p.Width, p.Height, 1}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.small == nil || p.small.Shrink != k {
		p.small = p.shrunk(k)
	}
	return p.small
}

func (p *Photo) shrunk(k int) *Small {
	w, h := p.Width/k, p.Height/k
	small := &Small{make([]byte, 3*w*h), w, h, k}
	mean := make([]byte, 255*k*k+1)
	for sum := range mean {
		mean[sum] = byte((sum + k*k/2) / (k * k))
	}
	columns := make([]uint16, 3*k*w)
	C.tg_shrink((*C.uint8_t)(&p.BGR[0]), C.int(p.Width), C.int(k), C.int(w), C.int(h), (*C.uint16_t)(&columns[0]), (*C.uint8_t)(&mean[0]), (*C.uint8_t)(&small.BGR[0]))
	return small
}

// Reduced returns the photo as a picture for looking at whose longer side is at most longest pixels: whole squares of pixels are averaged, and
// what is left, less than two times, is interpolated, which passes no pixel over.
func (p *Photo) Reduced(longest int) *image.RGBA {
	scale := math.Min(1, float64(longest)/float64(max(p.Width, p.Height, 1)))
	w, h := max(1, int(math.Round(float64(p.Width)*scale))), max(1, int(math.Round(float64(p.Height)*scale)))
	whole, small := gocv.NewMat(), gocv.NewMat()
	defer whole.Close()
	defer small.Close()
	from := &p.mat
	if k := int(1 / scale); k > 1 {
		gocv.Resize(p.mat, &whole, image.Pt(max(w, p.Width/k), max(h, p.Height/k)), 0, 0, gocv.InterpolationArea)
		from = &whole
	}
	gocv.Resize(*from, &small, image.Pt(w, h), 0, 0, gocv.InterpolationLinear)
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	to, err := gocv.NewMatFromBytes(h, w, gocv.MatTypeCV8UC4, picture.Pix)
	if err != nil {
		return picture // of no size
	}
	defer to.Close()
	gocv.CvtColor(small, &to, gocv.ColorBGRToRGBA)
	return picture
}
