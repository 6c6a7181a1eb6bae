package html

import (
	"strings"
	"testing"

	"traygauge/measure/compare/outcome"
	"traygauge/report/html/axis"
)

// The line of a folded quantity names what is clear and counts the rest; a limit of several quantities is said once, with their names.
func TestFoldedQuantitySaysItsAnswer(t *testing.T) {
	row := func(treatment, against string, v outcome.Verdict) intervalRow {
		return intervalRow{Treatment: treatment, Against: against, Verdict: string(v)}
	}
	parts := row("both", "feed", outcome.Unclear)
	parts.Parts = "seaweed and sugar"
	for _, c := range []struct {
		rows        []intervalRow
		want, shape string
	}{
		{[]intervalRow{row("a", "b", outcome.Unclear)}, "unclear", "ring"},
		{[]intervalRow{row("a", "b", outcome.Unclear), row("c", "b", outcome.Unclear)}, "all 2 unclear", "ring"},
		{[]intervalRow{row("a", "b", outcome.More), row("c", "b", outcome.Unclear), row("d", "b", outcome.NotCompared)}, "a more than b; 1 unclear; 1 not compared", "dot"},
		{[]intervalRow{row("a", "w", outcome.Less), row("b", "w", outcome.Less), row("c", "w", outcome.Less), row("d", "w", outcome.Less)}, "a less than w, b less than w, c less than w; 1 other clear", "dot"},
		{[]intervalRow{row("a", "b", outcome.TheseTrays)}, "about these trays only", "square"},
		{[]intervalRow{parts}, "against its parts together: unclear", "ring"},
	} {
		if got, shape := saysOf(c.rows); got != c.want || shape != c.shape {
			t.Errorf("%q, %s; want %q, %s", got, shape, c.want, c.shape)
		}
	}
	c := outcome.Comparison{Scale: outcome.Ratio, Treatment: "a", Control: "b", Estimate: 2.7, Lower: 1.6, Upper: 4.6, P: 0.009, Verdict: outcome.Unclear, MayBeChance: true, ExploratoryN: 261}
	if got := rowOf(c, axis.Axis{}).Chance; got != 261 { // unclear though its bar crosses no line: it is said why
		t.Errorf("among %d comparisons it may be chance, want 261", got)
	}
	for name, data := range map[string]any{"plot": &dotPlot{intervalGroup: intervalGroup{Rows: []intervalRow{rowOf(c, axis.Axis{})}}}, "group": dayGroup{14, intervalGroup{Rows: []intervalRow{rowOf(c, axis.Axis{})}}}} {
		var text strings.Builder
		if err := pageTemplate.ExecuteTemplate(&text, name, data); err != nil || !strings.Contains(text.String(), ">unclear, may be chance<") {
			t.Errorf("%s does not say why it is unclear: %v", name, err)
		}
	}
	limited := func(quantity string, limits ...string) intervalGroup {
		return intervalGroup{Quantity: quantity, Shared: sharedFacts{Limits: limits}}
	}
	b := dayBlock{Groups: []intervalGroup{limited("root area", "one tray", "bare plugs"), limited("root length", "one tray", "bare plugs"), limited("leaf area", "one tray", "a blurred photo")}}
	b.takeOutShared()
	if len(b.Limits) != 2 || b.Limits[0] != (dayLimit{"one tray", "all quantities"}) || b.Limits[1] != (dayLimit{"bare plugs", "all quantities but leaf area"}) {
		t.Errorf("said once: %+v", b.Limits)
	}
	for i, want := range []int{0, 0, 1} {
		if got := b.Groups[i].Shared.Limits; len(got) != want {
			t.Errorf("%s keeps %q", b.Groups[i].Quantity, got)
		}
	}
}
