// Package brush paints plugs' bottoms for training, in layers of linear light: tray, medium, roots and crumbs, each laid over the
// one below by the share of each texel that it covers. What is seen and what it is stay together that way.
package brush

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"traygauge/vision/scene/closeup"
)

// Roots draws a plug's bottom as closeup.NewRoots(512, 12), 42.7 mm across. The same seed gives the same drawing everywhere.
func Roots(r *rand.Rand) *closeup.Roots { return paint(dice{r}).painting.Roots }

// paint paints a whole scene.
func paint(d dice) *scene {
	s := newScene(d)
	s.paintAround()
	s.paintGround()
	layers := append(s.rootLayers(), s.litter()...)
	if s.chance(s.unless(0.08, 0.22)) {
		depth := -2.0 // under all else
		if s.chance(0.25) {
			depth = s.between(0, 1)
		}
		layers = append(layers, layer{depth, s.moss})
	}
	slices.SortStableFunc(layers, func(a, b layer) int { return cmp.Compare(a.depth, b.depth) })
	for _, l := range layers {
		l.paint()
	}
	s.finish()
	return s
}

func newScene(d dice) *scene {
	s := &scene{dice: d, painting: newPainting(), textures: newTextures(d), lamp: newLamp(d), ordinary: d.chance(0.5)}
	s.wet = d.between(0, 1)
	if s.ordinary {
		s.wet = d.between(0.15, 0.75)
	}
	s.layout = newLayout(d, s.ordinary)
	s.edge = s.layout.edges()
	rims := s.layout.rims(crumbled{d.between32(0, 2.5), d.between32(0, 1.5)}, s.textures)
	s.recipe = newRecipe(d, s.ordinary).watered(s.wet)
	s.ground = newGround(d, &s.recipe, s.textures, rims)
	s.look = newLook(d, &s.lamp, s.wet, s.ordinary)
	return s
}

// paintAround paints what surrounds the plugs.
func (s *scene) paintAround() {
	if s.layout.loose {
		newTable(s.dice).paint(s.painting, s.ground.inside, s.textures, &s.lamp, s.between32(10, 80))
	} else {
		t := newTray(s.dice, s.layout, s.ordinary)
		t.paint(s.painting, s.layout, s.edge, s.textures, &s.lamp)
		s.cavities(t)
	}
	if s.chance(0.5) {
		s.dirty()
	}
}

// paintGround paints the medium and what has grown or dried on it.
func (s *scene) paintGround() {
	s.ground.paint(s.painting, &s.recipe, &s.lamp)
	if s.chance(0.03) {
		s.salt()
	}
	if s.chance(0.03) {
		s.web()
	}
	if s.wet > 0.5 && s.chance(0.5) || s.chance(0.1) {
		s.glints()
	}
}

// finish paints what lies over the roots, and the light.
func (s *scene) finish() {
	if s.wet > 0.6 && s.chance(0.4) {
		s.films()
	}
	if s.wet > 0.6 && s.chance(0.4) || s.chance(0.03) {
		s.drops()
	}
	s.paintLight()
	if s.chance(0.06) {
		s.occlude()
	}
}

// rootLayers grows and dresses the roots of all plugs.
func (s *scene) rootLayers() []layer {
	how := s.newAbundance()
	if how.cover == 0 || len(s.layout.plugs) == 0 {
		return nil
	}
	var habits []*habit
	for n := s.whole(1, 3); n > 0; n-- {
		habits = append(habits, newHabit(s.dice, s.ordinary))
	}
	form, brown := newForm(s.dice), newBrowning(s.dice)
	b := &rootBrush{painting: s.painting, look: s.look, lamp: &s.lamp, ground: s.ground, grain: s.grain,
		soil: limited(grey(s.recipe.pale, 0.55), 0.3), over: s.between32(-1, 10), clip: s.chance(0.85)}
	if s.chance(0.5) {
		b.over = s.between32(-1, 1)
	}
	hairs, reach, fuzz := s.chance(0.12), s.between(0.15, 0.7), s.between32(0.1, 0.45)
	crowd := &crowd{}
	var layers []layer
	for k := range s.layout.plugs {
		g := &growth{dice: s.dice, plug: &s.layout.plugs[k], crowd: crowd, spread: s.between(0.1, 0.7)}
		g.enough = how.on(g.plug)
		g.grow(habits)
		for _, r := range g.roots {
			form.dress(s.dice, r)
			o := s.look.single(s.dice)
			r.colour(s.dice, &o, brown.along(s.dice, r))
			layers = append(layers, layer{r.depth, func() { b.paint(r, &o) }})
			if hairs && s.chance(0.7) {
				layers = append(layers, layer{r.depth - 1e-6, func() { b.hairs(r, reach, fuzz, &o) }})
			}
		}
	}
	if s.chance(0.07) {
		layers = append(layers, s.evenLines(b)...)
	}
	return layers
}

// colour gives a root its own colour at each point, from how brown it is there.
func (r *root) colour(d dice, o *own, brown []float32) {
	r.own = make([]rgb, len(brown))
	tone, uneven := newWander(d, d.ratio(2, 12)), d.between(0, 0.12)
	for i, b := range brown {
		k := 1 + float64(uneven*tone.at(float64(i)*r.step/perMM))
		r.own[i] = times(o.at(b), float32(max(0.5, k)))
	}
}
