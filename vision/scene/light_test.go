package scene

import (
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/testphoto"
)

// A lamp of one colour leaves only how bright things are, whatever white balance makes of it: paper may come out white, and
// the card's coloured patches give it away.
func TestALampOfOneColourIsToldByThePatches(t *testing.T) {
	s := testphoto.FewPlants(card.Shoots)
	s.Resize(1200, 900)
	s.Plants = nil
	p, _ := testphoto.Drawn(t, s, 1)
	found, err := FindCard(p, CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if found.Light.Coloured {
		t.Fatalf("white light: %s", found.Light.Words)
	}
	for i := 0; i < len(p.BGR); i += 3 {
		p.BGR[i], p.BGR[i+2] = p.BGR[i+1], p.BGR[i+1]
	}
	found, err = FindCard(p, CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !found.Light.Coloured || !strings.Contains(found.Light.Words, "patches") {
		t.Errorf("a lamp of one colour: %v, %q", found.Light.Coloured, found.Light.Words)
	}
}
