package overlay

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// Where PhotoIn says, and nowhere else, is the photo: white in a dark frame.
func TestPhotoIn(t *testing.T) {
	for _, size := range []image.Point{{4032, 3024}, {3024, 4032}, {1601, 1199}, {2400, 1350}, {300, 200}, {8000, 501}} {
		photo := image.NewRGBA(image.Rectangle{Max: size})
		draw.Draw(photo, photo.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
		file := filepath.Join(t.TempDir(), "overlay.jpg")
		if err := Draw(file, groundOf(photo), photo.Rect.Max, Overlay{Title: "tray 7"}); err != nil {
			t.Fatal(err)
		}
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		page, err := jpeg.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		at := PhotoIn(size.X, size.Y)
		white := func(x, y int) bool {
			r, _, _, _ := page.At(x, y).RGBA()
			return r > 0xc000
		}
		middle := (at.Min.X + at.Max.X) / 2
		if at.Dx() != page.Bounds().Dx() || !at.In(page.Bounds()) || white(middle, at.Min.Y-2) || !white(middle, at.Min.Y+1) || !white(middle, at.Max.Y-2) || white(middle, at.Max.Y+1) {
			t.Errorf("%v: the photo is not at %v of %v", size, at, page.Bounds())
		}
	}
}
