// Package testtray provides drawn photos of trays, with their plans, for the tests in measure.
//
//	in    what vision/synth is to draw
//	out   a photo's bytes as a phone would write them, the truth, a plan
//
// It must not depend on what is measured, so that all tests can use it.
package testtray

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Plan is the shortest plan of a trial with such trays.
func Plan(t synth.Tray, leafHeightMM float64) *plan.Plan {
	return &plan.Plan{
		Sown: time.Date(2025, 3, 10, 0, 0, 0, 0, time.UTC), Zone: time.UTC,
		Tray: plan.TrayShape{Rows: t.Rows, Columns: t.Columns, LengthMM: t.LengthMM, WidthMM: t.WidthMM, PitchMM: t.PitchMM,
			FirstU: t.FirstU, FirstV: t.FirstV, PlugBottomMM: t.PlugBottomMM, LeafHeightMM: leafHeightMM},
		Card:   plan.Card{RuleMM: 100, RuleU: 0.5},
		Limits: plan.Limits{ChlorosisHueDeg: 105, ChlorosisChroma: 15},
	}
}

// WholePlan is the plan of the template, sown on 2 March 2026: trays 1 to 10, reviewed on days 7, 14 and 21.
func WholePlan(t testing.TB) *plan.Plan {
	t.Helper()
	p, _, err := plan.Parse(plan.Template("Kale", time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)), plan.FileName)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Small is a quick photo of a small tray with a plant in every cell.
func Small(face card.Face) synth.Spec {
	s := synth.Small(face)
	s.Resize(1100, 1268)
	s.Light.BlurPX = 0.5 // few pixels for a mm: they must be sharp ones
	s.Plants = map[string]synth.Plant{}
	for _, cell := range s.Tray.Cells() {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 300, LeafLengthMM: 14}
	}
	return s
}

// Box is a thing from (u0, v0) to (u1, v1) of the tray.
func Box(u0, v0, u1, v1 float64, colour [3]uint8) synth.Thing {
	return synth.Thing{Loop: []card.Pt{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}}, SRGB: colour}
}

// JPEG draws a scene and writes it as a phone would.
func JPEG(t testing.TB, spec synth.Spec, namesFocal bool) (raw []byte, truth synth.Truth) {
	t.Helper()
	img, truth, err := synth.Draw(spec)
	if err != nil {
		t.Fatal(err)
	}
	e := synth.EXIF{Orientation: 1}
	if namesFocal {
		e.Focal35 = int(spec.Camera.Focal35)
	}
	file := filepath.Join(t.TempDir(), "p.jpg")
	if err := synth.WriteJPEG(file, img, spec.JPEGQuality, e); err != nil {
		t.Fatal(err)
	}
	if raw, err = os.ReadFile(file); err != nil {
		t.Fatal(err)
	}
	return raw, truth
}

// Kinds lists the kinds of a reading's concerns.
func Kinds(r reading.Reading) (kinds []reading.Kind) {
	for _, c := range r.Concerns {
		kinds = append(kinds, c.Kind)
	}
	return kinds
}

// Concern returns a reading's concern of a kind; without words where it has none.
func Concern(r reading.Reading, kind reading.Kind) reading.Concern {
	for _, c := range r.Concerns {
		if c.Kind == kind {
			return c
		}
	}
	return reading.Concern{}
}
