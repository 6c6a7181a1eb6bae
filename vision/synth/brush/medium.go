package brush

// recipe is what a growing medium is made of.
type recipe struct {
	dark, pale rgb     // between which its crumbs' colours lie
	odd        rgb     // of rare crumbs
	oddly      float32 // their share
	crumbs     []crumb // coarse to fine
	dust       float32 // unevenness of tone between texels, deviation
	felt       float32 // streaks of felted fibres, deviation of tone
	patchy     float32 // unevenness of tone over the plug, deviation
	steep      float32 // texels of height per unit of relief
	pores      float32 // darkness of the gaps, 0..1
	gloss      float32 // of faces that happen to mirror the lamp
}

// crumb is one size of crumbs.
type crumb struct {
	size    float64 // mm
	stretch float64 // length over width, squared
	weight  float32 // in the relief
	tone    float32 // how much the tone differs from crumb to crumb
	tilt    float32 // how much crumbs' faces tilt
	crack   float32 // width of the gaps, cells
}

// newRecipe draws a medium.
func newRecipe(d dice, ordinary bool) recipe {
	if ordinary {
		return peat(d)
	}
	return of(d, []weighted[func(dice) recipe]{
		{2.5, peat}, {2, coir}, {1, bark}, {1, vermiculite}, {0.8, rockwool}, {1, sand}, {1.2, loam}, {1, paleMix},
	})(d)
}

func peat(d dice) recipe {
	y := d.ratio(0.012, 0.05)
	warm := d.between(1.12, 1.5)
	blue := 1.64 - float64(0.76*warm) + d.between(-0.07, 0.07)
	return recipe{dark: tint(y*d.between(0.3, 0.6), warm, blue), pale: tint(y*d.between(1.6, 4), warm*d.between(0.95, 1.12), blue),
		odd: tint(d.between(0.06, 0.2), d.between(1.3, 1.6), d.between(0.4, 0.6)), oddly: d.between32(0, 0.04),
		crumbs: []crumb{
			{d.ratio(1, 4), d.between(1, 2.5), d.between32(0.3, 0.6), d.between32(0.05, 0.25), d.between32(0.05, 0.3), 0.1},
			{d.ratio(0.4, 0.9), d.between(1, 2.2), d.between32(0.3, 0.5), d.between32(0.1, 0.3), d.between32(0.1, 0.4), 0.12},
			{d.ratio(0.15, 0.32), d.between(1, 3), d.between32(0.1, 0.35), d.between32(0.1, 0.4), 0.3, 0.15},
		},
		dust: d.between32(0.08, 0.3), felt: d.between32(0, 0.3), patchy: d.between32(0.05, 0.3), steep: d.between32(2, 7),
		pores: d.between32(0.3, 0.8), gloss: d.between32(0, 0.3)}
}

func coir(d dice) recipe {
	y := d.ratio(0.03, 0.14)
	warm := d.between(1.3, 1.7)
	return recipe{dark: tint(y*0.4, warm, d.between(0.35, 0.6)), pale: tint(y*d.between(1.4, 2.4), warm, d.between(0.35, 0.6)),
		odd: tint(d.between(0.15, 0.3), d.between(1.25, 1.5), d.between(0.4, 0.6)), oddly: d.between32(0.01, 0.08),
		crumbs: []crumb{
			{d.ratio(0.6, 2.5), d.between(1, 4), 0.4, d.between32(0.05, 0.2), 0.2, 0.1},
			{d.ratio(0.2, 0.5), d.between(1, 5), 0.35, d.between32(0.1, 0.3), 0.3, 0.15},
		},
		dust: d.between32(0.1, 0.3), felt: d.between32(0.3, 0.8), patchy: d.between32(0.05, 0.2), steep: d.between32(2, 6),
		pores: d.between32(0.3, 0.7)}
}

func bark(d dice) recipe {
	y := d.ratio(0.03, 0.12)
	warm := d.between(1.25, 1.75)
	return recipe{dark: tint(y*0.4, warm, d.between(0.4, 0.7)), pale: tint(y*d.between(1.4, 2.6), warm, d.between(0.4, 0.7)),
		odd: tint(d.between(0.12, 0.3), 1.5, 0.45), oddly: d.between32(0.02, 0.1),
		crumbs: []crumb{
			{d.ratio(2, 5), d.between(2, 6), 0.6, d.between32(0.15, 0.4), d.between32(0.3, 0.7), 0.14},
			{d.ratio(0.3, 0.9), d.between(2, 7), 0.25, d.between32(0.1, 0.3), 0.2, 0.1},
		},
		dust: d.between32(0.1, 0.25), felt: d.between32(0.1, 0.4), patchy: 0.1, steep: d.between32(4, 10), pores: d.between32(0.5, 0.9)}
}

func vermiculite(d dice) recipe {
	y := d.ratio(0.12, 0.35)
	warm := d.between(1.2, 1.6)
	return recipe{dark: tint(y*0.35, warm, d.between(0.35, 0.6)), pale: tint(y*d.between(1.2, 1.8), warm*0.92, d.between(0.45, 0.75)),
		odd: tint(0.5, 1.15, 0.75), oddly: d.between32(0.02, 0.1),
		crumbs: []crumb{
			{d.ratio(1, 3.5), d.between(1, 2.5), 0.6, d.between32(0.2, 0.4), d.between32(0.5, 1), 0.12},
			{d.ratio(0.18, 0.4), d.between(5, 12), 0.2, d.between32(0.1, 0.25), 0.2, 0.1},
		},
		dust: 0.1, patchy: 0.1, steep: d.between32(4, 9), pores: d.between32(0.4, 0.8), gloss: d.between32(0.5, 1.5)}
}

func rockwool(d dice) recipe {
	y := d.ratio(0.25, 0.6)
	warm := d.between(1.02, 1.15)
	return recipe{dark: tint(y*d.between(0.5, 0.75), warm+0.04, 0.75), pale: tint(y*1.2, warm, d.between(0.8, 0.95)),
		crumbs: []crumb{{d.ratio(0.5, 2), d.between(2, 8), 0.3, 0.1, 0.1, 0.05}},
		dust:   d.between32(0.05, 0.2), felt: d.between32(0.5, 1), patchy: d.between32(0.1, 0.3),
		steep: d.between32(1, 3), pores: d.between32(0.05, 0.3)}
}

func sand(d dice) recipe {
	y := d.ratio(0.1, 0.4)
	warm := d.between(1.03, 1.35)
	return recipe{dark: tint(y*0.35, warm, d.between(0.55, 0.85)), pale: tint(y*1.7, warm, d.between(0.6, 0.95)),
		odd: tint(d.ratio(0.03, 0.8), d.between(1, 1.5), d.between(0.5, 1)), oddly: d.between32(0.03, 0.15),
		crumbs: []crumb{
			{d.ratio(0.4, 1.6), d.between(1, 1.6), 0.5, d.between32(0.2, 0.5), d.between32(0.3, 0.6), 0.15},
			{d.ratio(0.15, 0.35), 1.2, 0.3, d.between32(0.2, 0.5), 0.4, 0.2},
		},
		dust: 0.1, patchy: d.between32(0.02, 0.15), steep: d.between32(2, 6), pores: d.between32(0.3, 0.7), gloss: d.between32(0, 0.8)}
}

func loam(d dice) recipe {
	y := d.ratio(0.03, 0.16)
	warm := d.between(1.1, 1.6)
	return recipe{dark: tint(y*0.6, warm, d.between(0.5, 0.8)), pale: tint(y*1.5, warm, d.between(0.5, 0.8)),
		odd: tint(0.3, 1.1, 0.85), oddly: d.between32(0, 0.03),
		crumbs: []crumb{
			{d.ratio(1, 5), d.between(1, 2), d.between32(0.3, 0.6), 0.08, 0.25, 0.06},
			{d.ratio(0.15, 0.4), 1.3, 0.2, 0.15, 0.2, 0.1},
		},
		dust: d.between32(0.05, 0.2), patchy: d.between32(0.1, 0.3), steep: d.between32(2, 6), pores: d.between32(0.2, 0.6)}
}

// paleMix is a dusty, mealy mixture of pale crumbs.
func paleMix(d dice) recipe {
	r := peat(d)
	r.pale, r.dark = times(r.pale, d.between32(2, 4)), times(r.dark, d.between32(2, 5))
	r.odd, r.oddly = tint(d.between(0.3, 0.7), d.between(1, 1.2), d.between(0.7, 1)), d.between32(0.05, 0.25)
	return r
}

// watered makes a medium as wet as asked: 0 dusty dry, 0.4 moist, 1 dripping.
func (r recipe) watered(wet float64) recipe {
	if wet < 0.4 {
		dry := float32(1 - wet/0.4)
		lift := 1 + float32(1.1*dry)
		r.dark, r.pale = times(grey(r.dark, float32(0.3*dry)), lift+dry), times(grey(r.pale, float32(0.3*dry)), lift)
		r.pores = float32(r.pores * (1 - float32(0.4*dry)))
		r.gloss = 0
		return r
	}
	soaked := float32((wet - 0.4) / 0.6)
	dim := 1 - float32(0.45*soaked)
	r.dark, r.pale = times(r.dark, dim), times(r.pale, dim)
	r.gloss += float32(0.8 * soaked * soaked)
	return r
}
