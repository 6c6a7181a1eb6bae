package herbarium

import (
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"traygauge/vision/synth/closeup"
)

var (
	sheetsTo = flag.String("sheets", "", "folder for contact sheets to look at")
	sheetsOf = flag.Int("seeds", 9, "drawings on a contact sheet")
	firstOf  = flag.Uint64("first", 0, "seed of the first")
)

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x6c656166)) }

// TestContactSheets writes drawings and their labels side by side, for people to look at.
func TestContactSheets(t *testing.T) {
	if *sheetsTo == "" {
		t.Skip("no folder given")
	}
	const across, small = 3, 512
	rows := (*sheetsOf + across - 1) / across
	seen := image.NewNRGBA(image.Rect(0, 0, across*small, rows*small))
	truth := image.NewNRGBA(seen.Rect)
	for k := range *sheetsOf {
		seed := *firstOf + uint64(k)
		l := Leaves(seeded(seed))
		at := image.Pt(k%across*small, k/across*small)
		halved(seen, at, bright(l))
		halved(truth, at, l.Truth())
		save(t, fmt.Sprintf("one_%d.png", seed), bright(l))
		save(t, fmt.Sprintf("one_%d_truth.png", seed), l.Truth())
	}
	save(t, fmt.Sprintf("seen_%d.png", *firstOf), seen)
	save(t, fmt.Sprintf("truth_%d.png", *firstOf), truth)
}

// bright is the drawing as a camera would expose it: a mean of 0.18, but paper at most at the brightest code.
func bright(l *closeup.Leaves) *image.NRGBA {
	sum := 0.0
	for _, c := range l.Light {
		sum += math.Log(0.003 + float64(c[1]))
	}
	gain := float32(min(3, max(0.8, 0.16/math.Exp(sum/float64(len(l.Light))))))
	copied := *l
	copied.Light = make([]closeup.RGB, len(l.Light))
	for i, c := range l.Light {
		copied.Light[i] = closeup.RGB{c[0] * gain, c[1] * gain, c[2] * gain}
	}
	return copied.Picture()
}

func halved(dst draw.Image, at image.Point, src *image.NRGBA) {
	for y := range src.Rect.Dy() / 2 {
		for x := range src.Rect.Dx() / 2 {
			var sum [3]int
			for _, o := range [4][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
				c := src.NRGBAAt(2*x+o[0], 2*y+o[1])
				sum[0], sum[1], sum[2] = sum[0]+int(c.R), sum[1]+int(c.G), sum[2]+int(c.B)
			}
			dst.Set(at.X+x, at.Y+y, color.NRGBA{uint8(sum[0] / 4), uint8(sum[1] / 4), uint8(sum[2] / 4), 255})
		}
	}
}

func save(t *testing.T, name string, img image.Image) {
	t.Helper()
	f, err := os.Create(filepath.Join(*sheetsTo, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
