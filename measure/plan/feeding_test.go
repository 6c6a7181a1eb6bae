package plan

import (
	"reflect"
	"testing"
)

// Two trays of 1500 mL a treatment on five feeding days; seaweed extract 7.5 mL/gal = 1.98129 mL/L:
// 1.98129·3 L = 5.9439 mL for seaweed a day, and again for seaweed + sugar; 5·2·5.9439 = 59.439 mL.
func TestFeedingPlan(t *testing.T) {
	p := templatePlan(t)
	plan := p.FeedingPlan()
	if len(plan) != 1 || !reflect.DeepEqual(plan[0].Days, []int{7, 10, 14, 17, 21}) || len(plan[0].Mixes) != 5 {
		t.Fatalf("%+v", plan)
	}
	if m := plan[0].Mixes[3]; m.Treatment != "seaweed" || m.Trays != 2 || m.TotalML != 3000 || len(m.Doses) != 2 {
		t.Errorf("%+v", m)
	}
	totals := p.ProductTotals()
	want := map[string]float64{"base feed": 5 * 4 * 2 * 3, "cane sugar": 5 * 2 * 1 * 3, "seaweed extract": 59.439}
	if len(totals) != 3 {
		t.Errorf("%+v", totals)
	}
	for _, total := range totals {
		if d := total.ML - want[total.Product]; d > 0.001 || d < -0.001 {
			t.Errorf("%s: %v mL, want %v", total.Product, total.ML, want[total.Product])
		}
	}
	// A dose that changes parts the days; no volume gives no totals.
	p.Treatment("seaweed").Gets = append(p.Treatment("seaweed").Gets, Dose{Product: "seaweed extract", MLPerL: 1, FromDay: 14})
	p.Volume.MLPerTray = 0
	if plan := p.FeedingPlan(); len(plan) != 2 || !reflect.DeepEqual(plan[1].Days, []int{14, 17, 21}) || plan[0].Mixes[0].TotalML != 0 {
		t.Errorf("%+v", plan)
	}
	if p.ProductTotals() != nil {
		t.Error("totals without a volume")
	}
}
