package checks_test

import (
	"fmt"
	"image"
	"strings"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A card printed at 97 % makes 50 mm of tray 51.5 mm and areas 1/0.97² = 1.063 of what they are; one at 90 % or 110 % is to be taken again. At
// 97 % its ruler's 100 mm measure 97.
func TestThePitchTellsAWrongPrint(t *testing.T) {
	for _, c := range []struct {
		face    card.Face
		print   float64
		verdict reading.Verdict
		words   []string
	}{
		{card.Roots, 1, reading.VerdictGood, nil},
		{card.Roots, 0.99, reading.VerdictGood, nil},
		{card.Roots, 0.97, reading.VerdictDoubt, []string{"51.", "50 mm", "more", "1.5 %", "measures 97.", "lower than the plugs by 1", "6 % too large"}},
		{card.Shoots, 0.97, reading.VerdictDoubt, []string{"more", "too large"}},
		{card.Roots, 1.03, reading.VerdictDoubt, []string{"48.", "less", "higher", "6 % too small"}},
		{card.Roots, 0.9, reading.VerdictRetake, []string{"measure the card’s ruler", "take the photo again"}},
		{card.Shoots, 1.1, reading.VerdictRetake, []string{"less", "higher"}},
	} {
		s := testtray.Small(c.face)
		s.PrintScale = c.print
		r := measured(t, s, testtray.Plan(s.Tray, 0), true)
		got := testtray.Concern(r, reading.ScaleOff)
		if r.Verdict() != c.verdict || (got.Kind != "") != (c.verdict != reading.VerdictGood) {
			t.Errorf("%v printed at %g: %s (%s)", c.face, c.print, r.Verdict(), fmt.Sprint(testtray.Kinds(r)))
		}
		if c.verdict == reading.VerdictRetake && len(r.Plugs) > 0 {
			t.Errorf("%v printed at %g: %d plugs are kept of a photo that cannot be used", c.face, c.print, len(r.Plugs))
		}
		for _, word := range c.words {
			if !strings.Contains(got.Words+got.Remedy+got.Bias, word) {
				t.Errorf("%v printed at %g: %+v lacks %q", c.face, c.print, got, word)
			}
		}
	}
}

// Three trays of a day whose plugs are all 1.2 to 2 % too wide apart share one thing, the card: 100 mm of ruler over the mean of 1.015 is

// By a card whose print is squeezed to 94 % across the tray, plugs are 50 mm apart along the tray and 50/0.94 = 53.2 mm across it; that
// makes areas 1/0.94 = 1.06 times what they are.
func TestACardStretchedOneWayIsSeen(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s := testtray.Small(face)
		s.Camera.TiltDeg, s.Camera.RollDeg = 0, 0
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		pxPerMM := float64(s.Camera.Width) * s.Camera.Focal35 / 36 / s.Camera.HeightMM
		dock := s.Camera.Height/2 - int(pxPerMM*s.Tray.WidthMM/2+pxPerMM*card.Height/2) + int(pxPerMM*card.Height)
		above := imaging.Crop(img, image.Rect(0, 0, s.Camera.Width, dock))
		squeezed := imaging.Resize(above, s.Camera.Width, int(0.94*float64(dock)+0.5), imaging.CatmullRom)
		for y := range dock - squeezed.Bounds().Dy() { // what is bared shows the board
			copy(img.Pix[y*img.Stride:(y+1)*img.Stride], above.Pix[:img.Stride])
		}
		img = imaging.Paste(img, squeezed, image.Pt(0, dock-squeezed.Bounds().Dy()))
		r := measure.One(asJPEG(t, img, 92), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
		got := testtray.Concern(r, reading.ScaleOff)
		for _, word := range []string{"mm apart along the tray and 53.", "stretched", "150 to 100", "% too large"} {
			if r.Verdict() != reading.VerdictRetake || !strings.Contains(got.Words+got.Remedy+got.Bias, word) {
				t.Errorf("%v: %s %+v lacks %q", face, r.Verdict(), r.Concerns, word)
			}
		}
	}
}
