package testtray

import (
	"image"
	"math"

	"github.com/disintegration/imaging"
)

// Scanned divides each code of a picture by the lightest about it, over a tenth of the picture, as scanner apps do to make paper white all over; of 1 by all of it, of 0.5
// by its root.
func Scanned(img image.Image, share float64) *image.NRGBA {
	const reach = 4 // of 80 small pixels across, each way
	b := img.Bounds()
	small := imaging.Resize(img, 80, 0, imaging.Box)
	lightest := imaging.Clone(small)
	w, h := small.Rect.Dx(), small.Rect.Dy()
	for y := range h {
		for x := range w {
			for k := range 3 {
				var most uint8
				for j := max(0, y-reach); j <= min(h-1, y+reach); j++ {
					for i := max(0, x-reach); i <= min(w-1, x+reach); i++ {
						most = max(most, small.Pix[small.PixOffset(i, j)+k])
					}
				}
				lightest.Pix[lightest.PixOffset(x, y)+k] = most
			}
		}
	}
	around := imaging.Resize(imaging.Blur(lightest, 1), b.Dx(), b.Dy(), imaging.Linear)
	out := imaging.Clone(img)
	for i, v := range out.Pix {
		if i%4 != 3 {
			out.Pix[i] = uint8(math.Min(255, float64(v)*math.Pow(240/math.Max(40, float64(around.Pix[i])), share)+0.5))
		}
	}
	return out
}
