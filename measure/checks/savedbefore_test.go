package checks_test

import (
	"bytes"
	"image/jpeg"
	"strings"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A messenger compresses a photo to a quality of 30, and an editor saves what arrived at 92.
func TestAPhotoThatAMessengerCompressedBeforeItWasSavedAgainIsDoubted(t *testing.T) {
	raw, _ := testtray.JPEG(t, testtray.Small(card.Roots), true)
	if r := measure.One(raw, time.Time{}, testtray.Plan(testtray.Small(card.Roots).Tray, 0), reading.Given{}, nil); r.Verdict() != reading.VerdictGood {
		t.Errorf("as drawn: %+v", r.Concerns)
	}
	for _, quality := range []int{30, 92} {
		img, err := jpeg.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		raw = asJPEG(t, img, quality)
	}
	r := measure.One(raw, time.Time{}, testtray.Plan(testtray.Small(card.Roots).Tray, 0), reading.Given{}, nil)
	if got := testtray.Concern(r, reading.Compressed); r.Verdict() != reading.VerdictDoubt || !strings.Contains(got.Words, "quality of about 30") {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}
