package weave

import (
	"flag"
	"image"
	"image/draw"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

var (
	sheetDir  = flag.String("sheets", "", "folder to write a sheet of twelve drawings to, for looking at")
	sheetFrom = flag.Int("from", 0, "first seed on the sheet")
)

func seeded(seed int) *rand.Rand { return rand.New(rand.NewPCG(uint64(seed), 23)) }

// TestSheets writes what twelve drawings show and their labels, where -sheets names a folder.
func TestSheets(t *testing.T) {
	if *sheetDir == "" {
		t.Skip("no -sheets folder")
	}
	seen, truth := image.NewNRGBA(image.Rect(0, 0, 4*side, 3*side)), image.NewNRGBA(image.Rect(0, 0, 4*side, 3*side))
	for k := range 12 {
		d := Roots(seeded(*sheetFrom + k))
		at := image.Rect(k%4*side, k/4*side, (k%4+1)*side, (k/4+1)*side)
		draw.Draw(seen, at, d.Picture(), image.Point{}, draw.Src)
		draw.Draw(truth, at, d.Truth(), image.Point{}, draw.Src)
	}
	for name, img := range map[string]image.Image{"seen.png": seen, "truth.png": truth} {
		f, err := os.Create(filepath.Join(*sheetDir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := png.Encode(f, img); err != nil {
			t.Fatal(err)
		}
	}
}

func BenchmarkRoots(b *testing.B) {
	for i := 0; b.Loop(); i++ {
		Roots(seeded(i))
	}
}
