package testphoto

import (
	"encoding/csv"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// Real is the folder, seen from a room of vision, of real photos with somebody else's truth. They are not part of the project, and have no card:
// tests print how the measuring does on them where they are at hand.
var Real = filepath.Join("..", "..", "..", "shared", "photos", "real")

// Lights returns the linear light of every seventh pixel.
func Lights(p *photo.Photo) (all []raster.RGB) {
	for i := 0; i < p.Width*p.Height; i += 7 {
		all = append(all, p.Light(3*i))
	}
	return all
}

// Luminance of linear sRGB (IEC 61966-2-1:1999; ITU-R BT.709-6, 3.2).
func Luminance(c raster.RGB) float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// Brightest is the Luminance that only a thousandth of the photo exceeds.
func Brightest(all []raster.RGB) float32 {
	lum := make([]float32, len(all))
	for i, c := range all {
		lum[i] = Luminance(c)
	}
	slices.Sort(lum)
	return lum[len(lum)*999/1000]
}

// ReadReal reads a table beside real photos, or skips where they are not at hand.
func ReadReal(t *testing.T, path ...string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(append([]string{Real}, path...)...))
	if err != nil {
		t.Skip("the real photos are not here")
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = r[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// SaveOverlay writes the photo from a row on, dimmed, with what was found in red and the truth in blue; both make magenta.
func SaveOverlay(t *testing.T, path string, p *photo.Photo, top int, found, truth []bool) {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, p.Width, p.Height-top))
	for y := range p.Height - top {
		for x := range p.Width {
			at, i := p.At(x, y+top), (y+top)*p.Width+x
			c := color.NRGBA{p.BGR[at+2] / 2, p.BGR[at+1] / 2, p.BGR[at] / 2, 255}
			if found[i] {
				c.R = 255
			}
			if truth[i] {
				c.B = 255
			}
			img.SetNRGBA(x, y, c)
		}
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
