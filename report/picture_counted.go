package report

import (
	"bytes"
	"encoding/base64"
	"errors"
	"html/template"
	"image"
	"image/jpeg"
	"io/fs"
	"math"
	"os"

	"github.com/disintegration/imaging"

	"traygauge/measure"
	"traygauge/vision"
)

// openOverlay returns the overlay of a photo of the trial in folder dir.
func openOverlay(dir, photo string) (image.Image, error) {
	file, err := os.Open(measure.OverlayPath(dir, photo))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("there is none: run `traygauge measure` again")
	}
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return jpeg.Decode(file)
}

// asPhoto lets an overlay be cut up like the photo that it was drawn on.
func asPhoto(picture image.Image) *vision.Photo {
	b := picture.Bounds()
	p := &vision.Photo{Width: b.Dx(), Height: b.Dy(), BGR: make([]byte, 0, 3*b.Dx()*b.Dy())}
	if ycc, ok := picture.(*image.YCbCr); ok {
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				red, green, blue, _ := ycc.YCbCrAt(x, y).RGBA()
				p.BGR = append(p.BGR, byte(blue>>8), byte(green>>8), byte(red>>8))
			}
		}
		return p
	}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			red, green, blue, _ := picture.At(x, y).RGBA()
			p.BGR = append(p.BGR, byte(blue>>8), byte(green>>8), byte(red>>8))
		}
	}
	return p
}

// onOverlay returns where a plug is on the overlay of its photo, whose size is that of the overlay within its frame: DrawOverlay reduces
// a photo only where its long side is above overlayLongSide.
func onOverlay(at measure.Place, photo image.Point) measure.Place {
	long := max(photo.X, photo.Y)
	scale := math.Min(1, float64(overlayLongSide)/float64(long))
	unit := math.Max(0.5, math.Round(float64(long)*scale)/overlayLongSide)
	down := math.Floor(overlayHead*unit + 0.5)
	return measure.Place{X: (at.X+0.5)*scale - 0.5, Y: (at.Y+0.5)*scale - 0.5 + down, AlongX: at.AlongX * scale, AlongY: at.AlongY * scale}
}

// jpegURI puts a JPEG into a link.
func jpegURI(file []byte) template.URL {
	if len(file) == 0 {
		return ""
	}
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(file))
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
	for side := 1800; ; {
		small := imaging.Fit(from, side, side, imaging.Box)
		file, size = encoded(small, 72), small.Bounds().Size()
		if len(file) <= most || side <= 500 {
			return file, size
		}
		// What a JPEG takes goes about as its area; a little less than that leaves nothing to try again.
		side = max(500, min(side*9/10, int(0.95*float64(side)*math.Sqrt(float64(most)/float64(len(file))))))
		from = small
	}
}
