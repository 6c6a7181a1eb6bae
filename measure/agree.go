package measure

import (
	"math"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
)

// evidence is what one photo showed, to be held against the plan and against itself.
type evidence struct {
	seen Seen
	plan *plan.Plan
	r    *reading.Reading
}

// checks are what plan and picture must agree on. Each is looked at after the views are read and before the verdict; it returns nil where
// nothing speaks against the photo. Its limit is next to it, with where the limit comes from.
var checks = []func(evidence) *reading.Concern{
	sideUp,
	nothingOver,
	trayPitch,
	cardGreys,
	cardColours,
	evenLight,
}

// hold lets all checks look at the photo. Where one of them forbids to use it, nothing of it counts as measured.
func hold(r *reading.Reading, seen Seen, p *plan.Plan) {
	e := evidence{seen, p, r}
	for _, check := range checks {
		c := check(e)
		if c == nil {
			continue
		}
		r.Concerns = append(r.Concerns, *c)
		if c.Fatal {
			break // what else looks wrong follows from it
		}
	}
	if r.Fatal() {
		r.Plugs, r.CanopyCoverPct = nil, reading.Missing
	}
}

// raisedBy is how much wider a thing h mm above the card's plane appears, over what it is. A photo that does not tell its height is taken for one
// from usualHeightMM.
func raisedBy(s *vision.Scene, h float64) float64 {
	z := s.Plane.HeightMM
	if z <= 0 {
		z = usualHeightMM
	}
	return z / math.Max(z/2, z-h)
}

// planted counts the plugs that have a plant, or a plug.
func planted(r *reading.Reading) (n int) {
	for _, p := range r.Plugs {
		n += count(p.State == reading.Planted)
	}
	return n
}
