package summary

import "traygauge/measure/plan"

// Feeding is what all feeding days take.
type Feeding struct {
	Days   []FeedingDays  `json:"days"`
	Totals []ProductTotal `json:"totals"`
}

// FeedingDays are days on which the same is mixed.
type FeedingDays struct {
	Days  []int        `json:"days"`
	Mixes []FeedingMix `json:"mixes"`
}

// FeedingMix is what all trays of a treatment take on such a day.
type FeedingMix struct {
	Treatment string        `json:"treatment"`
	Trays     int           `json:"trays"`
	TotalML   float64       `json:"total_ml,omitempty"` // absent when the plan gives no volume
	Doses     []FeedingDose `json:"doses"`
}

// FeedingDose is one product in it.
type FeedingDose struct {
	Product     string  `json:"product"`
	Dose        string  `json:"dose"` // as the plan writes it
	MLPerL      float64 `json:"ml_per_l"`
	MLPerGallon float64 `json:"ml_per_us_gallon"`
	TotalML     float64 `json:"total_ml,omitempty"`
}

// ProductTotal is what the whole trial takes of a product.
type ProductTotal struct {
	Product string  `json:"product"`
	ML      float64 `json:"ml"`
}

func feedingOf(p *plan.Plan) Feeding {
	s := Feeding{[]FeedingDays{}, []ProductTotal{}}
	for _, f := range p.FeedingPlan() {
		days := FeedingDays{f.Days, []FeedingMix{}}
		for _, m := range f.Mixes {
			mix := FeedingMix{m.Treatment, m.Trays, m.TotalML, []FeedingDose{}}
			for _, d := range m.Doses {
				mix.Doses = append(mix.Doses, FeedingDose{d.Product, d.Words(), d.MLPerL, d.MLPerGallon(), d.MLFor(m.TotalML)})
			}
			days.Mixes = append(days.Mixes, mix)
		}
		s.Days = append(s.Days, days)
	}
	for _, t := range p.ProductTotals() {
		s.Totals = append(s.Totals, ProductTotal{t.Product, t.ML})
	}
	return s
}
