package reading

import (
	"encoding/json"
	"math"
	"testing"
)

// 3 px and 4 px along the axes make 5 px a mm (Pythagoras).
func TestPlaceKeepsItsScaleThroughJSON(t *testing.T) {
	text, err := json.Marshal(Plug{Name: "A1", Place: &Place{X: 100.5, Y: 20, AlongX: 3, AlongY: -4}})
	if err != nil {
		t.Fatal(err)
	}
	var p Plug
	if err := json.Unmarshal(text, &p); err != nil || p.Place == nil {
		t.Fatalf("%v: %s", err, text)
	}
	if got := p.Place.PxPerMM(); math.Abs(got-5) > 1e-12 || p.Place.X != 100.5 {
		t.Errorf("place is %+v, scale %g px/mm, want 5", *p.Place, got)
	}
}
