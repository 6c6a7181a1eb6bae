package plugs

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"math"

	"github.com/disintegration/imaging"

	"traygauge/measure/trialdir"
	"traygauge/vision"
)

// openOverlay returns the overlay of a photo of the trial in folder dir; the caller closes it. It is opened like a photo, so that the
// same code cuts plugs out of it.
func openOverlay(dir, photo string) (*vision.Photo, error) {
	overlay, err := vision.Open(trialdir.OverlayPath(dir, photo))
	if err != nil {
		return nil, fmt.Errorf("%w; `traygauge measure` draws it again", err)
	}
	return overlay, nil
}

// encoded writes a picture out as JPEG. Nothing of its file but its pixels is kept.
func encoded(picture image.Image, quality int) []byte {
	var out bytes.Buffer
	if jpeg.Encode(&out, picture, &jpeg.Options{Quality: quality}) != nil {
		return nil
	}
	return out.Bytes()
}

// reduced is a reduction of a picture that takes no more than most bytes, if any size does, and not much less.
func reduced(picture image.Image, most int) (file []byte, size image.Point) {
	from := safeToResize(picture)
	const bytesPerPx = 0.12 // of overlays of the demonstration, somewhat less than they take, to begin with
	for side := min(1800, int(math.Sqrt(float64(most)/bytesPerPx*4/3))); ; {
		small := imaging.Fit(from, side, side, imaging.Box)
		// No overlay is see-through, so the two kinds of pixel are the same; the encoder is several times faster on this one.
		file, size = encoded(&image.RGBA{Pix: small.Pix, Stride: small.Stride, Rect: small.Rect}, 60), small.Rect.Size()
		if len(file) <= most || side <= 500 {
			return file, size
		}
		// What a JPEG takes goes about as its area; a little less than that leaves nothing to try again.
		side = max(500, min(side*9/10, int(0.95*float64(side)*math.Sqrt(float64(most)/float64(len(file))))))
		from = small
	}
}

// safeToResize copies a photo of any other kind than a camera's: the resizer stops the program when an image with a
// palette points beyond it.
func safeToResize(photo image.Image) image.Image {
	switch photo.(type) {
	case *image.RGBA, *image.NRGBA, *image.YCbCr:
		return photo
	}
	return rgbaOf(photo)
}

// rgbaOf copies a picture; the copy's first pixel is at (0, 0).
func rgbaOf(picture image.Image) *image.RGBA {
	b := picture.Bounds()
	plain := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(plain, plain.Rect, picture, b.Min, draw.Src)
	return plain
}

// thumbPx is the side of the small pictures above the curves over the days.
const thumbPx = 112

// Thumb reduces a JPEG to a small one; nil stays nil.
func Thumb(file []byte) []byte {
	if file == nil {
		return nil
	}
	picture, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		return nil
	}
	small := imaging.Resize(picture, thumbPx, thumbPx, imaging.Box)
	return encoded(&image.RGBA{Pix: small.Pix, Stride: small.Stride, Rect: small.Rect}, 60)
}
