package overlay

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
)

// A phone shows an overlay 390 px wide. Digits are as high as a capital, 0.72 of the type's size (Go fonts), and 5 px are the least that
// can be read (common practice, no source). Ten plugs fill the width of a photo of 12 megapixels; each name keeps off its neighbour's.
func TestPlugNamesCanBeReadOnAPhone(t *testing.T) {
	const phone, least = 390, 5
	ground := color.RGBA{110, 90, 70, 255}
	photo := image.NewRGBA(image.Rect(0, 0, 4032, 3024))
	draw.Draw(photo, photo.Rect, image.NewUniform(ground), image.Point{}, draw.Src)
	o := Overlay{Title: "tray 7", Figure: "root area in mm²"}
	for c := range 10 {
		o.Plugs = append(o.Plugs, PlugMark{Name: fmt.Sprintf("A%d", c+1), State: reading.Planted, Outline: ring(250+390*float64(c), 1500, 130), Value: "188", Below: true})
	}
	o.Plugs = append(o.Plugs, PlugMark{Name: "E10", State: reading.Excluded, Outline: ring(2000, 2500, 130), Below: true})
	path := filepath.Join(t.TempDir(), "o.jpg")
	if err := Draw(path, groundOf(photo), photo.Rect.Max, o); err != nil {
		t.Fatal(err)
	}
	picture, err := imaging.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	at := PhotoIn(4032, 3024)
	scale := float64(at.Dx()) / 4032
	level := func(x, y int) int { return int(color.GrayModel.Convert(picture.At(x, y)).(color.Gray).Y) }
	foot := at.Min.Y + int(1630*scale) + 8
	for c := range 10 {
		middle, high := int((250+390*float64(c))*scale), 0
		for y := foot; y < foot+100; y++ {
			for x := middle - 90; x < middle+90; x++ {
				if level(x, y) > 200 {
					high++
					break
				}
			}
		}
		if onPhone := float64(high) * phone / float64(at.Dx()); onPhone < least {
			t.Errorf("the words at A%d are %.1f px high on a phone, want %d or more", c+1, onPhone, least)
		}
		if between := middle + int(195*scale); c < 9 && level(between, foot+25) < 70 {
			t.Errorf("the words at A%d reach the next plug’s", c+1)
		}
	}
}
