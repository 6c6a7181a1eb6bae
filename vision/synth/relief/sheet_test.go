package relief

import (
	"flag"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"traygauge/vision/synth/relief/solids"
)

var (
	sheet = flag.String("sheet", "", "write contact sheets into this folder")
	first = flag.Uint64("first", 0, "the first seed on the sheets")
	many  = flag.Int("many", 16, "drawings on the sheets")
	wide  = flag.Int("wide", 4, "drawings in a row")
)

// TestSheet draws no conclusion: it is for looking at drawings.
func TestSheet(t *testing.T) {
	if *sheet == "" {
		t.Skip("no folder given")
	}
	rows := (*many + *wide - 1) / *wide
	seen := image.NewNRGBA(image.Rect(0, 0, *wide*solids.Side, rows*solids.Side))
	truth := image.NewNRGBA(seen.Rect)
	for i := range *many {
		r := drawn(*first + uint64(i))
		at := image.Rect(i%*wide*solids.Side, i / *wide * solids.Side, solids.Side*(*wide), solids.Side*rows)
		draw.Draw(seen, at, r.Picture(), image.Point{}, draw.Src)
		draw.Draw(truth, at, r.Truth(), image.Point{}, draw.Src)
	}
	for name, img := range map[string]image.Image{"seen": seen, "truth": truth} {
		f, err := os.Create(filepath.Join(*sheet, fmt.Sprintf("%s_%d.png", name, *first)))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, img); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
}

func BenchmarkRoots(b *testing.B) {
	seed := uint64(0)
	for b.Loop() {
		drawn(seed)
		seed++
	}
}
