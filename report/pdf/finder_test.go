package pdf

import (
	"bytes"
	"image/png"
	"math"
	"testing"

	"gocv.io/x/gocv"

	"traygauge/report/testtrial"
	"traygauge/vision"
	"traygauge/vision/card"
	"traygauge/vision/marker"
)

// TestPrintedCardIsFoundWhereItIsPrinted prints the sheets, reads the pages back as pictures and lets the finder measure the
// card: printer and finder agree on every corner of every marker to 0.05 mm. Poppler lays the edges of rectangles on whole
// pixels, so up to 0.042 mm of it, half a pixel at 300 dpi, is the page's picture.
func TestPrintedCardIsFoundWhereItIsPrinted(t *testing.T) {
	places, err := places(testtrial.Plan(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, dpi := range []int{300, 600} {
		pages := rasterise(t, testtrial.Plan(), Options{}, dpi, 2)
		for _, at := range places {
			if at.Kind != "roots face" && at.Kind != "shoots face" {
				continue
			}
			var file bytes.Buffer
			quick := png.Encoder{CompressionLevel: png.BestSpeed}
			if err := quick.Encode(&file, pages[at.Page-1]); err != nil {
				t.Fatal(err)
			}
			compareFace(t, at, dpi, file.Bytes())
		}
	}
}

func compareFace(t *testing.T, at Placed, dpi int, file []byte) {
	t.Helper()
	photo, err := vision.Decode(file)
	if err != nil {
		t.Fatalf("%s at %d dpi: %v", at.Kind, dpi, err)
	}
	defer photo.Close()
	scene, err := vision.FindCard(photo, vision.CardOptions{})
	if err != nil {
		t.Fatalf("%s at %d dpi: %v", at.Kind, dpi, err)
	}
	if got := scene.Face.String() + " face"; got != at.Kind {
		t.Errorf("page %d at %d dpi: the %s is taken for the %s", at.Page, dpi, at.Kind, got)
	}
	worst := 0.0
	for i, r := range card.Markers() {
		for k, c := range r.Corners() {
			// The middle of the first pixel is half a pixel from the page's edge.
			mm := func(px float64) float64 { return (px + 0.5) * 25.4 / float64(dpi) }
			off := math.Max(math.Abs(mm(scene.Corners[i][k].X)-at.X-c.X), math.Abs(mm(scene.Corners[i][k].Y)-at.Y-c.Y))
			worst = math.Max(worst, off)
			if !(off <= 0.05) {
				t.Errorf("%s at %d dpi: corner %d of marker %d is %.3f mm off along x or y", at.Kind, dpi, k, i, off)
			}
		}
	}
	if s := scene.Plane.PxPerMM(card.Pt{X: 75, Y: 50}) * 25.4 / float64(dpi); !(math.Abs(s-1) < 0.0005) {
		t.Errorf("%s at %d dpi: the scale is off by %.3f %%", at.Kind, dpi, 100*(s-1))
	}
	t.Logf("%s at %d dpi: worst corner %.4f mm, %.2f px", at.Kind, dpi, worst, worst*float64(dpi)/25.4)
}

// A tag's corners are as good as the search leaves them, about a pixel: enough to tell which tray is in the photo.
func TestPrintedTagsAreFoundWhereTheyArePrinted(t *testing.T) {
	const dpi = 300
	places, err := places(testtrial.Plan(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	pages := rasterise(t, testtrial.Plan(), Options{}, dpi, 3)
	var file bytes.Buffer
	if err := png.Encode(&file, pages[2]); err != nil {
		t.Fatal(err)
	}
	page, err := gocv.IMDecode(file.Bytes(), gocv.IMReadGrayScale)
	if err != nil {
		t.Fatal(err)
	}
	defer page.Close()
	quads, err := marker.Find(page, 100)
	if err != nil {
		t.Fatal(err)
	}
	byTray := map[int]marker.Quad{}
	for _, q := range quads {
		if tray, ok := card.TrayOfMarker(q.ID); ok {
			byTray[tray] = q
		}
	}
	for _, at := range places {
		if at.Kind != "tag" {
			continue
		}
		q, ok := byTray[at.Tray]
		if !ok || at.Page != 3 {
			t.Errorf("tag %d on page %d was not found", at.Tray, at.Page)
			continue
		}
		worst := 0.0
		for k, c := range card.TagMarker.Corners() {
			x, y := (q.Corners[k][0]+0.5)*25.4/dpi, (q.Corners[k][1]+0.5)*25.4/dpi
			worst = math.Max(worst, math.Hypot(x-at.X-c.X, y-at.Y-c.Y))
		}
		t.Logf("tag %d: worst corner %.3f mm", at.Tray, worst)
		if !(worst < 0.3) {
			t.Errorf("tag %d: a corner is %.3f mm off", at.Tray, worst)
		}
	}
}
