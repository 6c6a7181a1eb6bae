package outcome

import "traygauge/measure/plan"

// The names of the quantities that other files here or the reports ask for. Nothing else writes them out.
const (
	RootArea     = plan.RootArea
	RootLength   = plan.RootLength
	RootCover    = "root cover"
	CanopyCover  = plan.CanopyCover
	LeafArea     = plan.LeafArea
	RootBrowning = plan.RootBrowning
	Chlorotic    = plan.Chlorotic
	RootToShoot  = "root area per leaf area"
	RootUneven   = "spread of root area between plugs"
	LeafUneven   = "spread of leaf area between plugs"
	RootGrowth   = "relative growth rate of roots"
	LeafGrowth   = "relative growth rate of leaves"
	RootSeason   = "relative growth rate of roots over all reviews"
	LeafSeason   = "relative growth rate of leaves over all reviews"
	Stand        = "stand"
	LeafHue      = "leaf hue"
	DarkGreen    = "dark-green colour index"
)
