package measure

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// BenchmarkTwoWorkers measures a folder of photos with one worker and with two, and prints how many times as fast two are. On
// a machine that is busy otherwise, or has one processor, that says nothing.
func BenchmarkTwoWorkers(b *testing.B) {
	dir := b.TempDir()
	if err := os.Mkdir(filepath.Join(dir, trialdir.PhotosFolder), 0o755); err != nil {
		b.Fatal(err)
	}
	var s synth.Spec
	for i := range 8 {
		s = synth.Defaults([]card.Face{card.Roots, card.Shoots}[i%2])
		s.Seed, s.Photo = uint64(i+1), uint64(i+1)
		s.Plants = drawnPlants(uint64(i + 1))
		img, truth, err := synth.Draw(s)
		if err != nil {
			b.Fatal(err)
		}
		file := filepath.Join(dir, trialdir.PhotosFolder, fmt.Sprintf("photo-%d.jpg", i))
		if err := synth.Save(file, img, truth, s.JPEGQuality, synth.EXIF{Focal35: 26, Orientation: 1}); err != nil {
			b.Fatal(err)
		}
	}
	p := testtray.Plan(s.Tray, 0)
	took := func(workers int) time.Duration {
		start := time.Now()
		if _, err := Run(b.Context(), dir, p, RunOptions{Workers: workers, Again: true}); err != nil {
			b.Fatal(err)
		}
		return time.Since(start)
	}
	var one, two time.Duration
	for b.Loop() {
		one += took(1)
		two += took(2)
	}
	b.ReportMetric(float64(one)/float64(two), "one/two-workers")
}

// drawnPlants fills a tray: an empty cell in twelve, a bare plug in fifteen, the rest of all sizes.
func drawnPlants(seed uint64) map[string]synth.Plant {
	r := rand.New(rand.NewPCG(seed, 7))
	plants := map[string]synth.Plant{}
	for _, name := range synth.Tray50.Cells() {
		switch x := r.Float64(); {
		case x < 1.0/12:
		case x < 1.0/12+1.0/15:
			plants[name] = synth.Plant{Plug: true}
		default:
			plants[name] = synth.Plant{Plug: true, Leaves: 3 + r.IntN(3), LeafLengthMM: 10 + 10*r.Float64(), RootLengthMM: 120 + 500*r.Float64(),
				Yellow: 0.4 * r.Float64() * r.Float64()}
		}
	}
	return plants
}
