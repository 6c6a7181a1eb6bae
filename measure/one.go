package measure

import (
	"traygauge/measure/plan"
	"traygauge/vision"
)

// Seen is what was found in one photo, for drawing; it is valid only inside the call that hands it out.
type Seen struct {
	Photo  *vision.Photo
	Scene  *vision.Scene     // nil when no card was found
	Roots  []vision.RootPlug // roots view
	Canopy *vision.Canopy    // shoots view
}

// One measures a single photo's bytes by the plan. Whatever is wrong with the photo ends up in the reading's Concerns, never
// in an error. The caller fills in what only it knows: Photo, SHA256, Version, Settings and, where TakenFrom is empty,
// Taken. see, when not nil, is called once while the pixels are still there.
func One(raw []byte, p *plan.Plan, see func(Seen)) Reading { return Reading{} }
