package plan

import (
	"strings"
	"testing"

	"traygauge/measure/finding"
)

// One quantity on one review day, and the difference worth having; whatever else is named is refused with its line.
func TestMainQuestion(t *testing.T) {
	with := func(question string) (*Plan, string) {
		before, _, _ := strings.Cut(string(Template("Kale", sown)), "main_question:")
		p, findings, _ := Parse([]byte(before+question+"\n"), FileName)
		if p == nil {
			p = &Plan{}
		}
		var words []string
		for _, f := range findings {
			if f.Severity == finding.Error {
				words = append(words, f.String())
			}
		}
		return p, strings.Join(words, "\n")
	}
	p, errors := with("main_question: {quantity: leaf area, day: 21, worth_having_pct: 15}\ndata_licence: CC-BY-4.0")
	if q := p.MainQuestion; errors != "" || !q.Planned() || q.Quantity != "leaf area" || q.Day != 21 || q.WorthPct != 15 || p.DataLicence != "CC-BY-4.0" {
		t.Errorf("%+v %s", q, errors)
	}
	if p, errors = with("main_question: {quantity: root area, day: 14}"); errors != "" || p.MainQuestion.WorthPct != 20 {
		t.Errorf("%+v %s", p.MainQuestion, errors)
	}
	if p, errors = with(""); errors != "" || p.MainQuestion.Planned() {
		t.Errorf("%+v %s", p.MainQuestion, errors)
	}
	for question, say := range map[string]string{
		"main_question: {quantity: taste, day: 21}":                          "not measured",
		"main_question: {quantity: leaf area}":                               "is missing day",
		"main_question: {day: 21}":                                           "is missing quantity",
		"main_question: {quantity: leaf area, day: 20}":                      "not a review day",
		"main_question: {quantity: leaf area, day: 21, worth_having_pct: 0}": "worth_having_pct",
		"main_question: leaf area":                                           "main_question",
	} {
		if p, errors := with(question); !strings.Contains(errors, say) || p.MainQuestion.Planned() && !strings.Contains(question, "day: 20") {
			t.Errorf("%s: %q", question, errors)
		}
	}
}
