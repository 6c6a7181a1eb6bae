package logbook

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/plan"
)

// Departure is what the log says of one tray's feeding that the plan does not: a product that the tray should not get, an amount far from the
// plan's, or a note. It is a reason for a difference beside the treatment.
type Departure struct {
	Entry
	Words string // in public without the log's own words
}

// Of reports whether the departure is one of entry e.
func (d Departure) Of(e Entry) bool {
	return d.Tray == e.Tray && d.When.Equal(e.When) && d.Product == e.Product && d.Line == e.Line
}

// water is what people write where a tray gets no product.
const water = "water"

// timesPlan: amounts above this multiple of the plan's, or below its reciprocal, are far off. It catches a digit too many or too few.
const timesPlan = 4

// FarOff reports whether an amount in mL is so far from the planned one that one of the two is probably a mistake.
func FarOff(ml, planned float64) bool {
	return planned > 0 && ml > 0 && (ml > timesPlan*planned || ml*timesPlan < planned)
}

// Departures returns the feedings of single trays that depart from the plan, in the log's order. What the log gives for all trays at once
// may be a sum, and is not looked at.
func Departures(p *plan.Plan, log []Entry, public bool) []Departure {
	volumes := map[feedingKey]float64{} // a feeding's volume is on one of its lines
	for _, e := range log {
		if e.What == Feeding && !math.IsNaN(e.WaterML) {
			volumes[e.key()] = e.WaterML
		}
	}
	var list []Departure
	ofTheDay := notedByMost(p, log)
	for _, e := range log {
		t := p.Treatment(p.TreatmentOf(e.Tray))
		if e.What != Feeding || t == nil {
			continue
		}
		volume, known := volumes[e.key()]
		if !known {
			volume = p.Volume.MLPerTray
		}
		note := noteOf(e, public)
		if ofTheDay[p.DayOf(e.When)] {
			note = ""
		}
		for _, words := range []string{offVolume(p, e), offProduct(p, t, e, volume, public), note} {
			if words != "" {
				list = append(list, Departure{e, words})
			}
		}
	}
	return list
}

// notedByMost returns the days on which more than half of the trays have a note with their feeding: it is about the day, such as its pH.
func notedByMost(p *plan.Plan, log []Entry) map[int]bool {
	noted, days := map[[2]int]bool{}, map[int]int{}
	for _, e := range log {
		if on := [2]int{p.DayOf(e.When), e.Tray}; e.What == Feeding && e.Tray > 0 && e.Note != "" && !noted[on] {
			noted[on] = true
			days[on[0]]++
		}
	}
	most := map[int]bool{}
	for day, trays := range days {
		most[day] = 2*trays > len(p.Trays)
	}
	return most
}

// offVolume says how much of its mix a tray got where that is far from the plan's volume.
func offVolume(p *plan.Plan, e Entry) string {
	if !FarOff(e.WaterML, p.Volume.MLPerTray) {
		return ""
	}
	return fmt.Sprintf("fed %s in total; the plan says %s", millilitres(e.WaterML), millilitres(p.Volume.MLPerTray))
}

// offProduct says what is wrong with an entry's product, in volume mL of mix, for a tray of treatment t. A feeding that was moved gets what the
// plan gives on the day that it was moved from.
func offProduct(p *plan.Plan, t *plan.Treatment, e Entry, volume float64, public bool) string {
	if e.Product == "" {
		return ""
	}
	day := p.DayOf(e.When)
	if len(p.FeedDays) > 0 {
		day = max(day, nearest(p.FeedDays, day))
	}
	doses := t.On(day)
	i := slices.IndexFunc(doses, func(d plan.Dose) bool { return d.Product == e.Product })
	switch {
	case i < 0 && (e.AmountML == 0 || len(doses) == 0 && strings.EqualFold(e.Product, water)):
		return ""
	case i < 0:
		product := e.Product
		if public && !slices.Contains(productsOf(p), product) && !strings.EqualFold(product, water) {
			product = "of another product"
		}
		return fmt.Sprintf("fed %s, which is not in the plan for it", amountOf(e, product))
	}
	planned := doses[i].MLFor(volume)
	if FarOff(e.AmountML, planned) || e.AmountML == 0 && planned > 0 {
		return fmt.Sprintf("fed %s; the plan says %s", amountOf(e, e.Product), millilitres(planned))
	}
	return ""
}

func noteOf(e Entry, public bool) string {
	if e.Note != "" && public {
		return "its feeding has a note (not shown)"
	}
	return e.Note
}

// amountOf is an entry's amount of a product in words, as far as it is known.
func amountOf(e Entry, product string) string {
	if math.IsNaN(e.AmountML) {
		return product
	}
	return millilitres(e.AmountML) + " " + product
}

// millilitres writes an amount to the hundredth that the log keeps, without zeros at its end.
func millilitres(ml float64) string {
	return strconv.FormatFloat(math.Round(ml*100)/100, 'f', -1, 64) + " mL"
}

// productsOf lists all products of a plan.
func productsOf(p *plan.Plan) []string {
	var products []string
	for _, t := range p.Treatments {
		for _, d := range t.Gets {
			if !slices.Contains(products, d.Product) {
				products = append(products, d.Product)
			}
		}
	}
	return products
}
