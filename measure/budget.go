package measure

import (
	"maps"
	"math"
	"slices"

	"traygauge/measure/checks"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
)

// Standard uncertainties that no photo tells: what is measured lies within a few mm of the plane it should lie in, here taken
// as a rectangle of ± 2 mm for plug bottoms and ± 10 mm for leaves, whose plan gives their mean height (measure/README.md, What is assumed). A
// rectangle's standard uncertainty is its half width over √3 (JCGM 100:2008, 4.3.7).
const (
	rootsOffU = 2 / 1.7320508  // mm
	leafOffU  = 10 / 1.7320508 // mm
)

// leastCornerPx is how far off a corner of the card is taken to be at least, in px, however well the sixteen fit: an assumption.
const leastCornerPx = 0.03

// planeParts lists what moves every area alike: an area goes as a length squared (JCGM 100:2008, 5.1.6 eq. 12). What is measured lies
// heightMM above the card, give or take offMM.
func planeParts(s *vision.Scene, p *plan.Plan, area float64, at vision.Px, heightMM, offMM float64) reading.Budget {
	corner := math.Max(leastCornerPx, s.Plane.ResidualPx*math.Sqrt(16.0/24)) // 32 coordinates less 8 fitted, two a corner
	return append(reading.Budget{
		{Name: partScale, U: 2 * area * p.Card.RuleU / 2 / p.Card.RuleMM},
		{Name: "card’s corners", U: area * s.Plane.AreaRelU(s.Plane.ToMM(at), corner)},
		{Name: partLens, U: area * s.Plane.LensRelU(at)},
	}, heightParts(&s.Plane, area, heightMM, offMM)...)
}

// heightParts is what an area A owes to its height h over the card, seen from Z: A goes as ((Z − h)/Z)², so that
//
//	u(A)/A = 2·√((u(h)/(Z − h))² + (h·u(Z)/(Z·(Z − h)))²)
//
// (JCGM 100:2008, 5.1.2 eq. 10). Where Z is not known nothing was allowed for, and the whole of h counts (F.2.4.5).
func heightParts(p *vision.Plane, area, h, uH float64) reading.Budget {
	z := p.HeightMM
	if !(z > h) {
		b := reading.Budget{{Name: partHeight, U: 2 * area * uH / checks.UsualHeightMM}}
		if h != 0 {
			b = append(b, reading.Part{Name: partHeightUnused, U: 2 * area * math.Abs(h) / checks.UsualHeightMM})
		}
		return b
	}
	return reading.Budget{{Name: partHeight, U: 2 * area * math.Hypot(uH/(z-h), h*p.HeightUMM/(z*(z-h)))}}
}

// The names of budgets' parts that people can do something about.
const (
	partScale   = "printed scale"
	partLens    = "lens"
	partTelling = "separating root from medium"

	partHeight       = "height"
	partHeightUnused = "unknown height"
)

// The networks say how far each sum may be off, as they saw it on the drawings that they learnt from, which are harder than photos. What
// follows is how much of it, and what beside it, drawings of the style that they never saw show, so that 93 to 97 of 100 truths lie inside
// the error bars (make calibrate; make accuracy prints it by kind of photo). The factors of roots and yellow were chosen with the ten photos by
// another program in view too.
const (
	rootTelling       = 0.34 // of the network's own figure
	lengthTelling     = 0.40
	brownTelling      = 0.60
	leafTelling       = 0.04
	sharedLeafTelling = 0.40 // where plants have grown into each other

	// A leaf's rim is unsure, and about this much of that is off; of seedlings, which are little else than rim, more. What is unsure beyond a
	// usual rim is algae or the like.
	rimTelling  = 0.055
	seedlingMM2 = 45.0
	usualRim    = 3.2 // mm² of unsure leaf over the root of its area in mm²
	moreThanRim = 0.25

	kindRelU       = 0.03 // of a root area: what all plugs of a sharp photo share, by its light, phone and kind of roots
	blurKindRelU   = 0.5  // more of it for each mm of blur beyond sharpMM: how light roots are can then hardly be separated from how wide they are
	sharpMM        = 0.13
	kindLengthRelU = 0.060
	kindLeafRelU   = 0.006
	brownLeast     = 1.0  // points
	yellowLeast    = 0.5  // points
	yellowTelling  = 0.35 // of the leaf whose colour is near yellow's limit
	kindYellowRelU = 0.05 // of a yellow area
	// A plug's outline is off by 0.5 % of its area at most, under a mat of roots by 1.3 and in a tray as light as the medium by 3 %, which is twice this.
	outlineRelU = 0.016
)

func rootBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) reading.Budget {
	return append(planeParts(s, p, f.RootMM2, f.Outline[0], 0, rootsOffU),
		reading.Part{Name: partTelling, U: rootTelling * f.RootUMM2}, reading.Part{Name: "roots of this photo’s kind", U: rootKindRelU(s.Edge) * f.RootMM2}).AtMost(f.RootMM2)
}

// rootKindRelU is the relative standard uncertainty that all plugs of a photo share.
func rootKindRelU(e vision.Sharpness) float64 {
	blur := e.BlurMM()
	if worst := e.WorstBlurMM(); worst > blur {
		blur = worst
	}
	return kindRelU + blurKindRelU*math.Max(0, blur-sharpMM)
}

// lengthBudget: a length goes as the root of an area.
func lengthBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) reading.Budget {
	var b reading.Budget
	for _, part := range planeParts(s, p, f.LengthMM, f.Outline[0], 0, rootsOffU) {
		b = append(b, reading.Part{Name: part.Name, U: part.U / 2})
	}
	return append(b, reading.Part{Name: partTelling, U: lengthTelling * f.LengthUMM},
		reading.Part{Name: "roots of this photo’s kind", U: kindLengthRelU * f.LengthMM}).AtMost(f.LengthMM)
}

// brownBudget is that of the discoloured share of a root area, in points.
func brownBudget(f vision.RootPlug) reading.Budget {
	return reading.Budget{{Name: "separating brown from white", U: points(brownTelling*f.BrownUMM2, f.RootMM2)}, {Name: "where brown begins", U: brownLeast}}
}

// points is an area's uncertainty as one of its share of a whole, in points. No one is further off than by half.
func points(uMM2, wholeMM2 float64) float64 { return math.Min(50, 100*uMM2/math.Max(wholeMM2, 1)) }

func plugBudget(s *vision.Scene, p *plan.Plan, f vision.RootPlug) reading.Budget {
	return append(planeParts(s, p, f.PlugMM2, f.Outline[0], 0, rootsOffU), reading.Part{Name: "where the plug ends", U: f.PlugMM2 * outlineRelU})
}

func leafBudget(s *vision.Scene, p *plan.Plan, f vision.LeafPlant, heightMM float64) reading.Budget {
	telling := leafTelling
	if f.Shared {
		telling = sharedLeafTelling
	}
	return append(planeParts(s, p, f.LeafMM2, f.Centre, heightMM, leafOffU),
		reading.Part{Name: "separating leaf from ground", U: unsureLeaf(f)}, reading.Part{Name: "separating neighbouring plants", U: telling * f.LeafUMM2},
		reading.Part{Name: "leaves of this photo’s kind", U: kindLeafRelU * f.LeafMM2}).AtMost(f.LeafMM2)
}

// unsureLeaf is the standard uncertainty in mm² that follows from how much of a plant is neither surely leaf nor surely not.
func unsureLeaf(f vision.LeafPlant) float64 {
	rim := rimTelling * (1 + seedlingMM2/(f.LeafMM2+8)) * f.UnsureMM2
	return rim + moreThanRim*math.Max(0, f.UnsureMM2-usualRim*math.Sqrt(f.LeafMM2))
}

// yellowBudget is that of the yellow share of a leaf area, in points.
func yellowBudget(f vision.LeafPlant) reading.Budget {
	of := func(uMM2 float64) float64 { return points(uMM2, f.LeafMM2) }
	return reading.Budget{{Name: "separating yellow from green", U: of(yellowTelling * f.UnsureYellowMM2)}, {Name: "separating dead from yellow", U: of(f.DeadMM2)},
		{Name: "yellow of this photo’s kind", U: of(kindYellowRelU * f.YellowMM2)}, {Name: "where yellow begins", U: yellowLeast}}
}

// whiteBalanceU is how far a channel may be off from green after the card has made paper white: papers and printed greys are not quite
// neutral, and two lamps' spectra make more or less of that (a hundredth or two; value from memory).
const whiteBalanceU = 0.015

// What a leaf's own colour is off by beside that, under drawn shadows, gloss and phones: degrees of h_ab, and the dark-green colour index.
const (
	ownHueU       = 1.0
	ownDarkGreenU = 0.01
)

// hueBudget is that of a leaf's hue, in degrees.
func hueBudget(own vision.Lab) reading.Budget {
	return reading.Budget{{Name: "white balance", U: offBalance(own, vision.Lab.HueDeg)}, {Name: "a leaf’s own colour", U: ownHueU}}
}

// darkGreenBudget is that of a leaf's dark-green colour index.
func darkGreenBudget(own vision.Lab) reading.Budget {
	return reading.Budget{{Name: "white balance", U: offBalance(own, vision.Lab.DGCI)}, {Name: "a leaf’s own colour", U: ownDarkGreenU}}
}

// offBalance is how much a figure of a colour changes with red and blue off by whiteBalanceU (JCGM 100:2008, 5.1.3 note 2).
func offBalance(own vision.Lab, figure func(vision.Lab) float64) float64 {
	now := figure(own)
	red, blue := figure(own.Under(vision.RGB{1 + whiteBalanceU, 1, 1})), figure(own.Under(vision.RGB{1, 1, 1 + whiteBalanceU}))
	if math.IsNaN(now) || math.IsNaN(red) || math.IsNaN(blue) {
		return 0
	}
	return math.Hypot(red-now, blue-now)
}

// Mostly names the part that error bars of a value, root_area_mm2 for one, owe the most to over many plugs, by the sum of its shares
// in their squares; "" where no budget is kept.
func Mostly(plugs []reading.Plug, value string) string {
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
	var sum reading.Budget
	for _, name := range slices.Sorted(maps.Keys(shares)) { // of equals the same one each time
		sum = append(sum, reading.Part{Name: name, U: shares[name]})
	}
	return sum.Mostly()
}

// Advice says what can be done about a part of an error bar, "" for nothing.
func Advice(part string) string {
	switch part {
	case partScale:
		return "measure the ruler of your printed card"
	case partLens:
		return "calibrate the lens with `traygauge lens`"
	case partHeight, partHeightUnused:
		return "enter the leaf height in trial.yaml"
	}
	return ""
}
