package report

import (
	"fmt"
	"testing"

	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// BenchmarkCrops cuts one plug out of each of 24 photos of 12 megapixels.
func BenchmarkCrops(b *testing.B) {
	const photos = 24
	dir := b.TempDir()
	raw := testtrial.NoisyJPEG(b, 4032, 3024, 2)
	var plugs []PlugRow
	for i := range photos {
		name := fmt.Sprintf("%d.jpg", i)
		sha := writePhoto(b, dir, name, withComment(raw, name))
		plugs = append(plugs, plugAt(name, sha, "roots", &reading.Place{X: 2000, Y: 1500, AlongX: 6}))
	}
	b.ReportMetric(float64(len(raw))/1e6, "photo-MB")
	for b.Loop() {
		for i, picture := range Crops(dir, plugs, CropSize{SideMM: 50, SidePx: 150}) {
			if picture == nil {
				b.Fatalf("photo %d gave no picture", i)
			}
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/photos*1e3, "ms/photo")
	b.ReportMetric(testtrial.PeakMB(), "peak-MB")
}
