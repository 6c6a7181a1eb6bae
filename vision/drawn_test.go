package vision

import (
	"image"
	"math"
	"path/filepath"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
)

// tray50 is the tray that scenes show, as the finder takes it.
func tray50() Tray {
	s := synth.Tray50
	return Tray{Rows: s.Rows, Columns: s.Columns, LengthMM: s.LengthMM, WidthMM: s.WidthMM, PitchMM: s.PitchMM,
		FirstU: s.FirstU, FirstV: s.FirstV, PlugMM: s.PlugBottomMM}
}

// fewPlants is a quick 3-megapixel photo of a tray with plants in some cells.
func fewPlants(face card.Face) synth.Spec {
	s := synth.Defaults(face)
	s.Resize(2000, 1500)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range []string{"A1", "A10", "B3", "B8", "C5", "C6", "D2", "D9", "E1", "E10"} {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 500, LeafLengthMM: 22}
	}
	return s
}

// drawn draws s and takes it through a JPEG file whose pixels are stored turned for an EXIF orientation.
func drawn(t *testing.T, s synth.Spec, orientation int) (*photo.Photo, synth.Truth) {
	t.Helper()
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return stored(t, img, truth, orientation), truth
}

func stored(t *testing.T, img *image.NRGBA, truth synth.Truth, orientation int) *photo.Photo {
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

// cornersRMS is the root mean square distance of the found marker corners from the drawn ones, in px.
func cornersRMS(s *Scene, truth synth.Truth) float64 {
	sum := 0.0
	for i := range 4 {
		for k := range 4 {
			sum += raster.Sq(s.Corners[i][k].X-truth.Markers[i][k][0]) + raster.Sq(s.Corners[i][k].Y-truth.Markers[i][k][1])
		}
	}
	return math.Sqrt(sum / 16)
}
