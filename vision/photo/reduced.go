package photo

import (
	"errors"
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

// EncodeJPEG returns pictures of one width, one below the other, as a JPEG file of the given quality, 1 to 100.
func EncodeJPEG(quality int, pictures ...*image.RGBA) ([]byte, error) {
	w, h := 0, 0
	for i, p := range pictures {
		size := p.Rect.Size()
		if size.X < 1 || size.Y < 1 || p.Stride != 4*size.X || i > 0 && size.X != w {
			return nil, errors.New("a picture has no pixels, is a part of another or is of another width")
		}
		w, h = size.X, h+size.Y
	}
	bgr := gocv.NewMatWithSize(h, w, gocv.MatTypeCV8UC3)
	defer bgr.Close()
	top := 0
	for _, p := range pictures {
		if err := intoBGR(p, bgr, image.Rect(0, top, w, top+p.Rect.Dy())); err != nil {
			return nil, err
		}
		top += p.Rect.Dy()
	}
	file, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, bgr, []int{gocv.IMWriteJpegQuality, quality})
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return append([]byte(nil), file.GetBytes()...), nil
}

// intoBGR copies a picture into a part of its size.
func intoBGR(p *image.RGBA, bgr gocv.Mat, at image.Rectangle) error {
	from, err := gocv.NewMatFromBytes(at.Dy(), at.Dx(), gocv.MatTypeCV8UC4, p.Pix[:4*at.Dx()*at.Dy()])
	if err != nil {
		return err
	}
	defer from.Close()
	to := bgr.Region(at)
	defer to.Close()
	gocv.CvtColor(from, &to, gocv.ColorRGBAToBGR)
	return nil
}
