package exposure

import (
	"image"
	"math"

	"github.com/disintegration/imaging"

	"traygauge/vision/synth/painted/num"
)

// Phone is what a phone does to a picture after its sensor. The zero value does nothing.
type Phone struct {
	Contrast   float64 // of an S-shaped tone curve: 0 none, 1 strong
	Lift       float64 // of the dark by the tone curve, codes
	LocalTone  float64 // 0 to 1: how far bright and dark neighbourhoods are brought together
	Smoothing  float64 // 0 to 1: of noise where there is no edge
	Sharpening float64 // the share of the difference to a blurred picture that is added
	Saturation float64 // factor on the colours' distance from grey; 0 is 1
	Top        float64 // the greatest code that is written; 0 is 255
}

// Process does to img what the phone does, in the order of a phone's own processing.
func (h Phone) Process(img *image.NRGBA) {
	if h.LocalTone > 0 {
		h.toneLocally(img)
	}
	if h.Contrast != 0 || h.Lift != 0 {
		h.curve(img)
	}
	if s := h.Saturation; s != 0 && s != 1 {
		eachPixel(img, func(p []uint8) {
			l := luma(p)
			for k := range 3 {
				p[k] = clip(l + (float64(p[k])-l)*s)
			}
		})
	}
	if h.Smoothing > 0 {
		h.smooth(img)
	}
	if h.Sharpening > 0 {
		soft := imaging.Blur(img, 1)
		for i := range img.Pix {
			if i%4 != 3 {
				img.Pix[i] = clip(float64(img.Pix[i]) + h.Sharpening*(float64(img.Pix[i])-float64(soft.Pix[i])))
			}
		}
	}
	if h.Top > 0 {
		eachPixel(img, func(p []uint8) {
			for k := range 3 {
				p[k] = min(p[k], uint8(h.Top))
			}
		})
	}
}

// curve brings codes apart about the middle and lifts the dark.
func (h Phone) curve(img *image.NRGBA) {
	var table [256]uint8
	for i := range table {
		e := float64(i) / 255
		e += h.Contrast * 2 * (e - 0.5) * e * (1 - e)
		table[i] = clip(h.Lift + (255-h.Lift)*e)
	}
	eachPixel(img, func(p []uint8) { p[0], p[1], p[2] = table[p[0]], table[p[1]], table[p[2]] })
}

// toneLocally brightens dark neighbourhoods and darkens bright ones, as by the light around each pixel.
func (h Phone) toneLocally(img *image.NRGBA) {
	b := img.Bounds()
	small := imaging.Resize(img, max(1, b.Dx()/16), 0, imaging.Box)
	near := imaging.Resize(imaging.Blur(small, 3), b.Dx(), b.Dy(), imaging.Linear)
	for i := 0; i < len(img.Pix); i += 4 {
		l := num.Linear(uint8(luma(near.Pix[i : i+3])))
		gain := math.Pow(math.Max(l, 0.005)/0.18, -0.3*h.LocalTone)
		for k := range 3 {
			img.Pix[i+k] = clip(num.Encoded(num.Linear(img.Pix[i+k]) * gain))
		}
	}
}

// smooth takes pixels toward their neighbourhood where they differ from it by no more than noise does.
func (h Phone) smooth(img *image.NRGBA) {
	soft := imaging.Blur(img, 1)
	const noise = 6 // codes
	for i := 0; i < len(img.Pix); i += 4 {
		d := luma(img.Pix[i:i+3]) - luma(soft.Pix[i:i+3])
		share := h.Smoothing * math.Exp(-sq(d/noise))
		for k := range 3 {
			v := float64(img.Pix[i+k])
			img.Pix[i+k] = clip(v + share*(float64(soft.Pix[i+k])-v))
		}
	}
}

func eachPixel(img *image.NRGBA, change func(p []uint8)) {
	for i := 0; i < len(img.Pix); i += 4 {
		change(img.Pix[i : i+3])
	}
}

// luma of 8-bit codes (ITU-R BT.601-7, 2.5.1).
func luma(p []uint8) float64 {
	return 0.299*float64(p[0]) + 0.587*float64(p[1]) + 0.114*float64(p[2])
}

func clip(v float64) uint8 { return uint8(math.Max(0, math.Min(255, v)) + 0.5) }

func sq(v float64) float64 { return v * v }
