package foliage

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
	"time"
)

var (
	sheetDir  = flag.String("sheet", "", "folder outside the repository to write contact sheets to")
	sheetFrom = flag.Uint64("from", 1, "first seed on the sheet")
	sheetN    = flag.Int("n", 9, "drawings on the sheet")
	sheetSide = flag.Int("side", 512, "pixels of each drawing on the sheet; 1024 is full size")
)

// drawing is the drawing of a seed.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 77)) }

// TestSheet writes a contact sheet to look at: drawings over their labels.
func TestSheet(t *testing.T) {
	if *sheetDir == "" {
		t.Skip("no -sheet folder given")
	}
	cols := 3
	if *sheetN < 3 {
		cols = *sheetN
	}
	rows := (*sheetN + cols - 1) / cols
	w := *sheetSide
	sheet := image.NewNRGBA(image.Rect(0, 0, cols*w, rows*w))
	truth := image.NewNRGBA(sheet.Rect)
	for k := range *sheetN {
		seed := *sheetFrom + uint64(k)
		start := time.Now()
		l := Leaves(seeded(seed))
		t.Logf("seed %d: %v", seed, time.Since(start).Round(time.Millisecond))
		at := image.Rect(k%cols*w, k/cols*w, k%cols*w+w, k/cols*w+w)
		draw.Draw(sheet, at, shrunk(l.Picture(), w), image.Point{}, draw.Src)
		draw.Draw(truth, at, shrunk(l.Truth(), w), image.Point{}, draw.Src)
	}
	name := filepath.Join(*sheetDir, fmt.Sprintf("%d-%d", *sheetFrom, *sheetFrom+uint64(*sheetN)-1))
	save(t, name+".png", sheet)
	save(t, name+"-truth.png", truth)
}

// shrunk averages codes; good enough to look at.
func shrunk(img *image.NRGBA, w int) *image.NRGBA {
	k := img.Rect.Dx() / w
	if k <= 1 {
		return img
	}
	out := image.NewNRGBA(image.Rect(0, 0, w, w))
	for y := range w {
		for x := range w {
			for c := range 4 {
				sum := 0
				for j := range k {
					for i := range k {
						sum += int(img.Pix[(y*k+j)*img.Stride+4*(x*k+i)+c])
					}
				}
				out.Pix[y*out.Stride+4*x+c] = uint8(sum / (k * k))
			}
		}
	}
	return out
}

func save(t *testing.T, name string, img image.Image) {
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
