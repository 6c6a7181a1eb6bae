package plan

import (
	"testing"
)

func TestTemplateLoads(t *testing.T) {
	for _, title := range []string{"Kale trial", `"quoted": yes # no`, "../away", "", "Grünkohl 2026"} {
		p, findings, err := Parse(Template(title), FileName)
		if err != nil {
			t.Fatalf("%q: %v", title, err)
		}
		for _, f := range findings {
			t.Log(f)
		}
		t.Log(p.Title)
	}
}
