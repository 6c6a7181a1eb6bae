package compare

import (
	"math"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/logbook"
	"traygauge/measure/reading"
)

// Of 8, 9, 9.5, 10, 10, 10.5, 11, 12 and 30 mm² the last stands out; so does a plant with no root at all. Both still count.
func TestPlugsThatStandOut(t *testing.T) {
	r := Of(twoTreatments(1, 1), []reading.Reading{roots(1, 14, 8, 9, 9.5, 10, 10.5, 11, 12, 10, 30, 0), roots(2, 14, 8, 9, 9.5, 10, 10.5, 11, 12, 10)}, nil, Options{})
	if len(r.Outliers) != 2 || r.Outliers[0].Plug != "A10" || r.Outliers[1].Plug != "A9" || r.Outliers[1].Words != "Plug A9 of tray 1 has 30.0 mm² of root area; the median of the tray is 10.0 mm²" {
		t.Errorf("%+v", r.Outliers)
	}
	if c := find(r, outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14); c.ControlPlugs != 10 {
		t.Errorf("a plug that stands out was dropped: %+v", c)
	}
}

// Tray 4 fell over: the answer is given with it, and again without.
func TestAnswerWithoutAnAccident(t *testing.T) {
	p := threeOnWater(2)
	p.ReviewDays = []int{14}
	photos := []reading.Reading{roots(1, 14, 9.9, 10.1), roots(2, 14, 11.9, 12.1), roots(3, 14, 39, 41), roots(4, 14, 4, 4.1), roots(5, 14, 11, 11.2), roots(6, 14, 12, 12.2)}
	log := []logbook.Entry{{When: sown.AddDate(0, 0, 3), Tray: 4, What: "note", Note: "fell over"}}
	r := Of(p, photos, log, Options{})
	// Of trays 3 and 4 one stands out, and which one is not known from the figures: the answer is given without either.
	if len(r.Without) != 2 || r.Without[0].Tray != 4 || r.Without[0].What != outcome.Accident || len(r.Without[0].Lines) != 1 || r.Without[1].Tray != 3 || r.Without[1].What != outcome.OutlyingOne {
		t.Fatalf("%+v", r.Without)
	}
	if w := r.Without[0]; w.Lines[0].Verdict != outcome.More || r.Answer.Lines[0].Verdict != outcome.Unclear || !strings.HasPrefix(w.Words, "Without tray 4: feed against water only more, 3.7") {
		t.Errorf("with: %+v, without: %+v", r.Answer.Lines[0], w)
	}
	fed := []logbook.Entry{{When: log[0].When, Tray: 4, What: logbook.Feeding, AmountML: math.NaN(), WaterML: math.NaN(), Note: "half was spilled"}}
	if w := Of(p, photos, fed, Options{}).Without; len(w) == 0 || w[0].Tray != 4 || w[0].What != outcome.OddFeeding || w[0].Words != r.Without[0].Words {
		t.Errorf("a note with its feeding: %+v", w)
	}
	photos[3] = roots(4, 14, 38, 42)
	// Without photos of the tray it has no part in the answer, and nothing is said of an answer without it.
	unseen := slices.DeleteFunc(slices.Clone(photos), func(r reading.Reading) bool { return r.Tray == 4 })
	if again := Of(p, unseen, log, Options{}); slices.ContainsFunc(again.Without, func(w outcome.Without) bool { return w.Tray == 4 }) {
		t.Errorf("%+v", again.Without)
	}
	if again := Of(p, photos, nil, Options{}); len(again.Without) != 0 {
		t.Errorf("%+v", again.Without)
	}
}
