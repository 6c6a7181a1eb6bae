package plan

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
	"traygauge/measure/plan/yamlfile"
)

// Question is what a trial is made to answer: one quantity on one review day, named before there are data. All else is exploratory.
type Question struct {
	Quantity string  // one of Outcomes
	Day      int     // since sowing
	WorthPct float64 // the smallest difference from the control worth having: % of it for a size, percentage points for a share
	Line     int     // 0: the plan names no question
}

// The quantities that a main question can be about.
const (
	RootArea     = "root area"
	RootLength   = "root length"
	LeafArea     = "leaf area"
	CanopyCover  = "canopy cover"
	Chlorotic    = "yellow leaf share"
	RootBrowning = "brown root share"
)

// Outcomes are these, in the order in which they are offered.
var Outcomes = []string{RootArea, RootLength, LeafArea, CanopyCover, Chlorotic, RootBrowning}

// defaultWorthPct is taken where the plan does not say which difference is worth having.
const defaultWorthPct = 20.0

// question reads main_question.
func (r *reader) question(n *yaml.Node) Question {
	q := Question{WorthPct: defaultWorthPct}
	if yamlfile.IsNull(n) {
		return q
	}
	before := len(r.Found)
	at := r.Mapping(n, "main_question", map[string]func(*yaml.Node){
		"quantity": func(n *yaml.Node) {
			name, ok := r.Text(n, "main_question’s quantity", 60)
			if q.Quantity = name; ok && !slices.Contains(Outcomes, name) {
				r.Fail(n, "write one of: "+strings.Join(Outcomes, ", "), "main_question asks about %q, which is not measured", finding.Short(name))
			}
		},
		"day":              func(n *yaml.Node) { q.Day, _ = r.Whole(n, "main_question’s day", 0, lastDay) },
		"worth_having_pct": func(n *yaml.Node) { q.WorthPct, _ = r.Number(n, "worth_having_pct", "%", 1, 200) },
	})
	if n.Kind != yaml.MappingNode {
		return q
	}
	for _, need := range []string{"quantity", "day"} {
		if at[need] == nil {
			r.Fail(n, "write main_question: {quantity: leaf area, day: 21, worth_having_pct: 20}", "main_question is missing %s", need)
		}
	}
	if len(r.Found) == before {
		q.Line = n.Line
	}
	return q
}

// Planned reports whether the plan names a main question.
func (q Question) Planned() bool { return q.Line > 0 }

// checkQuestion checks that the question's day is a review.
func (r *reader) checkQuestion(p *Plan) {
	if q := p.MainQuestion; q.Planned() && len(p.ReviewDays) > 0 && !slices.Contains(p.ReviewDays, q.Day) {
		r.Add(finding.Error, q.Line, 0, "the day of main_question is not a review day", "choose one of review_days, or add the day to review_days")
	}
}
