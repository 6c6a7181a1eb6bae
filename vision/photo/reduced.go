package photo

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

// Shrunk returns the photo shrunk by k, at least 1. The last one is kept: who looks for the card and who looks at the tray mostly ask for the same.
func (p *Photo) Shrunk(k int) *Small {
	k = max(1, min(k, p.Width, p.Height))
	if k == 1 {
		return &Small{p.BGR, p.Width, p.Height, 1}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.small == nil || p.small.Shrink != k {
		size := image.Pt(p.Width/k, p.Height/k)
		whole := p.mat.Region(image.Rectangle{Max: size.Mul(k)})
		defer whole.Close()
		small := gocv.NewMat()
		defer small.Close()
		gocv.Resize(whole, &small, size, 0, 0, gocv.InterpolationArea)
		p.small = &Small{small.ToBytes(), size.X, size.Y, k}
	}
	return p.small
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
