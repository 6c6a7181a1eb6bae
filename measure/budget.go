package measure

import (
	"math"

	"traygauge/measure/plan"
	"traygauge/vision"
)

// Part is one contribution to the uncertainty of a value.
type Part struct {
	Name string
	U    float64 // standard uncertainty, in the value's unit
}

// Budget is the list of contributions to a value's uncertainty, taken as independent.
type Budget []Part

// Expanded returns 2·√(Σ uᵢ²): the expanded uncertainty with k = 2 (JCGM 100:2008, 5.1.2 eq. 10 and 6.2.1).
func (b Budget) Expanded() float64 {
	sum := 0.0
	for _, p := range b {
		sum += float64(p.U * p.U)
	}
	return 2 * math.Sqrt(sum)
}

// Standard uncertainties that no photo tells. Both are common practice, no source: a phone's corrected main lens bends the
// picture by some tenths of a per cent over a tray, and what is measured lies within a few mm of the plane it should
// lie in, here taken as a rectangle of ± 2 mm for plug bottoms and ± 10 mm for leaves, whose plan gives their mean height.
const (
	lensRelU  = 0.005
	rootsOffU = 2 / 1.7320508
	leafOffU  = 10 / 1.7320508
	// A photo without a focal length does not tell the camera's height; a whole tray is taken from about this far.
	usualHeightMM = 450.0
)

// planeParts lists what moves every area alike: an area goes as a length squared (JCGM 100:2008, 5.1.6 eq. 12).
func planeParts(s *vision.Scene, p *plan.Plan, area float64, at vision.Px, offMM float64) Budget {
	corner := math.Max(0.03, s.Plane.ResidualPx*math.Sqrt(16.0/24)) // 32 coordinates less 8 fitted, two a corner
	height := s.Plane.HeightMM
	if height == 0 {
		height = usualHeightMM
	}
	return Budget{
		{"printed scale", 2 * area * p.Card.RuleU / 2 / p.Card.RuleMM},
		{"card's corners", area * s.Plane.AreaRelU(s.Plane.ToMM(at), corner)},
		{"lens", 2 * area * lensRelU},
		{"height", 2 * area * offMM / height},
	}
}

func rootBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) Budget {
	return append(planeParts(s, p, f.RootMM2, f.Outline[0], rootsOffU), Part{"telling root from medium", f.RootUMM2})
}

func leafBudget(s *vision.Scene, p *plan.Plan, f vision.LeafPlant, heightMM float64) Budget {
	b := append(planeParts(s, p, f.LeafMM2, f.Centre, leafOffU), Part{"telling leaf from ground", f.LeafUMM2})
	if f.Shared {
		b = append(b, Part{"where one plant ends", sharedRelU * f.LeafMM2})
	}
	return b
}

// sharedRelU is the standard uncertainty of the area of a plant that has grown into a neighbour: that a leaf of five or six goes
// to the wrong one of two.
const sharedRelU = 0.18
