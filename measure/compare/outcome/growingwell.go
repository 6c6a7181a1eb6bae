package outcome

import (
	"fmt"
	"strings"
)

// Sort decides among the four. Leaves decide where roots were not measured; without leaves there is no colour to Sort by.
func (g *TrayGrowth) Sort() {
	if !g.LeafRatio.Known() || !g.ChloroticOff.Known() {
		g.Why = "the leaves of the tray or of its control were not measured on that day"
		return
	}
	var back, pale []string
	if g.RootRatio.Known() && g.RootRatio < heldBackBelow {
		back = append(back, fmt.Sprintf("root area %.2f times the control’s", float64(g.RootRatio)))
	}
	if g.LeafRatio < heldBackBelow {
		back = append(back, fmt.Sprintf("leaf area %.2f times the control’s", float64(g.LeafRatio)))
	}
	yellow := g.ChloroticOff >= yellowingPoints
	if yellow {
		pale = append(pale, fmt.Sprintf("yellow share %.0f percentage points above the control’s", float64(g.ChloroticOff)))
	}
	brown := g.BrowningOff.Known() && g.BrowningOff >= browningPoints
	if brown {
		pale = append(pale, fmt.Sprintf("brown roots %.0f percentage points above the control’s", float64(g.BrowningOff)))
	}
	switch {
	case len(back) > 0 && (yellow || brown):
		g.Growing = HeldBackPale
	case len(back) > 0:
		g.Growing = HeldBackGreen
	case yellow:
		g.Growing = WellYellowing
	default:
		g.Growing = WellGreen
	}
	reasons := append(back, pale...)
	if gaps := g.Gaps(); gaps != "" {
		reasons = append(reasons, gaps)
	}
	if !g.RootRatio.Known() {
		reasons = append(reasons, "by leaves only")
	}
	g.Why = strings.Join(reasons, ", ")
}

// gapsBelow is the stand, as a share, below which it is named: how the plants grow says nothing of those that are missing (common practice, no source).
const gapsBelow = 0.9

// Gaps says how many plugs have a plant where that is few; "" otherwise.
func (g *TrayGrowth) Gaps() string {
	if float64(g.Plants) >= gapsBelow*float64(g.Plugs) {
		return ""
	}
	return fmt.Sprintf("%d of %d plugs have a plant", g.Plants, g.Plugs)
}

// A tray is held back when its root or its leaf area is less than this share of its control's. Trays treated alike are
// taken to differ by a tenth, as in planning.UsualVariation.
const heldBackBelow = 0.9

// A tray yellows, or its roots brown, when the share is this much above its control's on the same day, in percentage points:
// beyond what measuring gets wrong. On drawn photos 95 of 100 plants' yellow shares were within 4 points, and brown root
// area was off by a fifth (vision/README.md, Accuracy).
const (
	yellowingPoints = 5
	browningPoints  = 10
)
