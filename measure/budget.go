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

// Standard uncertainties that no photo tells: what is measured lies within a few mm of the plane it should lie in, here taken
// as a rectangle of ± 2 mm for plug bottoms and ± 10 mm for leaves, whose plan gives their mean height (common practice, no source).
const (
	rootsOffU = 2 / 1.7320508
	leafOffU  = 10 / 1.7320508
	// A photo without a focal length does not tell the camera's height; a whole tray is taken from about this far.
	usualHeightMM = 450.0
)

// planeParts lists what moves every area alike: an area goes as a length squared (JCGM 100:2008, 5.1.6 eq. 12). What is measured lies
// heightMM above the card, give or take offMM.
func planeParts(s *vision.Scene, p *plan.Plan, area float64, at vision.Px, heightMM, offMM float64) Budget {
	corner := math.Max(0.03, s.Plane.ResidualPx*math.Sqrt(16.0/24)) // 32 coordinates less 8 fitted, two a corner
	return append(Budget{
		{"printed scale", 2 * area * p.Card.RuleU / 2 / p.Card.RuleMM},
		{"card's corners", area * s.Plane.AreaRelU(s.Plane.ToMM(at), corner)},
		{"lens", area * s.Plane.LensRelU(at)},
	}, heightParts(&s.Plane, area, heightMM, offMM)...)
}

// heightParts is what an area A owes to its height h over the card, seen from Z: A goes as ((Z − h)/Z)², so that
//
//	u(A)/A = 2·√((u(h)/(Z − h))² + (h·u(Z)/(Z·(Z − h)))²)
//
// (JCGM 100:2008, 5.1.2 eq. 10). Where Z is not known nothing was allowed for, and the whole of h counts (F.2.4.5).
func heightParts(p *vision.Plane, area, h, uH float64) Budget {
	z := p.HeightMM
	if !(z > h) {
		b := Budget{{"height", 2 * area * uH / usualHeightMM}}
		if h != 0 {
			b = append(b, Part{"height not allowed for", 2 * area * math.Abs(h) / usualHeightMM})
		}
		return b
	}
	return Budget{{"height", 2 * area * math.Hypot(uH/(z-h), h*p.HeightUMM/(z*(z-h)))}}
}

func rootBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) Budget {
	return append(planeParts(s, p, f.RootMM2, f.Outline[0], 0, rootsOffU), Part{"telling root from medium", f.RootUMM2})
}

func leafBudget(s *vision.Scene, p *plan.Plan, f vision.LeafPlant, heightMM float64) Budget {
	b := append(planeParts(s, p, f.LeafMM2, f.Centre, heightMM, leafOffU), Part{"telling leaf from ground", f.LeafUMM2})
	if f.Shared {
		b = append(b, Part{"where one plant ends", sharedRelU * f.LeafMM2})
	}
	return b
}

// sharedRelU is the standard uncertainty of the area of a plant that has grown into a neighbour: that a leaf of five or six goes
// to the wrong one of two.
const sharedRelU = 0.18
