package medium

import "traygauge/vision/synth/brush/num"

// Recipe is what a growing medium is made of.
type Recipe struct {
	Dark, Pale num.RGB // between which its crumbs' colours lie
	odd        num.RGB // of rare crumbs
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
func newRecipe(d num.Dice, ordinary bool) Recipe {
	if ordinary {
		return peat(d)
	}
	return num.Of(d, []num.Weighted[func(num.Dice) Recipe]{
		{Weight: 2.5, Thing: peat}, {Weight: 2, Thing: coir}, {Weight: 1, Thing: bark}, {Weight: 1, Thing: vermiculite}, {Weight: 0.8,
			Thing: rockwool}, {Weight: 1, Thing: sand}, {Weight: 1.2, Thing: loam}, {Weight: 1, Thing: paleMix},
	})(d)
}

func peat(d num.Dice) Recipe {
	y := d.Ratio(0.012, 0.05)
	warm := d.Between(1.12, 1.5)
	blue := 1.64 - float64(0.76*warm) + d.Between(-0.07, 0.07)
	return Recipe{Dark: num.Tint(y*d.Between(0.3, 0.6), warm, blue), Pale: num.Tint(y*d.Between(1.6, 4), warm*d.Between(0.95, 1.12), blue),
		odd: num.Tint(d.Between(0.06, 0.2), d.Between(1.3, 1.6), d.Between(0.4, 0.6)), oddly: d.Between32(0, 0.04),
		crumbs: []crumb{
			{d.Ratio(1, 4), d.Between(1, 2.5), d.Between32(0.3, 0.6), d.Between32(0.05, 0.25), d.Between32(0.05, 0.3), 0.1},
			{d.Ratio(0.4, 0.9), d.Between(1, 2.2), d.Between32(0.3, 0.5), d.Between32(0.1, 0.3), d.Between32(0.1, 0.4), 0.12},
			{d.Ratio(0.15, 0.32), d.Between(1, 3), d.Between32(0.1, 0.35), d.Between32(0.1, 0.4), 0.3, 0.15},
		},
		dust: d.Between32(0.08, 0.3), felt: d.Between32(0, 0.3), patchy: d.Between32(0.05, 0.3), steep: d.Between32(2, 7),
		pores: d.Between32(0.3, 0.8), gloss: d.Between32(0, 0.3)}
}

func coir(d num.Dice) Recipe {
	y := d.Ratio(0.03, 0.14)
	warm := d.Between(1.3, 1.7)
	return Recipe{Dark: num.Tint(y*0.4, warm, d.Between(0.35, 0.6)), Pale: num.Tint(y*d.Between(1.4, 2.4), warm, d.Between(0.35, 0.6)),
		odd: num.Tint(d.Between(0.15, 0.3), d.Between(1.25, 1.5), d.Between(0.4, 0.6)), oddly: d.Between32(0.01, 0.08),
		crumbs: []crumb{
			{d.Ratio(0.6, 2.5), d.Between(1, 4), 0.4, d.Between32(0.05, 0.2), 0.2, 0.1},
			{d.Ratio(0.2, 0.5), d.Between(1, 5), 0.35, d.Between32(0.1, 0.3), 0.3, 0.15},
		},
		dust: d.Between32(0.1, 0.3), felt: d.Between32(0.3, 0.8), patchy: d.Between32(0.05, 0.2), steep: d.Between32(2, 6),
		pores: d.Between32(0.3, 0.7)}
}

func bark(d num.Dice) Recipe {
	y := d.Ratio(0.03, 0.12)
	warm := d.Between(1.25, 1.75)
	return Recipe{Dark: num.Tint(y*0.4, warm, d.Between(0.4, 0.7)), Pale: num.Tint(y*d.Between(1.4, 2.6), warm, d.Between(0.4, 0.7)),
		odd: num.Tint(d.Between(0.12, 0.3), 1.5, 0.45), oddly: d.Between32(0.02, 0.1),
		crumbs: []crumb{
			{d.Ratio(2, 5), d.Between(2, 6), 0.6, d.Between32(0.15, 0.4), d.Between32(0.3, 0.7), 0.14},
			{d.Ratio(0.3, 0.9), d.Between(2, 7), 0.25, d.Between32(0.1, 0.3), 0.2, 0.1},
		},
		dust: d.Between32(0.1, 0.25), felt: d.Between32(0.1, 0.4), patchy: 0.1, steep: d.Between32(4, 10), pores: d.Between32(0.5, 0.9)}
}

func vermiculite(d num.Dice) Recipe {
	y := d.Ratio(0.12, 0.35)
	warm := d.Between(1.2, 1.6)
	return Recipe{Dark: num.Tint(y*0.35, warm, d.Between(0.35, 0.6)), Pale: num.Tint(y*d.Between(1.2, 1.8), warm*0.92, d.Between(0.45, 0.75)),
		odd: num.Tint(0.5, 1.15, 0.75), oddly: d.Between32(0.02, 0.1),
		crumbs: []crumb{
			{d.Ratio(1, 3.5), d.Between(1, 2.5), 0.6, d.Between32(0.2, 0.4), d.Between32(0.5, 1), 0.12},
			{d.Ratio(0.18, 0.4), d.Between(5, 12), 0.2, d.Between32(0.1, 0.25), 0.2, 0.1},
		},
		dust: 0.1, patchy: 0.1, steep: d.Between32(4, 9), pores: d.Between32(0.4, 0.8), gloss: d.Between32(0.5, 1.5)}
}

func rockwool(d num.Dice) Recipe {
	y := d.Ratio(0.25, 0.6)
	warm := d.Between(1.02, 1.15)
	return Recipe{Dark: num.Tint(y*d.Between(0.5, 0.75), warm+0.04, 0.75), Pale: num.Tint(y*1.2, warm, d.Between(0.8, 0.95)),
		crumbs: []crumb{{d.Ratio(0.5, 2), d.Between(2, 8), 0.3, 0.1, 0.1, 0.05}},
		dust:   d.Between32(0.05, 0.2), felt: d.Between32(0.5, 1), patchy: d.Between32(0.1, 0.3),
		steep: d.Between32(1, 3), pores: d.Between32(0.05, 0.3)}
}

func sand(d num.Dice) Recipe {
	y := d.Ratio(0.1, 0.4)
	warm := d.Between(1.03, 1.35)
	return Recipe{Dark: num.Tint(y*0.35, warm, d.Between(0.55, 0.85)), Pale: num.Tint(y*1.7, warm, d.Between(0.6, 0.95)),
		odd: num.Tint(d.Ratio(0.03, 0.8), d.Between(1, 1.5), d.Between(0.5, 1)), oddly: d.Between32(0.03, 0.15),
		crumbs: []crumb{
			{d.Ratio(0.4, 1.6), d.Between(1, 1.6), 0.5, d.Between32(0.2, 0.5), d.Between32(0.3, 0.6), 0.15},
			{d.Ratio(0.15, 0.35), 1.2, 0.3, d.Between32(0.2, 0.5), 0.4, 0.2},
		},
		dust: 0.1, patchy: d.Between32(0.02, 0.15), steep: d.Between32(2, 6), pores: d.Between32(0.3, 0.7), gloss: d.Between32(0, 0.8)}
}

func loam(d num.Dice) Recipe {
	y := d.Ratio(0.03, 0.16)
	warm := d.Between(1.1, 1.6)
	return Recipe{Dark: num.Tint(y*0.6, warm, d.Between(0.5, 0.8)), Pale: num.Tint(y*1.5, warm, d.Between(0.5, 0.8)),
		odd: num.Tint(0.3, 1.1, 0.85), oddly: d.Between32(0, 0.03),
		crumbs: []crumb{
			{d.Ratio(1, 5), d.Between(1, 2), d.Between32(0.3, 0.6), 0.08, 0.25, 0.06},
			{d.Ratio(0.15, 0.4), 1.3, 0.2, 0.15, 0.2, 0.1},
		},
		dust: d.Between32(0.05, 0.2), patchy: d.Between32(0.1, 0.3), steep: d.Between32(2, 6), pores: d.Between32(0.2, 0.6)}
}

// paleMix is a dusty, mealy mixture of pale crumbs.
func paleMix(d num.Dice) Recipe {
	r := peat(d)
	r.Pale, r.Dark = num.Times(r.Pale, d.Between32(2, 4)), num.Times(r.Dark, d.Between32(2, 5))
	r.odd, r.oddly = num.Tint(d.Between(0.3, 0.7), d.Between(1, 1.2), d.Between(0.7, 1)), d.Between32(0.05, 0.25)
	return r
}

// watered makes a medium as wet as asked: 0 dusty dry, 0.4 moist, 1 dripping.
func (r Recipe) watered(wet float64) Recipe {
	if wet < 0.4 {
		dry := float32(1 - wet/0.4)
		lift := 1 + float32(1.1*dry)
		r.Dark, r.Pale = num.Times(num.Grey(r.Dark, float32(0.3*dry)), lift+dry), num.Times(num.Grey(r.Pale, float32(0.3*dry)), lift)
		r.pores = float32(r.pores * (1 - float32(0.4*dry)))
		r.gloss = 0
		return r
	}
	soaked := float32((wet - 0.4) / 0.6)
	dim := 1 - float32(0.45*soaked)
	r.Dark, r.Pale = num.Times(r.Dark, dim), num.Times(r.Pale, dim)
	r.gloss += float32(0.8 * soaked * soaked)
	return r
}
