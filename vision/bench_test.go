package vision

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	"gocv.io/x/gocv"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/tray"
)

// benchPhoto draws a 12-megapixel photo and returns its JPEG bytes.
func benchPhoto(b *testing.B, face card.Face) []byte {
	b.Helper()
	spec := synth.Defaults(face)
	spec.Plants = map[string]synth.Plant{}
	for i, name := range synth.Tray50.Cells() {
		spec.Plants[name] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 16, RootLengthMM: 200 + 10*float64(i)}
	}
	img, truth, err := synth.Draw(spec)
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "photo.jpg")
	if err := synth.Save(file, img, truth, spec.JPEGQuality, synth.EXIF{Focal35: 26, Orientation: 1}); err != nil {
		b.Fatal(err)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	return raw
}

// cpuTime is what this process has computed so far, on all cores together: what else runs on the machine is not in it.
func cpuTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// benchStages times the stages of one photo after another in one run, and prints each over OpenCV's own decoding of the same
// bytes.
func benchStages(b *testing.B, face card.Face, measure func(*scene.Scene) error) {
	raw := benchPhoto(b, face)
	var bare time.Duration
	stages := map[string]time.Duration{}
	b.ResetTimer()
	for b.Loop() {
		start := cpuTime(b)
		m, err := gocv.IMDecode(raw, gocv.IMReadColor)
		if err != nil {
			b.Fatal(err)
		}
		m.Close()
		at := cpuTime(b)
		bare += at - start
		lap := func(stage string) {
			now := cpuTime(b)
			stages[stage] += now - at
			at = now
		}
		p, err := photo.Decode(raw)
		if err != nil {
			b.Fatal(err)
		}
		lap("decode")
		s, err := scene.FindCard(p, scene.CardOptions{})
		if err != nil {
			b.Fatal(err)
		}
		lap("card")
		if err := measure(s); err != nil {
			b.Fatal(err)
		}
		lap("measure")
		p.Close()
	}
	b.StopTimer()
	b.ReportMetric(peakOver(b, raw, measure), "peak-B/px-over-decoded")
	all := time.Duration(0)
	for name, d := range stages {
		all += d
		b.ReportMetric(float64(d)/float64(bare), name+"/decode")
	}
	b.ReportMetric(bare.Seconds()*1000/float64(b.N), "bare-decode-ms")
	b.ReportMetric(float64(all)/float64(bare), "ALL/decode")
}

// peakOver measures once more in a tidied process, and returns how many bytes a pixel its memory rose above what it held with the
// picture decoded; NaN where the system does not tell.
func peakOver(b *testing.B, raw []byte, measure func(*scene.Scene) error) float64 {
	p, err := photo.Decode(raw)
	if err != nil {
		b.Fatal(err)
	}
	defer p.Close()
	debug.FreeOSMemory()
	before := memory("VmRSS:")
	if os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) != nil { // the peak begins anew
		return math.NaN()
	}
	s, err := scene.FindCard(p, scene.CardOptions{})
	if err != nil {
		b.Fatal(err)
	}
	if err := measure(s); err != nil {
		b.Fatal(err)
	}
	return (memory("VmHWM:") - before) / float64(p.Width*p.Height)
}

// memory reads a figure of the process in bytes from the system; NaN where it tells none.
func memory(name string) float64 {
	text, _ := os.ReadFile("/proc/self/status")
	_, after, found := strings.Cut(string(text), name)
	var kB float64
	if _, err := fmt.Sscan(after, &kB); !found || err != nil {
		return math.NaN()
	}
	return kB * 1024
}

var benchTray = tray.Layout{Rows: 5, Columns: 10, LengthMM: 540, WidthMM: 280, PitchMM: 50, FirstU: 45, FirstV: 40, PlugMM: 34}

func BenchmarkRoots12MP(b *testing.B) {
	benchStages(b, card.Roots, func(s *scene.Scene) error { _, _, err := Roots(s, benchTray); return err })
}

func BenchmarkShoots12MP(b *testing.B) {
	benchStages(b, card.Shoots, func(s *scene.Scene) error {
		_, _, err := Leaves(s, benchTray, LeafOptions{ChlorosisHueDeg: 105, ChlorosisChroma: 15})
		return err
	})
}
