package pdf

import (
	"cmp"
	"slices"

	"traygauge/measure/plan"
)

// feedingRow is one line of a feeding sheet: a tray, or what all trays of a treatment need together.
type feedingRow struct {
	tray      plan.Tray // Number 0: the sum over a treatment's trays
	trays     int       // in the sum
	treatment string
	mixML     float64
	doses     []dose // by product, as in the sheet's columns
}

// dose is how much of one product goes into a mix.
type dose struct {
	given  bool
	mlPerL float64
	ml     float64
}

// feedingRows returns the lines of a feeding day, the trays of one treatment together, and the products that head the
// columns. A product that the plan gives from a later day on is not given.
func feedingRows(p *plan.Plan, day int) (products []string, rows []feedingRow) {
	for i := range p.Treatments {
		for _, d := range p.Treatments[i].On(day) {
			if !slices.Contains(products, d.Product) {
				products = append(products, d.Product)
			}
		}
	}
	for _, t := range p.Treatments {
		trays := traysOf(p, t.Name)
		for _, tray := range trays {
			rows = append(rows, feedingRow{tray: tray, treatment: t.Name, mixML: p.Volume.MLPerTray,
				doses: dosesOf(t, products, day, p.Volume.MLPerTray)})
		}
		if n := len(trays); n > 1 {
			all := float64(n) * p.Volume.MLPerTray
			rows = append(rows, feedingRow{trays: n, treatment: t.Name, mixML: all, doses: dosesOf(t, products, day, all)})
		}
	}
	return products, rows
}

func traysOf(p *plan.Plan, treatment string) []plan.Tray {
	var trays []plan.Tray
	for _, t := range p.Trays {
		if t.Treatment == treatment {
			trays = append(trays, t)
		}
	}
	slices.SortFunc(trays, func(a, b plan.Tray) int { return cmp.Compare(a.Number, b.Number) })
	return trays
}

// dosesOf returns what volumeML of a treatment's mix takes of each product on that day.
func dosesOf(t plan.Treatment, products []string, day int, volumeML float64) []dose {
	doses := make([]dose, len(products))
	for _, d := range t.On(day) {
		doses[slices.Index(products, d.Product)] = dose{given: true, mlPerL: d.MLPerL, ml: d.MLFor(volumeML)}
	}
	return doses
}
