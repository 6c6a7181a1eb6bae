package trayfigure

import (
	"math"
	"slices"

	"traygauge/measure/compare/arithmetic"
	"traygauge/measure/reading"
)

// MeasuringU returns the standard uncertainty of the mean over a tray's plugs from measuring, and the part of it that they have in
// common, NaN where the readings give no error bars. A plug's error bar is split into what all plugs of the photo may have in
// common, c of each value, and what is its own:
//
//	u² = (c² − p²)·mean² + Σ (uᵢ² − c²·xᵢ²)/n²
//
// Errors in common do not average out over n plugs, those of single plugs do. The part p of the printed scale is taken out:
// one card serves all trays, and what both sides of a comparison have in common drops out of it.
func (t *Trial) MeasuringU(q Quantity, day, tray int) (u, shared float64) {
	common := t.inCommon(q, day, tray)
	var xs []float64
	own := 0.0
	for _, p := range t.plants(q.View, day, tray) {
		v, u := q.plug(p)
		if !v.Known() {
			continue
		}
		if !u.Known() {
			return arithmetic.NaN, arithmetic.NaN
		}
		x, half := float64(v), float64(u)/2 // expanded with k = 2
		xs = append(xs, x)
		own += math.Max(0, float64(half*half)-float64(common*common*x*x))
	}
	if len(xs) == 0 || math.IsNaN(common) {
		return arithmetic.NaN, arithmetic.NaN
	}
	n, m, scale := float64(len(xs)), arithmetic.Mean(xs), t.scaleRelU(q)
	shared = m * math.Sqrt(math.Max(0, common*common-scale*scale))
	return math.Sqrt(own/(n*n) + float64(shared*shared)), shared
}

// scaleRelU is the relative standard uncertainty of a quantity from the printed scale: an area goes as a length squared, a share
// has none of it, and RuleU is expanded with k = 2 (JCGM 100:2008, 5.1.6).
func (t *Trial) scaleRelU(q Quantity) float64 {
	if t.Plan.Card.RuleMM <= 0 {
		return 0
	}
	return float64(q.power) / 2 * t.Plan.Card.RuleU / t.Plan.Card.RuleMM
}

// inCommon returns what all plugs of a photo may have in common, as a share of their values: at most the smallest relative
// error bar among them. Where one plant ends and its neighbour begins is each plant's own uncertainty, so plants that have
// grown into each other tell nothing here; a photo with no others is taken to be like that day's other photos.
func (t *Trial) inCommon(q Quantity, day, tray int) float64 {
	if c := t.smallestRelU(q, day, tray, false); !math.IsNaN(c) {
		return c
	}
	key := figureKey{q.Name, day, 0}
	least, known := t.commons[key]
	if !known {
		least = arithmetic.NaN
		for _, other := range t.Plan.Trays {
			if c := t.smallestRelU(q, day, other.Number, false); !(c >= least) && !math.IsNaN(c) {
				least = c
			}
		}
		t.commons[key] = least
	}
	if math.IsNaN(least) {
		return t.smallestRelU(q, day, tray, true)
	}
	return least
}

// smallestRelU returns the smallest relative standard uncertainty among a tray's plants, NaN when there is none.
func (t *Trial) smallestRelU(q Quantity, day, tray int, all bool) float64 {
	least := arithmetic.NaN
	for _, p := range t.plants(q.View, day, tray) {
		v, u := q.plug(p)
		if !(v > 0) || !u.Known() || !all && slices.Contains(p.Flags, reading.GrownTogether) {
			continue
		}
		if c := float64(u/v) / 2; !(c >= least) {
			least = c
		}
	}
	return least
}
