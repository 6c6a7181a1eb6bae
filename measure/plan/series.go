package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// DoseSeries is a product given at two doses or more, beside trays that get all else and none of it.
type DoseSeries struct {
	Product string
	Base    string // the treatment without it
	Steps   []DoseStep
}

// DoseStep is one dose of a series.
type DoseStep struct {
	Treatment string
	MLPerL    float64
	Written   string // as in the plan
}

// Words returns the dose as the plan writes it.
func (s DoseStep) Words() string { return Dose{MLPerL: s.MLPerL, Written: s.Written}.Words() }

// DoseSeries lists the plan's dose series, each from the lowest dose up. Treatments belong to one when they differ in the dose of one
// product alone.
func (p *Plan) DoseSeries() []DoseSeries {
	var all []DoseSeries
	var done []string
	for _, t := range p.Treatments {
		for _, d := range t.Gets {
			rest, one := beside(t, d.Product)
			key := d.Product + "\x00" + rest
			if !one || slices.Contains(done, key) {
				continue
			}
			done = append(done, key)
			s := DoseSeries{Product: d.Product}
			for _, other := range p.Treatments {
				others, one := beside(other, d.Product)
				switch i := slices.IndexFunc(other.Gets, func(o Dose) bool { return o.Product == d.Product }); {
				case others != rest:
				case i < 0 && s.Base == "":
					s.Base = other.Name
				case i >= 0 && one && other.Gets[i].FromDay == d.FromDay:
					s.Steps = append(s.Steps, DoseStep{other.Name, other.Gets[i].MLPerL, other.Gets[i].Written})
				}
			}
			slices.SortStableFunc(s.Steps, func(a, b DoseStep) int { return cmp.Compare(a.MLPerL, b.MLPerL) })
			s.Steps = slices.CompactFunc(s.Steps, func(a, b DoseStep) bool { return a.MLPerL == b.MLPerL })
			if s.Base != "" && len(s.Steps) > 1 {
				all = append(all, s)
			}
		}
	}
	return all
}

// beside says what a treatment gets beside a product; one is false when it gets that at more than one dose.
func beside(t Treatment, product string) (rest string, one bool) {
	var words []string
	times := 0
	for _, d := range t.Gets {
		if d.Product == product {
			times++
			continue
		}
		words = append(words, fmt.Sprint(d.Product, d.MLPerL, d.FromDay))
	}
	slices.Sort(words)
	return strings.Join(words, "\x00"), times <= 1
}
