package testtray

import (
	"image"

	"github.com/disintegration/imaging"
	"gocv.io/x/gocv"
)

// Equalised equalises the lightness of a picture in eight by eight tiles, with contrast raised at most limit times (CLAHE: Zuiderveld 1994, Graphics Gems IV, 474-485; the
// reference is from memory).
func Equalised(img image.Image, limit float64) *image.NRGBA {
	out := imaging.Clone(img)
	codes, err := gocv.ImageToMatRGB(out)
	if err != nil {
		panic(err)
	}
	defer codes.Close()
	gocv.CvtColor(codes, &codes, gocv.ColorBGRToLab)
	channels := gocv.Split(codes)
	equaliser := gocv.NewCLAHEWithParams(limit, image.Pt(8, 8))
	defer equaliser.Close()
	equaliser.Apply(channels[0], &channels[0])
	gocv.Merge(channels, &codes)
	for _, c := range channels {
		c.Close()
	}
	gocv.CvtColor(codes, &codes, gocv.ColorLabToBGR)
	bgr := codes.ToBytes()
	for i := range len(bgr) / 3 {
		out.Pix[4*i], out.Pix[4*i+1], out.Pix[4*i+2] = bgr[3*i+2], bgr[3*i+1], bgr[3*i]
	}
	return out
}
