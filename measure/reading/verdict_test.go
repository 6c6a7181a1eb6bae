package reading

import (
	"testing"

	"traygauge/measure/correct"
)

func TestVerdict(t *testing.T) {
	blurred, broken, tag := Concern{Kind: "blurred", Fatal: true}, Concern{Kind: "broken", Fatal: true}, Concern{Kind: NoTag}
	for want, readings := range map[Verdict][]Reading{
		VerdictGood:     {{}},
		VerdictDoubt:    {{Concerns: []Concern{tag}}},
		VerdictRetake:   {{Concerns: []Concern{tag, blurred}}, {Concerns: []Concern{blurred, tag}}},
		VerdictUnusable: {{Concerns: []Concern{blurred, broken}}, {Concerns: []Concern{broken}}},
		VerdictExcluded: {{Concerns: []Concern{blurred}, Corrections: []correct.Correction{{What: correct.Exclude}}}},
	} {
		for _, r := range readings {
			if got := r.Verdict(); got != want {
				t.Errorf("%+v: %s, want %s", r.Concerns, got, want)
			}
		}
	}
}
