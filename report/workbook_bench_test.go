package report

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/report/testtrial"
)

// largeTrial is an invented trial of twenty treatments in sixty trays of fifty plugs, photographed on five days from above and from
// below: 30 000 plugs.
func largeTrial() (*plan.Plan, []measure.Reading) {
	p := testtrial.Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{7, 10, 14, 17, 21}
	for i := range 20 {
		t := plan.Treatment{Name: fmt.Sprintf("treatment %d", i+1)}
		if i > 0 {
			t.CompareWith = []string{"treatment 1"}
		}
		p.Treatments = append(p.Treatments, t)
	}
	var readings []measure.Reading
	for tray := 1; tray <= 60; tray++ {
		p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: p.Treatments[(tray-1)%20].Name, Position: tray})
		for _, day := range p.ReviewDays {
			var roots, leaves []measure.Plug
			for i := range 50 {
				name := plan.PlugName(i/10, i%10)
				size := float64(day) * (1 + float64(tray%20)/20) * (0.6 + float64((i*37+tray*11)%50)/60)
				roots = append(roots, testtrial.RootPlug(name, size, float64(i%9)))
				leaves = append(leaves, testtrial.LeafPlug(name, 10*size, float64((i*13)%40)))
			}
			for view, plugs := range map[string][]measure.Plug{"roots": roots, "shoots": leaves} {
				readings = append(readings, testtrial.Reading(fmt.Sprintf("day%d/tray%d-%s.jpg", day, tray, view), tray, view, testtrial.Taken(day, 9, tray), placed(plugs...)...))
			}
		}
	}
	return p, readings
}

// BenchmarkWorkbookOfALargeTrial writes the workbook of largeTrial, with a picture of the size that the program makes for each
// tray and view, but without reading photos: BenchmarkCrops does that. peak-MB is the most that the process ever held, as Linux
// counts it.
func BenchmarkWorkbookOfALargeTrial(b *testing.B) {
	p, readings := largeTrial()
	trial, compared := Collect(p, readings), compare.Of(p, readings, nil, compare.Options{})
	picture := noisyJPEG(b, picturePx, picturePx, 1)
	crops := func(plugs []PlugRow, _ CropSize) [][]byte {
		pictures := make([][]byte, len(plugs))
		for i := range plugs {
			pictures[i] = picture
		}
		return pictures
	}
	b.ReportAllocs()
	for b.Loop() {
		var size countingWriter
		if err := WriteWorkbook(&size, trial, WorkbookOptions{Compared: compared, Crops: crops}); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(size)/1e6, "file-MB")
	}
	b.ReportMetric(peakMB(), "peak-MB")
}

type countingWriter int

func (w *countingWriter) Write(p []byte) (int, error) {
	*w += countingWriter(len(p))
	return len(p), nil
}

// peakMB is the most memory that this process ever held, 0 where the system does not tell.
func peakMB() float64 {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		return 0
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if rest, ok := strings.CutPrefix(lines.Text(), "VmHWM:"); ok {
			kB, _ := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(rest, "kB")), 64)
			return kB / 1e3
		}
	}
	return 0
}

// BenchmarkCrops cuts one plug out of each of 24 photos of 12 megapixels.
func BenchmarkCrops(b *testing.B) {
	const photos = 24
	dir := b.TempDir()
	raw := noisyJPEG(b, 4032, 3024, 2)
	var plugs []PlugRow
	for i := range photos {
		name := fmt.Sprintf("%d.jpg", i)
		sha := writePhoto(b, dir, name, withComment(raw, name))
		plugs = append(plugs, plugAt(name, sha, "roots", &measure.Place{X: 2000, Y: 1500, AlongX: 6}))
	}
	b.ReportMetric(float64(len(raw))/1e6, "photo-MB")
	for b.Loop() {
		for i, picture := range Crops(dir, plugs, CropSize{SideMM: 50, SidePx: picturePx}) {
			if picture == nil {
				b.Fatalf("photo %d gave no picture", i)
			}
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/photos*1e3, "ms/photo")
	b.ReportMetric(peakMB(), "peak-MB")
}

// noisyJPEG draws a picture with as much detail as a photo has, in patches of so many px.
func noisyJPEG(t testing.TB, width, height, patch int) []byte {
	t.Helper()
	random := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := 0; y < height; y += patch {
		for x := 0; x < width; x += patch {
			c := color.RGBA{uint8(80 + random.IntN(60)), uint8(80 + random.IntN(60)), uint8(60 + random.IntN(60)), 255}
			draw.Draw(img, image.Rect(x, y, x+patch, y+patch), image.NewUniform(c), image.Point{}, draw.Src)
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
