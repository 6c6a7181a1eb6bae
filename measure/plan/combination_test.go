package plan

import (
	"reflect"
	"testing"
)

// In the template seaweed and sugar are given alone and together, on the base feed.
func TestCombinations(t *testing.T) {
	p, _, err := Parse(Template("x", sown), FileName)
	if err != nil {
		t.Fatal(err)
	}
	want := []Combination{{"seaweed + sugar", [2]string{"seaweed", "sugar alone"}, "base feed only"}}
	if got := p.Combinations(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	// Without one of the parts, or with a part at another strength, nothing can be separated.
	p.Treatment("sugar alone").Gets[1].MLPerL = 3
	if got := p.Combinations(); got != nil {
		t.Errorf("%+v, want none", got)
	}
}
