package checks

import (
	"math"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// sceneOf is a good photo's: a colourful pixel, 6 px a mm, an edge with MTF50 of 0.3 cycles a pixel.
func sceneOf(change func(*vision.Scene)) *vision.Scene {
	s := &vision.Scene{
		Photo: &vision.Photo{Width: 1, Height: 1, BGR: []byte{40, 160, 90}},
		Face:  card.Roots,
		Plane: vision.Plane{TiltDeg: 4, ResidualMM: 0.05},
		Light: vision.Light{Level: 0.6},
		Edge:  vision.Sharpness{MTF50: 0.3, MTF50PerMM: 1.8, LeastPerMM: 1.7},
	}
	change(s)
	return s
}

// Each thing that can be wrong with a photo is reported with what was measured, what would do, and what to do. The blur's figures: an
// edge of MTF50 f cycles a mm is that of a Gaussian of sigma 0.1874/f mm, and a line of width w keeps w/(sigma·sqrt(2 pi)) of its
// contrast: 0.2 mm at 0.5 cycles a mm keeps 0.2/(0.3748·2.5066) = 21 %, at 0.8 it is 34 %; 0.5 mm at 0.2 keeps 21 %. What counts is the
// direction that is blurred more, as a moved hand leaves it.
func TestWhatIsWrongWithAPhoto(t *testing.T) {
	for _, c := range []struct {
		what    string
		change  func(*vision.Scene)
		pxPerMM float64
		kind    reading.Kind
		fatal   bool
		words   []string
		remedy  string
	}{
		{"nothing", func(*vision.Scene) {}, 6, "", false, nil, ""},
		{"blurred roots", func(s *vision.Scene) { s.Edge.LeastPerMM = 0.5 }, 6, "blurred", true, []string{"0.2 mm", "21 %", "32 %"}, "focus"},
		{"a little", func(s *vision.Scene) { s.Edge.LeastPerMM = 0.8 }, 6, "a little blurred", false, []string{"0.2 mm", "34 %"}, "focus"},
		{"leaves need less", func(s *vision.Scene) { s.Face, s.Edge.LeastPerMM = card.Shoots, 0.5 }, 6, "", false, nil, ""},
		{"blurred leaves", func(s *vision.Scene) { s.Face, s.Edge.LeastPerMM = card.Shoots, 0.2 }, 6, "blurred", true, []string{"0.5 mm", "21 %"}, "focus"},
		{"no edge", func(s *vision.Scene) { s.Edge.LeastPerMM = math.NaN() }, 6, "sharpness unknown", false, []string{"black square"}, "glare"},
		{"tilted", func(s *vision.Scene) { s.Plane.TiltDeg = 31.4 }, 6, "tilted", false, []string{"31°", "25°"}, "level"},
		{"far away", func(*vision.Scene) {}, 2.44, "too far away", false, []string{"2.4", "at least 3"}, "closer"},
		{"too far away for anything", func(*vision.Scene) {}, 1.9, "too far away", true, []string{"1.9", "at least 3"}, "take it again"},
		{"leaves far away", func(s *vision.Scene) { s.Face = card.Shoots }, 2.44, "", false, nil, ""},
		{"leaves too far away", func(s *vision.Scene) { s.Face = card.Shoots }, 1.2, "too far away", false, []string{"1.2", "at least 1.5"}, "closer"},
		{"compressed by a messenger", func(s *vision.Scene) { s.Photo.Quality = 45 }, 6, "compressed", false, []string{"45", "70"}, "cable"},
		{"a camera's own quality", func(s *vision.Scene) { s.Photo.Quality = 85 }, 6, "", false, nil, ""},
		{"overexposed", func(s *vision.Scene) { s.Light.ClippedShare = 0.123 }, 6, "too bright", false, []string{"12 %", "5 %"}, "lamp"},
		{"dark", func(s *vision.Scene) { s.Light.Level = 0.031 }, 6, "too dark", false, []string{"3 %", "8 %"}, "light"},
		{"bent", func(s *vision.Scene) { s.Plane.ResidualMM = 0.512 }, 6, "card not flat", false, []string{"0.51 mm", "0.35 mm"}, "flat"},
		{"black and white", func(s *vision.Scene) { s.Photo.BGR = []byte{99, 100, 101} }, 6, "no colours", true, []string{"black and white"}, "filter"},
	} {
		got := Judge(sceneOf(c.change), c.pxPerMM)
		if c.kind == "" {
			if len(got) > 0 {
				t.Errorf("%s: %+v", c.what, got)
			}
			continue
		}
		if len(got) != 1 || got[0].Kind != c.kind || got[0].Fatal != c.fatal || !strings.Contains(got[0].Remedy, c.remedy) {
			t.Errorf("%s: %+v, want %q", c.what, got, c.kind)
			continue
		}
		for _, word := range c.words {
			if !strings.Contains(got[0].Words, word) {
				t.Errorf("%s: %q lacks %q", c.what, got[0].Words, word)
			}
		}
	}
}
