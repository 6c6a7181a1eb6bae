package foliage

// coat is what a surface looks like, place by place, before any light falls on it.
type coat interface {
	look(p place) look
	isPlant() bool
}

// place is a spot on a flattened surface, as corners give it.
type place struct {
	u, t, a, b float64
	under      bool // the lower side is seen
}

// look is what a spot of a surface is like.
type look struct {
	own     rgb     // reflectance
	through rgb     // the share of light from behind that comes through
	dead    float64 // share of dead tissue
	tiltA   float64 // slope of the fine relief along a
	tiltB   float64 // slope across
	gloss   float64 // mirror-like reflectance, of that of a bare smooth skin (4 %)
	rough   float64 // 0.05 polished to 0.7 matt
	fuzz    float64 // pale hairs or bloom that show at a glance along the surface, 0 to 1
	dust    float64 // share covered by dust
	lens    lens
}
