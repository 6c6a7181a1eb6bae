package scene

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// edgeRef is an edge of testdata/refs/mtf.json, from the formula given there.
type edgeRef struct {
	File  string
	Sigma float64 `json:"sigma_px"`
	Angle float64 `json:"edge_angle_from_vertical_deg"`
	MTF50 float64 `json:"mtf50_cy_per_px"`
}

func TestMTF50OfKnownEdges(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "refs", "mtf.json"))
	if err != nil {
		t.Fatal(err)
	}
	var refs struct{ Images []edgeRef }
	if err := json.Unmarshal(raw, &refs); err != nil {
		t.Fatal(err)
	}
	for _, r := range refs.Images {
		p := edgePhoto(t, r.File)
		// The picture is light on its right, so walking down the edge has the dark on the right hand.
		lean := math.Tan(r.Angle * math.Pi / 180)
		at := func(y float64) raster.Px { return raster.Px{X: 35.637 - (y-39.5)*lean, Y: y} }
		got := mtf50(profileOfEdge(p, at(3), at(76), 24), edgeBin)
		t.Logf("%s: %.4f, true %.4f, %+.2f %%", r.File, got, r.MTF50, 100*(got/r.MTF50-1))
		relative(t, r.File+": MTF50", got, r.MTF50, 0.03)
	}
}

// edgePhoto makes a photo of a 16-bit linear PGM: the nearest 8-bit sRGB code in all three channels.
func edgePhoto(t *testing.T, name string) *photo.Photo {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "refs", name))
	if err != nil {
		t.Fatal(err)
	}
	var w, h, top int
	if _, err := fmt.Fscanf(bytes.NewReader(raw), "P5\n%d %d\n%d\n", &w, &h, &top); err != nil {
		t.Fatal(err)
	}
	data := raw[len(raw)-2*w*h:]
	p := &photo.Photo{Width: w, Height: h, BGR: make([]byte, 3*w*h)}
	for i := range w * h {
		light := float64(int(data[2*i])<<8|int(data[2*i+1])) / float64(top)
		code := byte(math.Round(255 * raster.FromLinear(light)))
		p.BGR[3*i], p.BGR[3*i+1], p.BGR[3*i+2] = code, code, code
	}
	return p
}

// exp(−2π²σ²f²) = ½ for σ = 1 mm at f = √(ln 2 / 2)/π = 0.18739 cycles per mm.
func TestBlurOfAGaussianFromItsMTF50(t *testing.T) {
	relative(t, "sigma", Sharpness{MTF50PerMM: 0.18739062}.BlurMM(), 1, 1e-6)
	relative(t, "sigma", Sharpness{MTF50PerMM: 0.09369531}.BlurMM(), 2, 1e-6)
	if s := (Sharpness{MTF50PerMM: math.NaN()}).BlurMM(); s != usualBlurMM {
		t.Errorf("without an edge sigma is %v", s)
	}
}

func TestAnEvenPictureHasNoEdge(t *testing.T) {
	p := &photo.Photo{Width: 72, Height: 80, BGR: bytes.Repeat([]byte{128}, 3*72*80)}
	if f := mtf50(profileOfEdge(p, raster.Px{X: 36, Y: 76}, raster.Px{X: 36, Y: 3}, 24), edgeBin); !math.IsNaN(f) {
		t.Errorf("MTF50 %v", f)
	}
}
