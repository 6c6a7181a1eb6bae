package checks_test

import (
	"image"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// softBeyond is the photo blurred by a Gaussian of sigma mm from a line across the card's plane on, on the side away from the card: a phone that focused
// on the card.
func softBeyond(t *testing.T, s synth.Spec, rowMM, sigmaMM float64) reading.Reading {
	t.Helper()
	sharp, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	pxPerMM := float64(s.Camera.Width) * s.Camera.Focal35 / 36 / s.Camera.HeightMM
	soft := imaging.Blur(sharp, sigmaMM*pxPerMM)
	// the picture's middle is the scene's, from the card's upper edge to the tray's lower
	from := s.Camera.Height/2 + int(pxPerMM*(rowMM+card.Height-(card.Height+s.Tray.WidthMM)/2))
	b := sharp.Bounds()
	img := imaging.Paste(sharp, imaging.Crop(soft, image.Rect(0, from, b.Dx(), b.Dy())), image.Pt(0, from))
	return measure.One(asJPEG(t, img, 92), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
}

// A line of 0.2 mm keeps 0.2/(0.5·2.5) = 16 % of its contrast under a blur of 0.5 mm: plugs that are so blurred are not measured, those in focus are.
// Leaves bear twice that, and are doubted beyond.
func TestBlurBesideASharpCardIsSeen(t *testing.T) {
	for _, c := range []struct {
		face  card.Face
		sigma float64
		lost  bool
	}{{card.Roots, 0.5, true}, {card.Shoots, 1.2, true}, {card.Roots, 0, false}, {card.Shoots, 0, false}} {
		s := testtray.Small(c.face)
		s.Camera.TiltDeg, s.Camera.RollDeg = 0, 0
		r := softBeyond(t, s, s.Tray.WidthMM/3, c.sigma)
		got := testtray.Concern(r, reading.PartlyBlurred)
		if (got.Kind != "") != c.lost {
			t.Errorf("%v, blurred by %g mm: %s %+v", c.face, c.sigma, r.Verdict(), r.Concerns)
		}
		for _, p := range r.Plugs {
			if !c.lost && p.State == reading.Hidden || c.lost && p.Name[0] == 'C' && (p.RootAreaMM2.Known() || p.LeafAreaMM2.Known()) {
				t.Errorf("%v, blurred by %g mm: %s is %s", c.face, c.sigma, p.Name, p.State)
			}
		}
	}
}

// A photo that is sharper on the card than photos usually are may be half as sharp on the tray and still lose nothing.
func TestASharpPhotoOfManyPixelsIsInFocus(t *testing.T) {
	s := synth.Defaults(card.Roots)
	s.Light.BlurPX, s.Number, s.Seed, s.Photo = 0.5, 1, 1, 1
	s.Tray = synth.Tray{Rows: 2, Columns: 3, LengthMM: 180, WidthMM: 130, PitchMM: 50, FirstU: 40, FirstV: 40, PlugBottomMM: 34}
	s.Camera.HeightMM = 250
	s.Resize(4032, 3024)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range s.Tray.Cells() {
		s.Plants[cell] = synth.Plant{Plug: true, RootLengthMM: 150}
	}
	r := softBeyond(t, s, s.Tray.WidthMM/3, 0)
	if r.Verdict() != reading.VerdictGood {
		t.Errorf("%s: %+v", r.Verdict(), r.Concerns)
	}
}

// Portrait mode keeps the card sharp and blurs what it takes for ground. By 0.4 mm a leaf 10 mm wide looks up to a tenth wider.
func TestLeavesThatPortraitModeBlursAreDoubted(t *testing.T) {
	s := testtray.Small(card.Shoots)
	s.Camera.TiltDeg, s.Camera.RollDeg = 0, 0
	r := softBeyond(t, s, 0, 0.4)
	if got := testtray.Concern(r, reading.PartlyBlurred); got.Kind == "" || r.Verdict() != reading.VerdictDoubt {
		t.Errorf("%s %+v", r.Verdict(), r.Concerns)
	}
}
