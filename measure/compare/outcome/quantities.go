package outcome

// The names of the quantities that other files here or the reports ask for.
const (
	RootArea     = "root area"
	RootLength   = "root length"
	RootCover    = "root cover"
	CanopyCover  = "canopy cover"
	LeafArea     = "leaf area"
	RootBrowning = "brown root share"
	Chlorotic    = "yellow leaf share"
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
