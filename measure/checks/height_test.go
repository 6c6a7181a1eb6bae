package checks_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A photo of a day after the last that the plan has a leaf height for is doubted; between two days it is not, and the height is between theirs.
// Leaves that by the plan reach up to the camera, 480 mm above the card, are refused instead of measured a hundredth of their size.
func TestTheLeavesHeightMustFitTheDayAndTheCamera(t *testing.T) {
	s := testtray.Small(card.Shoots)
	s.LeafHeight = 20
	p := testtray.Plan(s.Tray, 10)
	day := func(day int, heights map[int]float64) reading.Reading {
		p.Tray.LeafHeightMMDays = heights
		p.Sown = time.Time{}.AddDate(0, 0, -day) // the photos carry no date
		r := measured(t, s, p, true)
		return r
	}
	between := day(25, map[int]float64{21: 10, 29: 30}) // 20, as drawn
	if between.Verdict() != reading.VerdictGood || len(between.Plugs) == 0 {
		t.Errorf("between two days: %s %+v", between.Verdict(), between.Concerns)
	}
	after := day(30, map[int]float64{21: 10, 29: 20})
	if c := testtray.Concern(after, "leaf height not in plan"); after.Verdict() != reading.VerdictDoubt || !strings.Contains(c.Words, "20 mm") || !strings.Contains(c.Remedy, "add day 30") || c.Bias == "" {
		t.Errorf("after the last: %s %+v", after.Verdict(), after.Concerns)
	}
	for i := range between.Plugs {
		if between.Plugs[i].LeafAreaMM2 != after.Plugs[i].LeafAreaMM2 {
			t.Fatalf("at 20 mm both: %g and %g mm²", between.Plugs[i].LeafAreaMM2, after.Plugs[i].LeafAreaMM2)
		}
	}
	high := day(29, map[int]float64{29: 450})
	if c := testtray.Concern(high, "leaf height"); high.Verdict() != reading.VerdictRetake || len(high.Plugs) > 0 || !strings.Contains(c.Words, "450 mm") || !strings.Contains(c.Remedy, plan.FileName) {
		t.Errorf("at the camera: %s, %d plugs, %+v", high.Verdict(), len(high.Plugs), high.Concerns)
	}
}

// An editor that crops a photo and keeps its EXIF leaves the focal length of the whole picture, so that the camera seems nearer, and leaves higher above the card seem larger
// than they are. Where the camera wrote the picture's size, the crop shows. Roots and leaves as high as the card need no focal length.
func TestACroppedPhotoOfHighLeavesIsDoubted(t *testing.T) {
	for _, c := range []struct {
		what          string
		face          card.Face
		heightMM      float64
		wide, high    float64 // of what the camera wrote, over the picture
		wantedDoubted bool
	}{
		{"cropped", card.Shoots, 40, 1.25, 1.2, true},
		{"as it was", card.Shoots, 40, 1, 1, false},
		{"turned", card.Shoots, 40, 0, 0, false},
		{"cropped, leaves as high as the card", card.Shoots, 0, 1.25, 1.2, false},
		{"cropped, roots", card.Roots, 40, 1.25, 1.2, false},
	} {
		s := testtray.Small(c.face)
		if c.face == card.Shoots {
			s.LeafHeight = c.heightMM
		}
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
		e := synth.EXIF{Focal35: int(s.Camera.Focal35), WidthPx: int(c.wide * w), HeightPx: int(c.high * h)}
		if c.what == "turned" {
			e.WidthPx, e.HeightPx = int(h), int(w)
		}
		file := filepath.Join(t.TempDir(), "p.jpg")
		if err := synth.WriteJPEG(file, img, 92, e); err != nil {
			t.Fatal(err)
		}
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		r := measure.One(raw, time.Time{}, testtray.Plan(s.Tray, c.heightMM), reading.Given{}, nil)
		if got := testtray.Concern(r, reading.LeafHeight); (got.Kind != "") != c.wantedDoubted || !c.wantedDoubted && r.Verdict() != reading.VerdictGood {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}
