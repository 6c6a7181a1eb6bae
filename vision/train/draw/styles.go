package main

import (
	"maps"
	"math/rand/v2"
	"slices"

	"traygauge/vision/synth"
	"traygauge/vision/synth/brush"
	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage"
	"traygauge/vision/synth/herbarium"
	"traygauge/vision/synth/relief"
	"traygauge/vision/synth/weave"
)

// The styles share no code with each other. "painted" is held out: it is for judging and never trained on.
var (
	rootStyles = map[string]func(*rand.Rand) *closeup.Roots{"relief": relief.Roots, "brush": brush.Roots, "weave": weave.Roots, "painted": synth.CloseUpRoots}
	leafStyles = map[string]func(*rand.Rand) *closeup.Leaves{"foliage": foliage.Leaves, "herbarium": herbarium.Leaves, "painted": synth.CloseUpLeaves}
)

func names[T any](styles map[string]T) []string { return slices.Sorted(maps.Keys(styles)) }
