package measure

import (
	"maps"
	"math"
	"slices"

	"traygauge/measure/plan"
	"traygauge/vision"
)

// Part is one contribution to the uncertainty of a value.
type Part struct {
	Name string  `json:"from"`
	U    float64 `json:"u"` // standard uncertainty, in the value's unit
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

// Mostly names the greatest part, "" for none.
func (b Budget) Mostly() string {
	name, most := "", 0.0
	for _, p := range b {
		if p.U > most {
			name, most = p.Name, p.U
		}
	}
	return name
}

// kept is b without what adds nothing, rounded to what is worth keeping: an error bar is not known to a thousandth.
func (b Budget) kept() Budget {
	var out Budget
	for _, p := range b {
		if p.U > 1e-3*b.Expanded() {
			digits := math.Pow(10, 2-math.Floor(math.Log10(p.U)))
			out = append(out, Part{p.Name, math.Round(p.U*digits) / digits})
		}
	}
	return out
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
		{partScale, 2 * area * p.Card.RuleU / 2 / p.Card.RuleMM},
		{"card's corners", area * s.Plane.AreaRelU(s.Plane.ToMM(at), corner)},
		{partLens, area * s.Plane.LensRelU(at)},
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

// The names of budgets' parts that people can do something about.
const (
	partScale  = "printed scale"
	partLens   = "lens"
	partSpecks = "specks or rootlets"
)

// What drawn scenes show beside what a photo tells of itself (make calibrate: 200 photos of small trays under all kinds of conditions,
// in which 93 to 98 of 100 truths are to lie inside the error bars).
const (
	inkRelU      = 0.065 // of a root area: how far a photo's ink is off, which all its roots share
	overRelU     = 0.10  // of a root area times its cover: roots in each other's shade
	followedRelU = 0.05  // of a length: following lines
	crowdedRelU  = 0.8   // of a length times the plug's cover: lines too close to be told apart
	brownStart   = 0.20  // of √(b·(1 − b)): where brown begins
	brownLeast   = 2.0   // points
	brownOfMM2   = 5.0   // mm² of pale or brown specks, on a root area
	outlineRelU  = 0.010
	yellowStart  = 0.28 // of √(y·(1 − y)): where yellow begins
	yellowLeast  = 2.0  // points: rims and veins
	leafRelU     = 0.015
)

// coverOf is the share of a plug that is root, 0 to 1.
func coverOf(f vision.RootPlug) float64 {
	if f.PlugMM2 <= 0 {
		return 0
	}
	return math.Min(1, f.RootMM2/f.PlugMM2)
}

func rootBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) Budget {
	d := f.RootDoubt
	return append(planeParts(s, p, f.RootMM2, f.Outline[0], 0, rootsOffU),
		Part{"how light roots are", math.Hypot(d.Ink, inkRelU*f.RootMM2)}, Part{"how brown roots are", d.Brown},
		Part{"roots over roots", overRelU * coverOf(f) * f.RootMM2}, Part{"medium between roots", d.Medium}, Part{partSpecks, d.Specks})
}

// lengthBudget: a length goes as the root of an area.
func lengthBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) Budget {
	var b Budget
	for _, part := range planeParts(s, p, f.LengthMM, f.Outline[0], 0, rootsOffU) {
		b = append(b, Part{part.Name, part.U / 2})
	}
	specks := 0.0
	if f.RootMM2 > 0 {
		specks = f.RootDoubt.Specks * f.LengthMM / f.RootMM2
	}
	return append(b, Part{"following lines", f.LengthMM * followedRelU}, Part{"lines too close to be told apart", f.LengthMM * crowdedRelU * coverOf(f)},
		Part{partSpecks, specks})
}

// brownBudget is that of the discoloured share of a root area, in points. Tan lies between white and brown: with b of one and 1 − b
// of the other, what may count as either goes as √(b·(1 − b)).
func brownBudget(f vision.RootPlug) Budget {
	b := math.Min(1, f.BrownMM2/f.RootMM2)
	return Budget{{"where brown begins", math.Hypot(100*brownStart*math.Sqrt(b*(1-b)), brownLeast)},
		{partSpecks, math.Min(50, 100*brownOfMM2/math.Max(f.RootMM2, 1))}}
}

func plugBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) Budget {
	return append(planeParts(s, p, f.PlugMM2, f.Outline[0], 0, rootsOffU), Part{"where the plug ends", f.PlugMM2 * outlineRelU})
}

func leafBudget(s *vision.Scene, p *plan.Plan, f vision.LeafPlant, heightMM float64) Budget {
	b := append(planeParts(s, p, f.LeafMM2, f.Centre, heightMM, leafOffU),
		Part{"telling leaf from ground", math.Hypot(f.LeafUMM2, leafRelU*f.LeafMM2)})
	if f.Shared {
		b = append(b, Part{"where one plant ends", sharedRelU * f.LeafMM2})
	}
	return b
}

// yellowBudget is that of the yellow share of a leaf area, in points: as brownBudget's.
func yellowBudget(f vision.LeafPlant) Budget {
	y := math.Min(1, f.YellowMM2/f.LeafMM2)
	return Budget{{"where yellow begins", math.Hypot(100*yellowStart*math.Sqrt(y*(1-y)), yellowLeast)}}
}

// sharedRelU is the standard uncertainty of the area of a plant that has grown into a neighbour: that a leaf of five or six goes
// to the wrong one of two.
const sharedRelU = 0.18

// Mostly names the part that error bars of a value, root_area_mm2 for one, owe the most to over many plugs, by the sum of its shares
// in their squares; "" where no budget is kept.
func Mostly(plugs []Plug, value string) string {
	shares := map[string]float64{}
	for _, p := range plugs {
		all := 0.0
		for _, part := range p.Budgets[value] {
			all += part.U * part.U
		}
		for _, part := range p.Budgets[value] {
			shares[part.Name] += part.U * part.U / all
		}
	}
	var sum Budget
	for _, name := range slices.Sorted(maps.Keys(shares)) { // of equals the same one each time
		sum = append(sum, Part{name, shares[name]})
	}
	return sum.Mostly()
}

// Advice says what can be done about a part of an error bar, "" for nothing.
func Advice(part string) string {
	switch part {
	case partScale:
		return "measure your printed card's ruler"
	case partLens:
		return "learn the lens with `traygauge lens`"
	case "height", "height not allowed for":
		return "give the leaves' height in trial.yaml"
	case "how light roots are":
		return "come nearer, so that more pixels lie across a root"
	}
	return ""
}
