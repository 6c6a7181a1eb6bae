package seen

import (
	"strings"
	"testing"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/report/overlay"
	"traygauge/vision"
)

// A plug that something covers has no figure on the overlay and is in no sum: 70 mm² of A1 and 50 of A3 are 120. Of a photo that cannot be used none has.
func TestACoveredPlugIsNotCountedOnTheOverlay(t *testing.T) {
	seen := measure.Seen{Scene: &vision.Scene{}, Roots: []vision.RootPlug{{Col: 0, RootMM2: 70}, {Col: 1, RootMM2: 400}, {Col: 2, RootMM2: 50}}}
	r := reading.Reading{Plugs: []reading.Plug{{State: reading.Planted}, {State: reading.Hidden}, {State: reading.Planted}}}
	o := overlayOf(seen, r)
	if !strings.Contains(o.Subtitle, "2 plugs, 120 mm²") {
		t.Errorf("%q", o.Subtitle)
	}
	want := []overlay.PlugMark{{Name: "A1", State: reading.Planted, Value: "70"}, {Name: "A2", State: reading.Hidden}, {Name: "A3", State: reading.Planted, Value: "50"}}
	r.Concerns, r.Plugs = []reading.Concern{{Kind: reading.SomethingOnTheTray, Fatal: true}}, nil
	if o := overlayOf(seen, r); !strings.Contains(o.Subtitle, "cannot be used") || o.Plugs[0].Value != "" {
		t.Errorf("of an unusable photo: %q, %+v", o.Subtitle, o.Plugs)
	}
	for i, m := range o.Plugs {
		if m.Name != want[i].Name || m.State != want[i].State || m.Value != want[i].Value {
			t.Errorf("%+v, want %+v", m, want[i])
		}
	}
}
