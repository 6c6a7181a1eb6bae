package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"gocv.io/x/gocv"

	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// BenchmarkMeasure measures a folder of twelve-megapixel photos as `traygauge measure` does, overlays included, and prints what the whole
// process computes for a photo over what OpenCV's decoding of the same bytes takes.
func BenchmarkMeasure(b *testing.B) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		b.Run(face.String(), func(b *testing.B) { benchMeasure(b, face, 8) })
	}
}

func benchMeasure(b *testing.B, face card.Face, photos int) {
	dir := b.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "trial.yaml"), []byte(fmt.Sprintf(benchPlan, photos)), 0o644); err != nil {
		b.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		b.Fatal(err)
	}
	spec := synth.Defaults(face)
	spec.Plants = map[string]synth.Plant{}
	for i, name := range synth.Tray50.Cells() {
		spec.Plants[name] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 16, RootLengthMM: 200 + 10*float64(i)}
	}
	img, truth, err := synth.Draw(spec)
	if err != nil {
		b.Fatal(err)
	}
	first := filepath.Join(b.TempDir(), "photo.jpg")
	if err := synth.Save(first, img, truth, spec.JPEGQuality, synth.EXIF{Focal35: 26, Orientation: 1, Taken: time.Date(2026, 3, 16, 9, 0, 0, 0, time.UTC)}); err != nil {
		b.Fatal(err)
	}
	raw, err := os.ReadFile(first)
	if err != nil {
		b.Fatal(err)
	}
	for i := range photos { // a byte behind the picture's end makes each another file
		file := filepath.Join(dir, "photos", fmt.Sprintf("photo-%d.jpg", i))
		if err := os.WriteFile(file, append(raw[:len(raw):len(raw)], byte(i)), 0o644); err != nil {
			b.Fatal(err)
		}
	}
	var all, bare time.Duration
	for b.Loop() {
		start := spent(b)
		for range photos {
			m, err := gocv.IMDecode(raw, gocv.IMReadColor)
			if err != nil {
				b.Fatal(err)
			}
			m.Close()
		}
		bare += spent(b) - start
		start = spent(b)
		var out, said bytes.Buffer
		if code := run([]string{"measure", "--again", "--workers", "1", dir}, streams{nil, &out, &said}); code != exitOK && code != exitAttention {
			b.Fatalf("%d: %s%s", code, &out, &said)
		}
		all += spent(b) - start
	}
	b.ReportMetric(float64(all)/float64(bare), "whole/decode")
	b.ReportMetric(all.Seconds()*1000/float64(photos*b.N), "ms/photo")
}

// spent is what this process has computed so far, on all cores together.
func spent(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

const benchPlan = `title: bench
crop: kale
sown: 2026-03-02
zone: UTC
tray: {rows: 5, columns: 10, length_mm: 540, width_mm: 280, pitch_mm: 50, first_plug_mm: [45, 40], plug_bottom_mm: 34, leaf_height_mm: 0}
card: {rule_mm: 100, rule_u_mm: 0.5}
limits: {chlorosis_hue_deg: 105, chlorosis_chroma: 15}
treatments:
  water only: {gets: []}
trays:
  - {tray: 1, treatment: water only, position: %d}
volume_ml_per_tray: 1000
feeding_days: []
review_days: [14]
`
