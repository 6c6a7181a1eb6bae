package checks_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision"
	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
)

// A dome with fog on it lies over the tray and not over the card. A tray's own dark places go down to a few hundredths of paper's light, however light
// its plastic; the card's black has 0.035.
func TestFogOverTheTrayIsSeen(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		r := underLight(t, testtray.Small(face), func(l, _, y float64) float64 {
			if y > card.Height+1 {
				return 0.8*l + 0.2*0.5
			}
			return l
		})
		if r.Verdict() != reading.VerdictDoubt || testtray.Concern(r, reading.VeilOverTray).Kind == "" {
			t.Errorf("%v: %s %+v", face, r.Verdict(), r.Concerns)
		}
	}
	s := testtray.Small(card.Roots)
	s.TrayLight, s.MediumLight = 0.7, 2.2
	if r := measured(t, s, testtray.Plan(s.Tray, 0), true); testtray.Concern(r, reading.VeilOverTray).Kind != "" {
		t.Errorf("a light tray with a dry medium: %+v", r.Concerns)
	}
}

// A camera's noise goes with the root of light. What is drawn has a standard deviation of 0.08 of paper's light times that root: on the middle grey, which sends back
// 0.33, that is 0.045. The usual noise of a drawn photo is a tenth of it.
func TestNoiseIsDoubted(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	noisy := underLight(t, testtray.Small(card.Roots), func(l, _, _ float64) float64 {
		l *= 0.8
		return max(0, l+0.08*math.Sqrt(0.8*l)*r.NormFloat64())
	})
	if testtray.Concern(noisy, reading.Noisy).Kind == "" || noisy.Verdict() == reading.VerdictGood {
		t.Errorf("noisy: %s %+v", noisy.Verdict(), noisy.Concerns)
	}
	if usual := underLight(t, testtray.Small(card.Roots), func(l, _, _ float64) float64 { return l }); usual.Verdict() != reading.VerdictGood {
		t.Errorf("usual noise: %+v", usual.Concerns)
	}
}

// underLight draws a photo and changes its light: change gets what a pixel sends back and where it lies on the card, in mm; beyond 100 mm down is the tray.
func underLight(t *testing.T, s synth.Spec, change func(light, x, y float64) float64) reading.Reading {
	t.Helper()
	return underColours(t, s, func(_ int, light, x, y float64) float64 { return change(light, x, y) })
}

// underColours is underLight for red, green and blue apart, which are colours 0, 1 and 2.
func underColours(t *testing.T, s synth.Spec, change func(colour int, light, x, y float64) float64) reading.Reading {
	t.Helper()
	s.Camera.TiltDeg, s.Camera.RollDeg = 0, 0
	img, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := vision.Decode(asJPEG(t, img, 95))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	scene, err := vision.FindCard(p, vision.CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			at := scene.Plane.ToMM(vision.Px{X: float64(x), Y: float64(y)})
			for k := range 3 {
				c := &img.Pix[img.PixOffset(x, y)+k]
				light := change(k, float64(raster.LinearOf[*c]), at.X, at.Y)
				*c = uint8(255*raster.FromLinear(min(1, light)) + 0.5)
			}
		}
	}
	return measure.One(asJPEG(t, img, 95), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
}

func asJPEG(t *testing.T, img image.Image, quality int) []byte {
	t.Helper()
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return raw.Bytes()
}

// Light that falls on the card alone, or is kept from it, is seen by the card's paper and ink and by what a tray cannot be: darker than a veil over it, or
// lighter than paper. The same veil over all of the photo is haze, which the card's greys undo; the same shadow over all of it is less light.
func TestCardInALightOfItsOwn(t *testing.T) {
	onCard := func(y float64) bool { return y < card.Height-0.5 }
	veil := func(v float64) func(l, x, y float64) float64 {
		return func(l, _, y float64) float64 {
			if onCard(y) {
				return 0.8*l + v
			}
			return 0.8 * l
		}
	}
	shadow := func(share float64) func(l, x, y float64) float64 {
		return func(l, _, y float64) float64 {
			if onCard(y) {
				return l * (1 - share)
			}
			return l
		}
	}
	for _, c := range []struct {
		what    string
		change  func(light, x, y float64) float64
		verdict reading.Verdict
		face    card.Face
	}{
		{"a laminated card", veil(0.05), reading.VerdictDoubt, card.Roots},
		{"a laminated card under a lamp", veil(0.15), reading.VerdictRetake, card.Roots},
		{"a laminated card", veil(0.05), reading.VerdictDoubt, card.Shoots},
		{"haze", func(l, _, _ float64) float64 { return 0.8*l + 0.05 }, reading.VerdictGood, card.Roots},
		{"a camera that lifts the dark", func(l, _, _ float64) float64 { return math.Pow(l, 0.55) }, reading.VerdictGood, card.Roots},
		{"less light", func(l, _, _ float64) float64 { return 0.5 * l }, reading.VerdictGood, card.Roots},
		{"the card in the photographer's shadow", shadow(0.75), reading.VerdictRetake, card.Roots},
		{"a shadow's edge across the greys", func(l, x, y float64) float64 {
			if x > 75 {
				return 0.6 * l
			}
			return l
		}, reading.VerdictDoubt, card.Roots},
		{"a lamp's reflection on the dark greys", func(l, x, y float64) float64 {
			if x > 80 && x < 118 && y < 34 {
				return l*0.9 + 0.04
			}
			return l * 0.9
		}, reading.VerdictDoubt, card.Roots},
	} {
		s := testtray.Small(c.face)
		for name, p := range s.Plants {
			p.RootLengthMM = 900
			s.Plants[name] = p
		}
		r := underLight(t, s, c.change)
		if got := testtray.Concern(r, reading.LightOnCard); r.Verdict() != c.verdict || (got.Kind != "") != (c.verdict != reading.VerdictGood) {
			t.Errorf("%s, %v: %s %+v", c.what, c.face, r.Verdict(), r.Concerns)
		}
	}
}

// A tablet shows the card, half as light as the tag's paper beside it, or with a white that has 10 % more blue and less red.
func TestACardOnAScreenIsDoubted(t *testing.T) {
	for what, c := range map[string]struct {
		times   [3]float64
		verdict reading.Verdict
	}{
		"print":               {[3]float64{1, 1, 1}, reading.VerdictGood},
		"half as light":       {[3]float64{0.5, 0.5, 0.5}, reading.VerdictDoubt},
		"a bluer white":       {[3]float64{0.9, 1, 1.1}, reading.VerdictDoubt},
		"a little less light": {[3]float64{0.75, 0.75, 0.75}, reading.VerdictGood},
	} {
		s := testtray.Small(card.Shoots)
		s.Light.Level = 0.8
		r := underColours(t, s, func(colour int, light, x, y float64) float64 {
			if x < 0 || x > card.Width || y < 0 || y > card.Height-0.5 {
				return light
			}
			return c.times[colour] * light
		})
		if got := testtray.Concern(r, reading.LightOnCard); r.Verdict() != c.verdict || (got.Kind != "") != (c.verdict != reading.VerdictGood) {
			t.Errorf("%s: %s %+v", what, r.Verdict(), r.Concerns)
		}
	}
}
