package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/disintegration/imaging"
)

// A picture that was once saved at a low quality and then at a high one has the high one's tables, and still the low one's steps; one that was saved
// once has none but its own; turning changes nothing.
func TestAnEarlierSavingIsSeen(t *testing.T) {
	for _, c := range []struct{ before, now, want int }{{20, 90, 20}, {10, 95, 10}, {35, 90, 35}, {60, 92, 60}, {0, 92, 0}, {0, 75, 0}, {0, 30, 0}, {85, 92, 0}, {95, 80, 0}} {
		img := image.Image(textured(704, 520))
		if c.before > 0 {
			img = savedAt(t, img, c.before)
		}
		for _, turned := range []bool{false, true} {
			if turned {
				img = imaging.Rotate90(img)
			}
			var b bytes.Buffer
			if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: c.now}); err != nil {
				t.Fatal(err)
			}
			p, err := Decode(b.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			got := p.SavedBefore()
			p.Close()
			if got == 0 != (c.want == 0) || math.Abs(float64(got-c.want)) > 4 {
				t.Errorf("saved at %d, turned %v, saved at %d: an earlier saving at %d", c.before, turned, c.now, got)
			}
		}
	}
}

// textured is a picture of soft blobs and fine noise.
func textured(width, height int) *image.NRGBA {
	r := rand.New(rand.NewPCG(5, 6))
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			v := 110 + 45*math.Sin(float64(x)/4.3)*math.Sin(float64(y)/5.9) + 30*math.Sin(float64(x*y)/900) + 4*r.NormFloat64()
			for k, f := range [3]float64{1, 1.1, 0.8} {
				img.Pix[img.PixOffset(x, y)+k] = uint8(max(0, min(255, v*f)))
			}
			img.Pix[img.PixOffset(x, y)+3] = 255
		}
	}
	return img
}

func savedAt(t *testing.T, img image.Image, quality int) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	again, err := jpeg.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return again
}
