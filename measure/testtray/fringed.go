package testtray

import (
	"image"
	"math"

	"github.com/disintegration/imaging"
)

// Fringed is a picture whose red is smaller and whose blue is larger about its middle, by so many pixels each in its corners, as a lens makes them.
func Fringed(img image.Image, px float64) *image.NRGBA {
	from := imaging.Clone(img)
	out := imaging.Clone(img)
	b := out.Rect
	cx, cy := float64(b.Dx()-1)/2, float64(b.Dy()-1)/2
	by := px / math.Hypot(cx, cy)
	for y := range b.Dy() {
		for x := range b.Dx() {
			dx, dy := float64(x)-cx, float64(y)-cy
			at := out.PixOffset(x, y)
			out.Pix[at] = between(from, cx+dx*(1+by), cy+dy*(1+by), 0)
			out.Pix[at+2] = between(from, cx+dx*(1-by), cy+dy*(1-by), 2)
		}
	}
	return out
}

// between is a channel's code between pixels, or the nearest one's beyond the edge.
func between(img *image.NRGBA, x, y float64, channel int) uint8 {
	x, y = max(0, min(x, float64(img.Rect.Dx()-2))), max(0, min(y, float64(img.Rect.Dy()-2)))
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	at := func(i, j int) float64 { return float64(img.Pix[img.PixOffset(i, j)+channel]) }
	return uint8((at(i, j)*(1-fx)+at(i+1, j)*fx)*(1-fy) + (at(i, j+1)*(1-fx)+at(i+1, j+1)*fx)*fy + 0.5)
}
