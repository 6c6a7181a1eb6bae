package reading

import "math"

// Part is one contribution to the uncertainty of a value.
type Part struct {
	Name string  `json:"from"`
	U    float64 `json:"u"` // standard uncertainty, in the value's unit
}

// Budget is the list of contributions to a value's uncertainty, taken as independent.
type Budget []Part

// Expanded returns 2·√(Σ uᵢ²): the expanded uncertainty with k = 2 (JCGM 100:2008, 5.1.2 eq. 10 and 6.2.1).
func (b Budget) Expanded() float64 {
	sum := 0.0
	for _, p := range b {
		sum += float64(p.U * p.U)
	}
	return 2 * math.Sqrt(sum)
}

// AtMost is b with all parts made smaller alike where it is wider than the value itself: an area or a length is never below 0, so its
// interval does not reach below it either.
func (b Budget) AtMost(value float64) Budget {
	u := b.Expanded()
	if u <= value {
		return b
	}
	out := make(Budget, len(b))
	for i, p := range b {
		out[i] = Part{p.Name, p.U * value / u}
	}
	return out
}

// Mostly names the greatest part, "" for none.
func (b Budget) Mostly() string {
	name, most := "", 0.0
	for _, p := range b {
		if p.U > most {
			name, most = p.Name, p.U
		}
	}
	return name
}

// Kept is b without what adds nothing, rounded to what is worth keeping: an error bar is not known to a thousandth.
func (b Budget) Kept() Budget {
	var out Budget
	for _, p := range b {
		if p.U > 1e-3*b.Expanded() {
			digits := math.Pow(10, 2-math.Floor(math.Log10(p.U)))
			out = append(out, Part{p.Name, math.Round(p.U*digits) / digits})
		}
	}
	return out
}
