package main

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/vision/scene"
)

// alter OUTDIR DAY in.jpg... : writes resized and recompressed variants
func main() {
	dir := os.Args[1]
	day, _ := strconv.Atoi(os.Args[2])
	os.MkdirAll(dir, 0o755)
	for _, in := range os.Args[3:] {
		src, err := imaging.Open(in, imaging.AutoOrientation(true))
		if err != nil {
			panic(err)
		}
		img := imaging.Clone(src)
		base := strings.TrimSuffix(filepath.Base(in), ".jpg")
		e := scene.EXIF{Focal35: 26, Orientation: 1, WithZone: true, Taken: time.Date(2026, 3, 2+day, 9, 30, 0, 0, time.UTC)}
		for _, k := range []int{140, 100, 75, 60, 48, 38, 30, 24} {
			scene.WriteJPEG(filepath.Join(dir, base+"-"+strconv.Itoa(k)+".jpg"), imaging.Resize(img, img.Bounds().Dx()*k/100, 0, imaging.CatmullRom), 90, e)
		}
		for _, q := range []int{75, 60, 45, 30} {
			scene.WriteJPEG(filepath.Join(dir, base+"-q"+strconv.Itoa(q)+".jpg"), img, q, e)
		}
	}
}
