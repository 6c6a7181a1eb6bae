package scene

import (
	"errors"
	"image"
	"image/draw"
	"math"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/vision/card"
	"traygauge/vision/kind"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// turnedAway reports an error that is not a refusal of that kind with that remedy.
func turnedAway(t *testing.T, what string, err error, want kind.Kind, remedy string) {
	t.Helper()
	var r *photo.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: %v, want a refusal", what, err)
		return
	}
	if r.Kind != want || !strings.Contains(r.Remedy, remedy) || r.Words == "" {
		t.Errorf("%s: %q, %q, do %q; want %q and a remedy with %q", what, r.Kind, r.Words, r.Remedy, want, remedy)
	}
}

// plainTray is a quick photo of an empty tray with card and tag.
func plainTray() synth.Spec {
	s := synth.Defaults(card.Roots)
	s.Resize(1600, 1200)
	return s
}

// cardBox is the upright rectangle around the four markers in the picture, with their white rim.
func cardBox(truth synth.Truth) (r image.Rectangle) {
	for _, m := range truth.Markers {
		r = r.Union(testphoto.MarkerBox(m))
	}
	return r
}

// findIn looks for the card in a picture that was changed after drawing.
func findIn(t *testing.T, img *image.NRGBA, truth synth.Truth) (*Scene, error) {
	t.Helper()
	return FindCard(testphoto.Stored(t, img, truth, 1), CardOptions{})
}

func TestAPhotoWithoutACardIsRefused(t *testing.T) {
	s := plainTray()
	s.Card = false
	p, _ := testphoto.Drawn(t, s, 1)
	_, err := FindCard(p, CardOptions{})
	turnedAway(t, "no card", err, "no card", "put the card")
}

func TestHalfACardIsRefusedByTheCornersThatAreHidden(t *testing.T) {
	img, truth, err := synth.Draw(plainTray())
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{1, 2} { // a hand over the right side
		draw.Draw(img, testphoto.MarkerBox(truth.Markers[i]), image.Black, image.Point{}, draw.Src)
	}
	_, err = findIn(t, img, truth)
	turnedAway(t, "half a card", err, "half a card", "upper right and lower right")
}

func TestTwoCardsAreRefused(t *testing.T) {
	img, truth, err := synth.Draw(plainTray())
	if err != nil {
		t.Fatal(err)
	}
	from := cardBox(truth)
	below := from.Add(image.Pt(0, from.Dy()+40))
	if !below.In(img.Bounds()) {
		t.Fatalf("no room for a second card at %v", below)
	}
	draw.Draw(img, below, img, from.Min, draw.Src)
	_, err = findIn(t, img, truth)
	turnedAway(t, "two cards", err, "two cards", "leave one card in view")
}

func TestBothFacesInOnePhotoAreTwoCards(t *testing.T) {
	img, truth, err := synth.Draw(plainTray())
	if err != nil {
		t.Fatal(err)
	}
	other := plainTray()
	other.Face = card.Shoots
	second, secondTruth, err := synth.Draw(other)
	if err != nil {
		t.Fatal(err)
	}
	from := cardBox(secondTruth)
	to := image.Rectangle{Max: from.Size()}.Add(image.Pt(img.Rect.Dx()/2, img.Rect.Dy()*2/3))
	draw.Draw(img, to, second, from.Min, draw.Src)
	_, err = findIn(t, img, truth)
	turnedAway(t, "both faces", err, "two cards", "leave one card in view")
}

func TestAPhotoWithoutATagHasNoTags(t *testing.T) {
	s := plainTray()
	s.Number = 0
	p, _ := testphoto.Drawn(t, s, 1)
	found, err := FindCard(p, CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Tags) != 0 {
		t.Errorf("tags %v", found.Tags)
	}
}

// A corner that is folded up shows its marker narrower than the others say it should be: a third of its width is gone.
func TestAFoldedCardIsRefused(t *testing.T) {
	img, truth, err := synth.Draw(plainTray())
	if err != nil {
		t.Fatal(err)
	}
	from := testphoto.MarkerBox(truth.Markers[1])
	marker := imaging.Crop(img, from)
	narrow := imaging.Resize(marker, from.Dx()*2/3, from.Dy(), imaging.Box)
	draw.Draw(img, from, image.NewUniform(img.At(from.Min.X, from.Min.Y)), image.Point{}, draw.Src)
	draw.Draw(img, narrow.Rect.Add(from.Min), narrow, image.Point{}, draw.Src)
	_, err = findIn(t, img, truth)
	turnedAway(t, "folded card", err, "card bent", "something stiff")
}

// 100 mm of the printed ruler measure 98: everything on the plane is that much smaller.
func TestTheRulersLengthScalesThePlane(t *testing.T) {
	p, truth := testphoto.Drawn(t, plainTray(), 1)
	for _, rule := range []float64{0, 98, 103} {
		s, err := FindCard(p, CardOptions{RuleMM: rule})
		if err != nil {
			t.Fatal(err)
		}
		a, b := s.Plane.ToMM(raster.Px{X: truth.Markers[0][0][0], Y: truth.Markers[0][0][1]}), s.Plane.ToMM(raster.Px{X: truth.Markers[1][1][0], Y: truth.Markers[1][1][1]})
		if rule == 0 {
			rule = 100
		}
		relative(t, "outer width of the upper markers", math.Hypot(b.X-a.X, b.Y-a.Y), 138*rule/100, 0.001) // from x = 6 to 144 mm
	}
}
