// Package testphoto gives the tests of vision's rooms photos with known truth.
//
// In: what vision/synth is to draw, or the name of a real photo. Out: the photo as it comes back from a JPEG file, and the truth.
// It must not know what reads the photo, so that every room's tests can use it.
package testphoto

import (
	"image"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
)

// FewPlants is a quick 3-megapixel photo of a tray with plants in some cells.
func FewPlants(face card.Face) synth.Spec {
	s := synth.Defaults(face)
	s.Resize(2000, 1500)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range []string{"A1", "A10", "B3", "B8", "C5", "C6", "D2", "D9", "E1", "E10"} {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 500, LeafLengthMM: 22}
	}
	return s
}

// EveryOtherCell is a photo of synth.Tray12 with plants in every other cell.
func EveryOtherCell(t *testing.T, face card.Face) *photo.Photo {
	t.Helper()
	s := synth.Small(face)
	s.Resize(1000, 1150)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range []string{"A1", "A3", "B2", "B4", "C1", "C4"} {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 20}
	}
	p, _ := Drawn(t, s, 1)
	return p
}

// Drawn draws s and takes it through a JPEG file whose pixels are stored turned for an EXIF orientation.
func Drawn(t *testing.T, s synth.Spec, orientation int) (*photo.Photo, synth.Truth) {
	t.Helper()
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return Stored(t, img, truth, orientation), truth
}

// Stored takes a picture through a JPEG file.
func Stored(t *testing.T, img *image.NRGBA, truth synth.Truth, orientation int) *photo.Photo {
	t.Helper()
	path := filepath.Join(t.TempDir(), "photo.jpg")
	if err := synth.Save(path, img, truth, 95, synth.EXIF{Focal35: 26, Orientation: orientation}); err != nil {
		t.Fatal(err)
	}
	p, err := photo.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// Nudged is a picture that a phone put together from two, between which what lies in a part of it moved by (dx, dy) pixels.
func Nudged(img *image.NRGBA, dx, dy int, in func(x, y int) bool) *image.NRGBA {
	out := imaging.Clone(img)
	for y := dy; y < img.Rect.Dy(); y++ {
		for x := dx; x < img.Rect.Dx(); x++ {
			if !in(x, y) {
				continue
			}
			at, from := img.PixOffset(x, y), img.PixOffset(x-dx, y-dy)
			for k := range 3 {
				light := float64(raster.LinearOf[img.Pix[at+k]]+raster.LinearOf[img.Pix[from+k]]) / 2
				out.Pix[at+k] = uint8(255*raster.FromLinear(light) + 0.5)
			}
		}
	}
	return out
}

// MarkerBox returns the pixels that hold a marker drawn with its corners there.
func MarkerBox(m [4][2]float64) image.Rectangle {
	var r image.Rectangle
	for _, c := range m {
		r = r.Union(image.Rect(int(c[0])-8, int(c[1])-8, int(c[0])+8, int(c[1])+8))
	}
	return r
}

// Noise is a photo of random codes.
func Noise(w, h int) *photo.Photo {
	p := &photo.Photo{Width: w, Height: h, BGR: make([]byte, 3*w*h)}
	r := rand.New(rand.NewPCG(3, 4))
	for i := range p.BGR {
		p.BGR[i] = byte(r.IntN(256))
	}
	return p
}
