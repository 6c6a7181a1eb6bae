package plan

import "slices"

// FeedingDays is what is mixed on feeding days that are all alike.
type FeedingDays struct {
	Days  []int
	Mixes []Mix // one for each treatment with trays, in the plan's order
}

// Mix is what the trays of one treatment get together on a feeding day.
type Mix struct {
	Treatment string
	Trays     int
	TotalML   float64 // of the mix, or of water; 0 when the plan gives no volume
	Doses     []Dose  // none: water
}

// FeedingPlan returns what is mixed on all feeding days, days with the same mixes together.
func (p *Plan) FeedingPlan() []FeedingDays {
	var all []FeedingDays
	for _, day := range p.FeedDays {
		mixes := p.mixesOn(day)
		if n := len(all); n > 0 && slices.EqualFunc(all[n-1].Mixes, mixes, func(a, b Mix) bool { return sameDoses(a.Doses, b.Doses) && sameProducts(a.Doses, b.Doses) }) {
			all[n-1].Days = append(all[n-1].Days, day)
			continue
		}
		all = append(all, FeedingDays{[]int{day}, mixes})
	}
	return all
}

func sameProducts(a, b []Dose) bool {
	return slices.EqualFunc(a, b, func(x, y Dose) bool { return x.Product == y.Product })
}

func (p *Plan) mixesOn(day int) []Mix {
	var mixes []Mix
	for i := range p.Treatments {
		t := &p.Treatments[i]
		if n := len(p.TraysOf(t.Name)); n > 0 {
			mixes = append(mixes, Mix{t.Name, n, float64(n) * p.Volume.MLPerTray, t.On(day)})
		}
	}
	return mixes
}

// ProductML is how much of a product all feedings take together.
type ProductML struct {
	Product string
	ML      float64
}

// ProductTotals returns how much of each product the whole trial takes as planned, in the order met; none when the plan gives
// no volume.
func (p *Plan) ProductTotals() []ProductML {
	var totals []ProductML
	for _, days := range p.FeedingPlan() {
		for _, m := range days.Mixes {
			for _, d := range m.Doses {
				ml := float64(len(days.Days)) * d.MLFor(m.TotalML)
				i := slices.IndexFunc(totals, func(t ProductML) bool { return t.Product == d.Product })
				if i < 0 {
					i, totals = len(totals), append(totals, ProductML{Product: d.Product})
				}
				totals[i].ML += ml
			}
		}
	}
	if p.Volume.MLPerTray == 0 {
		return nil
	}
	return totals
}
