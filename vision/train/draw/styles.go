package main

import (
	"maps"
	"math/rand/v2"
	"slices"

	"traygauge/vision/scene"
	"traygauge/vision/scene/brush"
	"traygauge/vision/scene/closeup"
	"traygauge/vision/scene/foliage"
	"traygauge/vision/scene/herbarium"
	"traygauge/vision/scene/relief"
)

// The styles share no code with each other. "painted" is held out: it is for judging and never trained on.
var (
	rootStyles = map[string]func(*rand.Rand) *closeup.Roots{"relief": relief.Roots, "brush": brush.Roots, "painted": scene.CloseUpRoots}
	leafStyles = map[string]func(*rand.Rand) *closeup.Leaves{"foliage": foliage.Leaves, "herbarium": herbarium.Leaves, "painted": scene.CloseUpLeaves}
)

func names[T any](styles map[string]T) []string { return slices.Sorted(maps.Keys(styles)) }
