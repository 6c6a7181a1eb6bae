package tray

import (
	"errors"
	"math"
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// gridScene is a photo of a small tray with plants in every other cell, and the tray.
func gridScene(t *testing.T, face card.Face) (*scene.Scene, Layout) {
	t.Helper()
	s, err := scene.FindCard(testphoto.EveryOtherCell(t, face), scene.CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	d := synth.Tray12
	return s, Layout{Rows: d.Rows, Columns: d.Columns, LengthMM: d.LengthMM, WidthMM: d.WidthMM, PitchMM: d.PitchMM,
		FirstU: d.FirstU, FirstV: d.FirstV, PlugMM: d.PlugBottomMM}
}

// A grid that was laid somewhere is found again from its corners, turned ones and those of both faces too.
func TestGivenGridFindsTheGridItsCornersAreOf(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s, tray := gridScene(t, face)
		for _, want := range []Grid{{}, {U: 3.5, V: -2, Turn: 0.01}, {U: 50, V: 0}, {U: -4, V: 6, Turn: math.Pi}, {U: 7, V: 80, Turn: -0.4}} {
			got, err := GivenGrid(s, tray, GridCorners(s, tray, want))
			if err != nil {
				t.Errorf("%v: %v", face, err)
				continue
			}
			// corners go to the photo's pixels and back, which costs nothing but rounding
			if d := math.Abs(math.Remainder(got.Turn-want.Turn, 2*math.Pi)); d > 1e-6 || math.Abs(got.U-want.U) > 1e-3 || math.Abs(got.V-want.V) > 1e-3 || !got.Fitted {
				t.Errorf("%v: %+v, want %+v", face, got, want)
			}
		}
		corners := GridCorners(s, tray, Grid{})
		// 2 px at some 3 px/mm: a hand that is less than a mm off must not matter
		shaky := corners
		shaky[0].X, shaky[1].Y, shaky[2].X = shaky[0].X+2, shaky[1].Y-2, shaky[2].X-2
		if got, err := GivenGrid(s, tray, shaky); err != nil || math.Hypot(got.U, got.V) > 1 {
			t.Errorf("%v: a shaky hand: %+v, %v", face, got, err)
		}
		neighbour := corners
		neighbour[1] = GridCorners(s, tray, Grid{U: -tray.PitchMM})[1]
		for what, q := range map[string][4]raster.Px{
			"another way round":              {corners[0], corners[3], corners[2], corners[1]},
			"from the second corner on":      {corners[1], corners[2], corners[3], corners[0]},
			"crosswise":                      {corners[0], corners[2], corners[1], corners[3]},
			"all in one point":               {},
			"one on the neighbouring plug's": neighbour,
			"not a number":                   {{X: math.NaN(), Y: 0}},
		} {
			_, err := GivenGrid(s, tray, q)
			var r *photo.Refusal
			if !errors.As(err, &r) || r.Kind != "grid does not fit" || !strings.Contains(r.Remedy, "3 × 4") {
				t.Errorf("%v: corners %s: %v", face, what, err)
			}
		}
	}
}
