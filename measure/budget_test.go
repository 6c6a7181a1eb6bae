package measure

import (
	"math"
	"slices"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Parts of 3 and 4 make a standard uncertainty of 5, and with k = 2 an expanded one of 10 (JCGM 100:2008, 5.1.2 eq. 10).
func TestExpandedAddsSquares(t *testing.T) {
	b := reading.Budget{{Name: partScale, U: 3}, {Name: partLens, U: 4}}
	if got := b.Expanded(); math.Abs(got-10) > 1e-12 {
		t.Errorf("expanded to %g, want 10", got)
	}
	if got := b.Mostly(); got != partLens {
		t.Errorf("mostly %q, want the lens", got)
	}
}

// What a reading keeps of a budget makes the error bar that it states, to a hundredth.
func TestAReadingsBudgetsMakeItsErrorBars(t *testing.T) {
	g := reading.EmptyPlug("A1")
	u := expanded(&g, "leaf_area_mm2", reading.Budget{{Name: "height", U: 12.3456}, {Name: partScale, U: 1.2345}, {Name: "card’s corners", U: 0.004}})
	kept := g.Budgets["leaf_area_mm2"]
	if r := kept.Expanded() / float64(u); math.Abs(r-1) > 0.01 {
		t.Errorf("kept %+v makes %g of the error bar %g", kept, r, u)
	}
	if len(kept) != 2 {
		t.Errorf("kept %+v: what adds nothing is not kept", kept)
	}
}

// Over two plugs with the shares 9 : 1 and 1 : 4 the scale's sum is 0.9 + 0.2, the lens's 0.1 + 0.8.
func TestMostlyOverPlugs(t *testing.T) {
	plugs := []reading.Plug{{Budgets: map[string]reading.Budget{"leaf_area_mm2": {{Name: partScale, U: 3}, {Name: partLens, U: 1}}}},
		{Budgets: map[string]reading.Budget{"leaf_area_mm2": {{Name: partScale, U: 1}, {Name: partLens, U: 2}}}}, {}}
	part := Mostly(plugs, "leaf_area_mm2")
	if part != partScale {
		t.Errorf("mostly %q, want the printed scale", part)
	}
	if Advice(part) != "measure the ruler of your printed card" {
		t.Errorf("advice %q", Advice(part))
	}
	if Mostly(plugs, "root_area_mm2") != "" {
		t.Error("a value without budgets is mostly something")
	}
}

// A hue's error bar holds what a white balance off by its standard uncertainty does to it. Worked apart from the program by the formulas of
// CIE 15:2004 for a mid green of linear sRGB (0.09, 0.20, 0.05), h_ab = 131.71°: 1.5 % more red moves it by -0.316°, 1.5 % more blue by
// +0.178°, so with 1.0° for telling the colour U = 2·√(0.316² + 0.178² + 1²) = 2.13°.
func TestAHuesErrorBarIncludesTheWhiteBalance(t *testing.T) {
	own := raster.LabOf(raster.RGB{0.09, 0.20, 0.05})
	if got := hueBudget(own).Expanded(); math.Abs(got-2.13) > 0.02 {
		t.Errorf("U of a green's hue %.2f°, want 2.13°", got)
	}
	// Its index is 0.5573 (Karcher & Richardson 2003); the same two changes move it by -0.00339 and +0.00302: U = 2·√(… + 0.01²) = 0.0220.
	if got := darkGreenBudget(own).Expanded(); math.Abs(got-0.0220) > 0.0003 {
		t.Errorf("U of its dark-green index %.4f, want 0.0220", got)
	}
}

// A plug of 7.54 mm² whose parts make ± 15.75 mm² is stated as ± 7.54: no area is below 0. A wide enough value keeps its parts.
func TestAnErrorBarNeverReachesBelowZero(t *testing.T) {
	b := reading.Budget{{Name: partTelling, U: 6.3}, {Name: partScale, U: 4.725}} // 2·√(6.3² + 4.725²) = 15.75
	if got := b.AtMost(7.54).Expanded(); math.Abs(got-7.54) > 1e-9 {
		t.Errorf("± %g, want 7.54", got)
	}
	if got := b.AtMost(7.54).Mostly(); got != partTelling {
		t.Errorf("mostly %q afterwards", got)
	}
	if got := b.AtMost(16).Expanded(); math.Abs(got-15.75) > 1e-9 {
		t.Errorf("± %g, want 15.75", got)
	}
}

// A leaf's colour is clear where it is far from yellow's limit: on plants that are yellow all over (drawn, with known truth) the error bar holds the truth and is no more
// than 12 points, and on green ones no more than 2. With the limit laid at the green leaves' own hue no one could say which are yellow, and the error bar says so.
func TestYellowsErrorBarIsSmallWhereTheColourIsClear(t *testing.T) {
	for _, c := range []struct {
		what        string
		yellow      float64
		limitDeg    float64
		least, most float64 // of U, points: the median over the plants
	}{
		{"yellow all over", 1, 105, 0, 12},
		{"green", 0, 105, 0, 2},
		{"at the limit", 0, 127, 4, 100},
	} {
		s := testtray.Small(card.Shoots)
		for name, p := range s.Plants {
			p.Yellow, p.LeafLengthMM = c.yellow, 20
			s.Plants[name] = p
		}
		p := testtray.Plan(s.Tray, 0)
		p.Limits.ChlorosisHueDeg = c.limitDeg
		r, truth := measured(t, s, p, true)
		var us []float64
		for _, g := range r.Plugs {
			u, want := float64(g.ChlorUPct), 100*truth.Cells[g.Name].Chlorotic/truth.Cells[g.Name].Leaf
			if us = append(us, u); c.limitDeg == 105 && !(math.Abs(float64(g.ChloroticPct)-want) <= u) {
				t.Errorf("%s, %s: %.1f ± %.1f %%, truth %.1f %%", c.what, g.Name, g.ChloroticPct, u, want)
			}
		}
		slices.Sort(us)
		if u := us[len(us)/2]; u < c.least || u > c.most {
			t.Errorf("%s: ± %.1f points, want %g to %g", c.what, u, c.least, c.most)
		}
	}
}
