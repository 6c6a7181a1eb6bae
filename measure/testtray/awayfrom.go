package testtray

import (
	"image"
	"math"

	"github.com/disintegration/imaging"
)

// AwayFrom moves each code of a picture away from what lies around it, by a share of how far it is from that: what sharpening and an editor's clarity do.
func AwayFrom(img image.Image, around *image.NRGBA, share float64) *image.NRGBA {
	out := imaging.Clone(img)
	for i, v := range out.Pix {
		out.Pix[i] = uint8(math.Max(0, math.Min(255, float64(v)+share*(float64(v)-float64(around.Pix[i]))+0.5)))
	}
	return out
}
