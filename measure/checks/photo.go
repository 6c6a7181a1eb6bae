// Package checks finds problems with photos: of single photos, compared with the plan and with their own figures, and of all photos of a trial as a set.
//
//	in    what vision saw in a photo, its reading and the plan; the readings of a trial
//	out   concerns: the value found, the limit, the remedy and the direction of the error
//
// Each check is one small function, next to its limit. The package must not depend on how photos are measured or where readings are stored.
package checks

import (
	"math"
	"sync"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
)

// Photo is what one photo showed, to be held against the plan and against itself.
type Photo struct {
	Scene   *vision.Scene
	Tray    vision.Tray       // as the plan has it
	Grid    vision.Grid       // where its cells lie
	Plugs   []vision.RootPlug // from below, in reading order; nil from above
	Leaf    *vision.Share     // how much of each pixel is leaf; nil from below
	Plan    *plan.Plan
	Reading *reading.Reading

	extent func() vision.Extent // of the tray, calculated once; set by Hold
}

// checks are what plan and picture must agree on. Each is looked at after the views are read and before the verdict; it returns nil where
// nothing speaks against the photo. Its limit is next to it, with where the limit comes from.
var checks = []func(Photo) *reading.Concern{
	planPitch,
	sideUp,
	cardAtA1,
	planCells,
	nothingOver,
	evenFocus,
	trayPitch,
	cardGreys,
	cardLight,
	clearAllOver,
	noNet,
	takenOnce,
	evenContrast,
	notRedrawn,
	cardColours,
	plainGreys,
	plainEdges,
	evenLight,
}

// Hold lets all checks look at the photo and adds what they find to its reading. Where one of them forbids to use it, nothing of it counts as measured.
func Hold(e Photo) {
	r := e.Reading
	e.extent = sync.OnceValue(func() vision.Extent { return vision.ExtentOf(e.Scene, e.Tray, e.Grid) })
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
		r.Plugs, r.Covered, r.CanopyCoverPct = nil, nil, reading.Missing
	}
}

// UsualHeightMM is from how far above the card a whole tray is taken, where a photo without a focal length does not tell.
const UsualHeightMM = 450.0

// raisedBy is how much wider a thing h mm above the card's plane appears, over what it is. A photo that does not tell its height is taken for one
// from UsualHeightMM.
func raisedBy(s *vision.Scene, h float64) float64 {
	z := s.Plane.HeightMM
	if z <= 0 {
		z = UsualHeightMM
	}
	return z / math.Max(z/2, z-h)
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
