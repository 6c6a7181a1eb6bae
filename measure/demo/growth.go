package demo

import (
	"math"
	"math/rand/v2"

	"traygauge/measure/plan"
	"traygauge/vision/synth"
)

// The trays whose story differs from their treatment's.
const (
	fastTray  = 8 // grows fast, has used up its feed by the last review and yellows
	wetTray   = 6 // stood in water on day 16: brown roots, and then yellow leaves
	emptyTray = 3 // half its seed did not come up, and some plugs fell out
)

// vigour is how fast plants grow by what they get, against base feed only. The figures are invented.
var vigour = map[string]float64{
	"water only":      0.62,
	"base feed only":  1,
	"sugar alone":     1.02,
	"seaweed":         1.12,
	"seaweed + sugar": 1.2,
}

// size is a plant of ordinary vigour on a day. The figures are invented, in the range of brassica seedlings in plugs.
type size struct {
	leaves       int
	leafMM       float64 // blade of the longest leaf
	rootMM       float64 // all roots at the plug's bottom
	fedLeafShare float64 // how much of the treatment's effect on the leaves shows by then
}

var sizes = map[int]size{
	14: {leaves: 4, leafMM: 14, rootMM: 45, fedLeafShare: 0.4},
	21: {leaves: 5, leafMM: 21, rootMM: 130, fedLeafShare: 0.8},
	28: {leaves: 6, leafMM: 28, rootMM: 260, fedLeafShare: 1},
}

// leafBesideCardMM keeps the leaves of A1 and A3 off the card's markers, as the operator would: a covered marker is a
// photo to take again.
const leafBesideCardMM = 22.0

// plantsOn returns the plants in a tray's cells on a review day. A plant keeps its habit over the days, and a seed that did
// not come up stays away.
func plantsOn(p *plan.Plan, tray, day int) map[string]synth.Plant {
	plants := map[string]synth.Plant{}
	for i, name := range p.PlugNames() {
		r := rand.New(rand.NewPCG(uint64(tray), uint64(i)))
		luck, ownVigour, ownRoots := r.Float64(), math.Exp(0.12*r.NormFloat64()), math.Exp(0.2*r.NormFloat64())
		yellows := r.Float64()
		noPlug, noPlant := 0.01, 0.04
		if tray == emptyTray {
			noPlug, noPlant = 0.12, 0.45
		}
		switch {
		case luck < noPlug: // the cell stays empty
		case luck < noPlant:
			plants[name] = synth.Plant{Plug: true}
		default:
			plant := grown(p, tray, day, ownVigour, ownRoots, yellows)
			if name == "A1" || name == "A3" {
				plant.LeafLengthMM = min(plant.LeafLengthMM, leafBesideCardMM)
			}
			plants[name] = plant
		}
	}
	return plants
}

// grown returns a plant of the tray on a day. yellows, 0 to 1, is how late it yellows among its neighbours.
func grown(p *plan.Plan, tray, day int, ownVigour, ownRoots, yellows float64) synth.Plant {
	s, fed := sizes[day], vigour[p.TreatmentOf(tray)]
	if tray == fastTray {
		fed *= 1.15
	}
	leaf := math.Pow(fed, s.fedLeafShare) * ownVigour
	plant := synth.Plant{
		Plug: true, Leaves: s.leaves, LeafLengthMM: s.leafMM * leaf,
		RootLengthMM: s.rootMM * fed * fed * ownRoots, // roots answer more strongly than leaves
	}
	if leaf > 1.15 {
		plant.Leaves++
	}
	late := float64(day-14) / 14 // 0, ½, 1 on the review days
	switch {
	case tray == fastTray && day >= 21:
		plant.Yellow = 0.45 * late * late * (1.3 - 0.6*yellows)
		plant.YellowEdge = 0.3 * late
	case tray == wetTray && day > 16:
		plant.RootBrown = 0.35 + 0.35*late
		plant.RootLengthMM *= 0.75 - 0.25*late
		plant.LeafLengthMM *= 1 - 0.1*late
		plant.Yellow = 0.25 * late * (1.3 - 0.6*yellows)
	case fed < 1:
		plant.Yellow = 0.12 * late * (1.3 - 0.6*yellows)
	}
	return plant
}
