package brush

import (
	"flag"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"traygauge/vision/synth/brush/canvas"
)

var (
	sheetDir  = flag.String("sheets", "", "folder to write sheets of drawings to, for looking at")
	sheetFrom = flag.Int("from", 0, "first seed on the sheets")
	sheetCols = flag.Int("cols", 3, "drawings in a row")
	sheetRows = flag.Int("rows", 2, "rows on a sheet")
)

func seeded(seed int) *rand.Rand { return rand.New(rand.NewPCG(uint64(seed), 17)) }

// TestSheets writes a sheet of drawings and one of their labels where -sheets names a folder.
func TestSheets(t *testing.T) {
	if *sheetDir == "" {
		t.Skip("no -sheets folder")
	}
	cols, rows := *sheetCols, *sheetRows
	seen, truth := image.NewNRGBA(image.Rect(0, 0, cols*canvas.Side, rows*canvas.Side)), image.NewNRGBA(image.Rect(0, 0, cols*canvas.Side, rows*canvas.Side))
	for k := range cols * rows {
		d := Roots(seeded(*sheetFrom + k))
		at := image.Rect(k%cols*canvas.Side, k/cols*canvas.Side, (k%cols+1)*canvas.Side, (k/cols+1)*canvas.Side)
		draw.Draw(seen, at, d.Picture(), image.Point{}, draw.Src)
		draw.Draw(truth, at, d.Truth(), image.Point{}, draw.Src)
	}
	for name, img := range map[string]image.Image{"seen": seen, "truth": truth} {
		f, err := os.Create(filepath.Join(*sheetDir, fmt.Sprintf("%s_%03d.png", name, *sheetFrom)))
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
	for i := 0; b.Loop(); i++ {
		Roots(seeded(i))
	}
}
