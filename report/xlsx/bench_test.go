package xlsx

import (
	"testing"

	"traygauge/measure/compare"
	"traygauge/report"
	"traygauge/report/testtrial"
)

// BenchmarkWorkbookOfALargeTrial writes the workbook of testtrial.Large, with a picture of the size that the program makes for each
// tray and view, but without reading photos: BenchmarkCrops of report does that. peak-MB is the most that the process ever held, as Linux
// counts it.
func BenchmarkWorkbookOfALargeTrial(b *testing.B) {
	p, readings := testtrial.Large()
	trial, compared := report.Collect(p, readings), compare.Of(p, readings, nil, compare.Options{})
	picture := testtrial.NoisyJPEG(b, picturePx, picturePx, 1)
	crops := func(plugs []report.PlugRow, _ report.CropSize) [][]byte {
		pictures := make([][]byte, len(plugs))
		for i := range plugs {
			pictures[i] = picture
		}
		return pictures
	}
	b.ReportAllocs()
	for b.Loop() {
		var size countingWriter
		if err := Write(&size, trial, Options{Compared: compared, Crops: crops}); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(size)/1e6, "file-MB")
	}
	b.ReportMetric(testtrial.PeakMB(), "peak-MB")
}

type countingWriter int

func (w *countingWriter) Write(p []byte) (int, error) {
	*w += countingWriter(len(p))
	return len(p), nil
}
