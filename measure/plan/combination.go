package plan

// Combination is a treatment that gets two things at once, together with the treatments that tell what each of them does by
// itself.
type Combination struct {
	Both  string    // gets both things
	Parts [2]string // get one of them each: without the second thing, and without the first
	Base  string    // gets neither
}

// Combinations returns all combinations whose parts and base are in the plan, in the plan's order. Their interaction can be
// told: whether both together do more or less than the sum of what they do alone.
func (p *Plan) Combinations() []Combination {
	var found []Combination
	for i := range p.Treatments {
		both := &p.Treatments[i]
		things := products(both)
		for j, one := range things {
			for _, other := range things[j+1:] {
				withoutOther, withoutOne := p.lacking(both, other), p.lacking(both, one)
				if withoutOther == nil || withoutOne == nil {
					continue
				}
				if base := p.lacking(withoutOne, other); base != nil && isWithout(base, withoutOther, one) {
					found = append(found, Combination{both.Name, [2]string{withoutOther.Name, withoutOne.Name}, base.Name})
				}
			}
		}
	}
	return found
}

// lacking returns the first treatment that gets all that t gets but product, or nil.
func (p *Plan) lacking(t *Treatment, product string) *Treatment {
	for i := range p.Treatments {
		if c := &p.Treatments[i]; c != t && isWithout(c, t, product) {
			return c
		}
	}
	return nil
}
