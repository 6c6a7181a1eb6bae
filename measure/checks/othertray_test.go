package checks_test

import (
	"strings"
	"testing"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// The tray in the photo has three rows of four plugs 50 mm apart. Where the plan says otherwise, the photo names what to check.
func TestAPlanOfAnotherTrayIsNamed(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		for _, c := range []struct {
			what    string
			change  func(p *plan.TrayShape)
			verdict reading.Verdict
			words   []string
		}{
			{"the tray itself", func(*plan.TrayShape) {}, reading.VerdictGood, nil},
			{"two rows", func(p *plan.TrayShape) { p.Rows = 2 }, reading.VerdictDoubt, []string{"at least a row of plugs more than the 2 × 4", "check rows and first_plug_mm"}},
			{"three columns", func(p *plan.TrayShape) { p.Columns = 3 }, reading.VerdictDoubt, []string{"at least a column of plugs more", "check columns"}},
			{"without the first row", func(p *plan.TrayShape) { p.Rows, p.FirstV = 2, p.FirstV+50 }, reading.VerdictRetake, []string{"a row of plugs"}},
			{"plugs 38 mm apart", func(p *plan.TrayShape) { p.Rows, p.Columns, p.PitchMM, p.PlugBottomMM = 4, 5, 38, 25 }, reading.VerdictRetake, []string{"about 5", "38 mm", "check pitch_mm"}},
			{"plugs 72 mm apart", func(p *plan.TrayShape) { p.Rows, p.Columns, p.PitchMM, p.PlugBottomMM = 2, 3, 72, 48 }, reading.VerdictRetake, []string{"about 5", "72 mm"}},
			{"plugs 53 mm apart", func(p *plan.TrayShape) { p.PitchMM = 53 }, reading.VerdictRetake, []string{"the plan says 53 mm", "pitch_mm in trial.yaml"}},
		} {
			s := testtray.Small(face)
			p := testtray.Plan(s.Tray, 0)
			c.change(&p.Tray)
			r := measured(t, s, p, true)
			got := testtray.Concern(r, reading.OtherTray)
			if got.Kind == "" {
				got = testtray.Concern(r, reading.ScaleOff)
			}
			if r.Verdict() != c.verdict {
				t.Errorf("%v, plan of %s: %s %+v", face, c.what, r.Verdict(), r.Concerns)
			}
			for _, word := range c.words {
				if !strings.Contains(got.Sentence(), word) {
					t.Errorf("%v, plan of %s: %+v lacks %q", face, c.what, r.Concerns, word)
				}
			}
		}
	}
}

// Of a tray without its last row, or of one with plugs wider than the plan's, nothing is covered: the plan is wrong.
func TestCoveredPlugsThatThePlanMadeUp(t *testing.T) {
	for what, c := range map[string]struct {
		shape  func(t *synth.Tray)
		change func(p *plan.TrayShape)
		word   string
	}{
		"a row too many": {func(t *synth.Tray) { t.Rows, t.WidthMM = 2, t.WidthMM-50 }, func(p *plan.TrayShape) { p.Rows, p.WidthMM = 3, p.WidthMM+50 }, "check rows in trial.yaml"},
		"narrower plugs": {func(*synth.Tray) {}, func(p *plan.TrayShape) { p.PlugBottomMM = 24 }, "check plug_bottom_mm"},
	} {
		s := testtray.Small(card.Roots)
		c.shape(&s.Tray)
		for name := range s.Plants {
			if name[0] == 'C' && s.Tray.Rows < 3 {
				delete(s.Plants, name)
			}
		}
		p := testtray.Plan(s.Tray, 0)
		c.change(&p.Tray)
		r := measured(t, s, p, true)
		if got := testtray.Concern(r, reading.SomethingOnTheTray); !strings.Contains(got.Remedy, c.word) {
			t.Errorf("%s: %s %+v lacks %q", what, r.Verdict(), r.Concerns, c.word)
		}
	}
}
