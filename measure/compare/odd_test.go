package compare

import (
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// oddTrial is two treatments with so many trays each on days 7 and 14, whose plugs' root areas are as size says, known to 5 %, leaves nine times
// as large, known to 4 %.
func oddTrial(water, feed int, size func(tray, day, plug int) float64) (*plan.Plan, []reading.Reading) {
	p := twoTreatments(water, feed)
	p.ReviewDays = []int{14, 7} // out of order
	var photos []reading.Reading
	for _, tray := range p.Trays {
		for _, day := range p.ReviewDays {
			var areas, leafAreas []float64
			for i := range 10 {
				areas, leafAreas = append(areas, size(tray.Number, day, i)), append(leafAreas, 9*size(tray.Number, day, i))
			}
			below, above := roots(tray.Number, day, areas...), leaves(tray.Number, day, leafAreas...)
			for i := range areas {
				below.Plugs[i].RootAreaUMM2, above.Plugs[i].LeafAreaUMM2 = below.Plugs[i].RootAreaMM2/20, above.Plugs[i].LeafAreaMM2/25
				above.Plugs[i].ChloroticPct, above.Plugs[i].LeafHueDeg, above.Plugs[i].DGCI = reading.Number(1+0.1*float64(tray.Number)), 120.7, 0.555
			}
			photos = append(photos, below, above)
		}
	}
	return p, photos
}

// growingPlugs differ from tray to tray and plug to plug.
func growingPlugs(tray, day, plug int) float64 {
	return float64(day) * (1 + 0.05*float64(tray) + 0.03*float64((plug*7+tray*3)%10))
}

// Trials as no one plans them give no absurd figure: nothing beyond 100,000, no difference that is the rounding of sums, and no claim about
// amounts too small to measure.
func TestOddTrialsGiveNoAbsurdFigures(t *testing.T) {
	number := regexp.MustCompile(`-?\d+(\.\d+)?([eE][-+]?\d+)?`)
	for name, c := range map[string]struct {
		water, feed int
		size        func(tray, day, plug int) float64
	}{
		"all equal":              {3, 3, func(int, int, int) float64 { return 20 }},
		"all zero":               {3, 3, func(int, int, int) float64 { return 0 }},
		"next to nothing":        {3, 3, func(tray, day, plug int) float64 { return 1e-9 * growingPlugs(tray, day, plug) }},
		"one tray each":          {1, 1, growingPlugs},
		"one tray":               {0, 1, growingPlugs},
		"no tray of the control": {0, 3, growingPlugs},
		"below nothing":          {2, 2, func(tray, day, plug int) float64 { return -growingPlugs(tray, day, plug) }},
		"a tray ten thousand times big": {3, 3, func(tray, day, plug int) float64 {
			if tray == 5 {
				return 1000 * growingPlugs(tray, day, plug)
			}
			return growingPlugs(tray, day, plug)
		}},
		"a dead tray of two": {2, 2, func(tray, day, plug int) float64 {
			if tray == 1 {
				return 0.001 * growingPlugs(tray, day, plug)
			}
			return growingPlugs(tray, day, plug)
		}},
		"trays of equal plugs": {2, 2, func(tray, day, plug int) float64 { return float64(day * tray) }},
	} {
		p, photos := oddTrial(c.water, c.feed, c.size)
		r := Of(p, photos, nil, Options{AllPairs: true})
		for _, c := range r.Comparisons {
			text, err := json.Marshal(c)
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range number.FindAllString(string(text), -1) {
				if v, err := strconv.ParseFloat(n, 64); err != nil || math.Abs(v) > 1e5 {
					t.Errorf("%s: %s of day %d has %s: %s", name, c.Quantity, c.Day, n, text)
				}
			}
			if v := math.Abs(float64(c.Estimate)); name != "next to nothing" && v != 0 && v < 1e-9 {
				t.Errorf("%s: %s of day %d differs by %g", name, c.Quantity, c.Day, v)
			}
			if name == "next to nothing" && c.Quantity != outcome.RootCover && (c.Verdict == outcome.More || c.Verdict == outcome.Less) {
				t.Errorf("%s: %s", name, c.Sentence)
			}
			if c.SaysNothing() && (c.Lower.Known() || c.Upper.Known() || !c.SpansEverything || strings.Contains(c.Interval(), "no interval")) {
				t.Errorf("%s: %s of day %d has ends of an interval that spans everything: %s", name, c.Quantity, c.Day, text)
			}
		}
	}
}

// A reason for a missing figure names the quantity.
func TestMissingFiguresNameTheirQuantity(t *testing.T) {
	p, photos := oddTrial(2, 2, growingPlugs)
	for i, r := range photos {
		for k := range r.Plugs {
			if r.Tray == 3 {
				photos[i].Plugs[k] = noPlug(r.Plugs[k].Name, reading.Empty)
			}
		}
	}
	c := find(Of(p, photos, nil, Options{}), outcome.AgainstControl, outcome.RootArea, "feed", "water only", 14)
	if !slices.Contains(c.Limits, "tray 3 shows no root area that can be measured") {
		t.Errorf("%q", c.Limits)
	}
}
