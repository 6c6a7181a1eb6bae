package vision

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"traygauge/vision/card"
	"traygauge/vision/scene"
)

// benchPhoto draws a 12-megapixel photo and returns its JPEG bytes.
func benchPhoto(b *testing.B, face card.Face) []byte {
	b.Helper()
	spec := scene.Defaults(face)
	spec.Plants = map[string]scene.Plant{}
	for i, name := range scene.Tray50.Cells() {
		spec.Plants[name] = scene.Plant{Plug: true, Leaves: 4, LeafLengthMM: 16, RootLengthMM: 200 + 10*float64(i)}
	}
	img, truth, err := scene.Draw(spec)
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "photo.jpg")
	if err := scene.Save(file, img, truth, spec.JPEGQuality, scene.EXIF{Focal35: 26, Orientation: 1}); err != nil {
		b.Fatal(err)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	return raw
}

// benchStages times the stages of one photo after another in one run, and prints each over the decoding.
func benchStages(b *testing.B, face card.Face, measure func(*Scene) error) {
	raw := benchPhoto(b, face)
	var decode, find, count time.Duration
	b.ResetTimer()
	for b.Loop() {
		t0 := time.Now()
		p, err := Decode(raw)
		if err != nil {
			b.Fatal(err)
		}
		t1 := time.Now()
		s, err := FindCard(p, CardOptions{})
		if err != nil {
			b.Fatal(err)
		}
		t2 := time.Now()
		if err := measure(s); err != nil {
			b.Fatal(err)
		}
		decode, find, count = decode+t1.Sub(t0), find+t2.Sub(t1), count+time.Since(t2)
		p.Close()
	}
	n := float64(b.N)
	b.ReportMetric(decode.Seconds()*1000/n, "decode-ms")
	b.ReportMetric(float64(find)/float64(decode), "find/decode")
	b.ReportMetric(float64(count)/float64(decode), "measure/decode")
	b.ReportMetric(float64(decode+find+count)/float64(decode), "all/decode")
}

var benchTray = Tray{Rows: 5, Columns: 10, LengthMM: 540, WidthMM: 280, PitchMM: 50, FirstU: 45, FirstV: 40, PlugMM: 34}

func BenchmarkRoots12MP(b *testing.B) {
	benchStages(b, card.Roots, func(s *Scene) error { _, _, err := s.Roots(benchTray); return err })
}

func BenchmarkShoots12MP(b *testing.B) {
	benchStages(b, card.Shoots, func(s *Scene) error {
		_, _, err := s.Leaves(benchTray, LeafOptions{ChlorosisHueDeg: 105, ChlorosisChroma: 15})
		return err
	})
}
