// Package brush paints plugs' bottoms for training, in layers of linear light: tray, medium, roots and crumbs, each laid over the
// one below by the share of each texel that it covers. What is seen and what it is stay together that way.
package brush

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"traygauge/vision/synth/closeup"
)

// Roots draws a plug's bottom as closeup.NewRoots(512, 12), 42.7 mm across. The same seed gives the same drawing everywhere.
func Roots(r *rand.Rand) *closeup.Roots { return paint(dice{r}).painting.Roots }

// paint paints a whole scene.
func paint(d dice) *scene {
	s := newScene(d)
	s.paintAround()
	s.paintGround()
	layers := append(s.rootLayers(), s.litter()...)
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
	s.look = newLook(d, s.wet, s.ordinary)
	if d.chance(0.95) {
		s.look.tan = clearOf(s.look.tan, mix(s.recipe.dark, s.recipe.pale, 0.5))
	}
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
	for i, l := range s.Light {
		s.Light[i] = rgb{min(4, max(0, l[0])), min(4, max(0, l[1])), min(4, max(0, l[2]))}
	}
}
