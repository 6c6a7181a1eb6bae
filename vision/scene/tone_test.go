package scene

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// tonedScene is a photo of an empty tray by a phone.
func tonedScene(t *testing.T, change func(s *synth.Spec)) *Scene {
	t.Helper()
	spec := synth.Small(card.Roots)
	spec.Plants = map[string]synth.Plant{}
	change(&spec)
	p, _ := testphoto.Drawn(t, spec, 1)
	t.Cleanup(p.Close)
	s, err := FindCard(p, CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Whatever the phone's curve, exposure and lamp, the card's greys have the light that they were printed with: 0.035 + 0.965 times the
// linear value of their code.
func TestGreysAreStraightened(t *testing.T) {
	for name, change := range map[string]func(s *synth.Spec){
		"as the sensor sees": func(s *synth.Spec) {},
		"tone curve":         func(s *synth.Spec) { s.Phone = synth.Phone{Contrast: 0.8, Lift: 6} },
		"local tone mapping": func(s *synth.Spec) { s.Phone.LocalTone = 0.5 },
		"dark and warm":      func(s *synth.Spec) { s.Light.Level, s.Light.Gains = 0.4, [3]float64{1, 0.85, 0.6} },
		"overexposed":        func(s *synth.Spec) { s.Light.Level = 1.3 },
	} {
		s := tonedScene(t, change)
		if !s.tone.straight {
			t.Errorf("%s: the greys were not read", name)
			continue
		}
		for i, patch := range card.ToneStrip() {
			if i == 0 { // paper
				continue
			}
			want := 0.035 + 0.965*raster.ToLinear(float64(patch.SRGB[0])/255)
			var got [3][]float64
			r := patch.Rect.Inset(inset)
			for j := range 24 {
				for i := range 24 {
					q := s.nominalPx(card.Pt{X: r.Min.X + (r.Max.X-r.Min.X)*(float64(i)+0.5)/24, Y: r.Min.Y + (r.Max.Y-r.Min.Y)*(float64(j)+0.5)/24})
					at := s.Photo.At(int(q.X+0.5), int(q.Y+0.5))
					for k := range got {
						got[k] = append(got[k], float64(s.tone.light[k][s.Photo.BGR[at+k]]))
					}
				}
			}
			for k := range got {
				if m := raster.Median(got[k]); math.Abs(m/want-1) > 0.08 {
					t.Errorf("%s: grey %d has a light of %.3f in channel %d, printed %.3f", name, patch.SRGB[0], m, k, want)
				}
			}
		}
	}
}

// A camera without a curve of its own is left as it is: the light of a code is its linear value over paper's, within what noise makes of
// it and, in the dark, what is not known of printed black (these cards' has 0.041 of paper's light).
func TestNoCurveIsLeftAlone(t *testing.T) {
	s := tonedScene(t, func(s *synth.Spec) {})
	for code := 60; code < 240; code += 20 {
		want := raster.LinearOf[code] / s.Light.White[1]
		most := 0.06
		if code < 90 {
			most = 0.16
		}
		if got := s.tone.light[1][code]; math.Abs(float64(got/want)-1) > most {
			t.Errorf("code %d has a light of %.3f, %.3f without a curve", code, got, want)
		}
	}
}

// Where the greys are out of order, paper alone is gone by, and that is said.
func TestGreysOutOfOrder(t *testing.T) {
	var seen [6]raster.RGB
	for i := range seen {
		v := float32(i+1) / 10
		seen[i] = raster.RGB{v, v, v}
	}
	var c toneCurve
	if !c.fill(0, seen, 2) {
		t.Error("greys in order were refused")
	}
	seen[2], seen[3] = seen[3], seen[2]
	if c.fill(0, seen, 2) {
		t.Error("greys out of order were taken")
	}
	seen[3] = seen[2]
	if c.fill(0, seen, 2) {
		t.Error("two greys alike were taken")
	}
}

// Haze adds the same light everywhere: what sends back r of paper's light is seen as (0.8 r + v) / (0.8 + v). Taken away again, things darker than the
// card's black are as dark as they were, but for the 0.006 by which these cards' black (0.041) is lighter than is assumed.
func TestHazeIsTakenAway(t *testing.T) {
	paper := 0.0
	for _, haze := range []float64{0, 0.05, 0.1, 0.2} {
		p, _ := testphoto.Drawn(t, testphoto.FewPlants(card.Roots), 1)
		hazy := func(light float64) uint8 { return uint8(255*raster.FromLinear(min(1, 0.8*light+haze)) + 0.5) }
		for i, code := range p.BGR {
			p.BGR[i] = hazy(float64(raster.LinearOf[code]))
		}
		s, err := FindCard(p, CardOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if haze == 0 {
			paper = s.Light.Level / 0.8
		}
		for _, r := range []float64{0.012, 0.02, 0.1, 0.4} {
			if got := float64(s.tone.light[1][hazy(r*paper)]); math.Abs(got-r) > max(0.0085, 0.1*r) {
				t.Errorf("haze of %g: what sends back %g of paper's light has %.3f", haze, r, got)
			}
		}
		p.Close()
	}
}
