package plan

import (
	"fmt"
	"testing"
)

// Seaweed at 1, 2 and 4 mL/L on a base feed is a series; with sugar, or from another day, it is something else.
func TestDoseSeries(t *testing.T) {
	feed := Dose{Product: "feed", MLPerL: 2}
	seaweed := func(dose float64, day int) Dose { return Dose{Product: "seaweed", MLPerL: dose, FromDay: day} }
	p := &Plan{Treatments: []Treatment{
		{Name: "water"}, {Name: "feed", Gets: []Dose{feed}},
		{Name: "high", Gets: []Dose{feed, seaweed(4, 7)}}, {Name: "low", Gets: []Dose{feed, seaweed(1, 7)}}, {Name: "mid", Gets: []Dose{seaweed(2, 7), feed}},
		{Name: "late", Gets: []Dose{feed, seaweed(8, 14)}}, {Name: "sweet", Gets: []Dose{feed, seaweed(2, 7), {Product: "sugar", MLPerL: 1}}},
		{Name: "changed", Gets: []Dose{feed, seaweed(1, 7), seaweed(2, 14)}},
	}}
	got := fmt.Sprint(p.DoseSeries())
	if want := "[{seaweed feed [{low 1 } {mid 2 } {high 4 }]}]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	p.Treatments = p.Treatments[:3]
	if got := p.DoseSeries(); len(got) != 0 {
		t.Errorf("one dose is no series: %v", got)
	}
}
