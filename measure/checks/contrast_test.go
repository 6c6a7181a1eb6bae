package checks_test

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// An editor's clarity adds a share of the difference to what lies around, over 7 mm: the markers' narrow black, between white paper, gets darker than the
// strip's wide black, by which the camera's curve is undone. A phone's own local tone mapping, which brings them together a little, leaves the figures alone.
func TestContrastChangedFromPlaceToPlaceIsDoubted(t *testing.T) {
	for _, c := range []struct {
		what    string
		clarity float64
		phone   synth.Phone
		doubted bool
	}{
		{"clarity of 0.6", 0.6, synth.Phone{}, true},
		{"clarity of 0.2", 0.2, synth.Phone{}, true},
		{"nothing", 0, synth.Phone{}, false},
		{"a phone's local tone mapping", 0, synth.Phone{LocalTone: 0.6}, false},
		{"a phone's tone curve", 0, synth.Phone{Contrast: 0.6, Lift: 3}, false},
	} {
		s := testtray.Small(card.Roots)
		s.Phone = c.phone
		r := edited(t, s, 92, func(img *image.NRGBA) image.Image {
			around := imaging.Resize(imaging.Blur(imaging.Resize(img, img.Bounds().Dx()/4, 0, imaging.Box), 6), img.Bounds().Dx(), img.Bounds().Dy(), imaging.Linear)
			return testtray.AwayFrom(img, around, c.clarity)
		})
		if got := testtray.Concern(r, reading.ContrastChanged); (got.Kind != "") != c.doubted || !c.doubted && r.Verdict() != reading.VerdictGood {
			t.Errorf("%s: %s %+v", c.what, r.Verdict(), r.Concerns)
		}
	}
}

// A curve that bends more and more along the photo, from l^0.9 to l^1.1 of light l over the card, makes the black of 0.035 at its ends 0.035^−0.15 =
// 1.65 times as light at the markers of one side as at those of the other. A filter that takes 0.04 off all light leaves of black next to nothing.
func TestContrastThatTheGreysCannotUndoIsDoubted(t *testing.T) {
	for what, change := range map[string]func(l, x, y float64) float64{
		"a curve of its own in each part": func(l, x, _ float64) float64 { return math.Pow(l, 0.9+0.2*x/card.Width) },
		"the dark cut off":                func(l, _, _ float64) float64 { return max(0.0005, l-0.04) },
	} {
		r := underLight(t, testtray.Small(card.Roots), change)
		if r.Verdict() == reading.VerdictGood || testtray.Concern(r, reading.ContrastChanged).Kind == "" {
			t.Errorf("%s: %s %+v", what, r.Verdict(), r.Concerns)
		}
	}
}

// Ink a tenth lighter at one marker and a tenth darker at another, a sheen on black that grows to 0.02 of paper's light along the card, light in the lens of 0.01,
// paper grain of 2 % and a lens that darkens the corners by a fifth leave the figures alone. Black of 0.035 becomes up to 0.035·1.1 + 0.002 + 0.01 = 0.051 on the
// left and 0.035 + 0.018 + 0.01 = 0.063 on the right: 1.3 times. The strip's, 0.015 of sheen and 0.01 of the lens's light over print, looks like a haze of 0.025, of which
// the tray has 0.01.
func TestUnevenInkAndSheenLeaveAPhotoGood(t *testing.T) {
	const paper = 0.8 // of full light, as drawn
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		plain := underLight(t, testtray.Small(face), func(l, _, _ float64) float64 { return 0.8 * l })
		r := rand.New(rand.NewPCG(3, 4))
		printed := underLight(t, testtray.Small(face), func(l, x, y float64) float64 {
			if x > 0 && x < card.Width && y > 0 && y < card.Height {
				ink := math.Max(0, 1-l/paper)
				l *= 1 + 0.02*r.NormFloat64()
				l *= 1 + math.Pow(ink, 4)*inkAt(x, y)
				l += paper * ink * ink * 0.02 * x / card.Width
			}
			far := math.Hypot(x-card.Width/2, y-card.Height) / 250
			return 0.8 * (1 - 0.2*far*far) * (l + paper*0.01)
		})
		if plain.Verdict() != reading.VerdictGood || printed.Verdict() != reading.VerdictGood {
			t.Errorf("%v: %+v, %+v", face, plain.Concerns, printed.Concerns)
		}
		var was, is float64
		for i, p := range plain.Plugs {
			q := printed.Plugs[i]
			if face == card.Roots {
				was, is = was+float64(p.RootAreaMM2), is+float64(q.RootAreaMM2)
			} else {
				was, is = was+float64(p.LeafAreaMM2), is+float64(q.LeafAreaMM2)
			}
		}
		if !(math.Abs(is/was-1) < 0.03) {
			t.Errorf("%v: %.0f mm² instead of %.0f", face, is, was)
		}
	}
}

// inkAt is how much lighter or darker than usual ink is at a place on the card: a tenth at the two upper markers.
func inkAt(x, y float64) float64 {
	switch {
	case y > 30:
		return 0
	case x < 30:
		return 0.1
	case x > 120:
		return -0.1
	}
	return 0
}

// An equalisation in tiles bends the curve in each as the tray or the card in it asks, so that one side of a marker's frame comes out lighter than another.
func TestContrastEqualisedInTilesIsDoubted(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, limit := range []float64{1.5, 3} {
			s := testtray.Small(face)
			r := edited(t, s, 92, func(img *image.NRGBA) image.Image { return testtray.Equalised(img, limit) })
			if testtray.Concern(r, reading.ContrastChanged).Kind == "" {
				t.Errorf("%v by %v: %s %+v", face, limit, r.Verdict(), r.Concerns)
			}
		}
	}
}
