package surface

import "traygauge/vision/synth/foliage/num"

// Coat is what a surface looks like, place by place, before any light falls on it.
type Coat interface {
	Look(p Place) Look
	IsPlant() bool
}

// Place is a spot on a flattened surface, as corners give it.
type Place struct {
	U, T, A, B float64
	Under      bool // the lower side is seen
}

// Look is what a spot of a surface is like.
type Look struct {
	Own     num.RGB // reflectance
	Through num.RGB // the share of light from behind that comes through
	Dead    float64 // share of dead tissue
	TiltA   float64 // slope of the fine relief along a
	TiltB   float64 // slope across
	Gloss   float64 // mirror-like reflectance, of that of a bare smooth skin (4 %)
	Rough   float64 // 0.05 polished to 0.7 matt
	Fuzz    float64 // pale hairs or bloom that show at a glance along the surface, 0 to 1
	Dust    float64 // share covered by dust
	Lens    Lens
}
