// Package brush paints plugs' bottoms for training, in layers of linear light: tray, medium, roots and crumbs, each laid over the
// one below by the share of each texel that it covers. What is seen and what it is stay together that way.
//
// Its rooms: num (numbers, directions, colours, chance), canvas (strokes, shadows, the lamp), texture (noises), tray (plugs, holes and what
// surrounds them), medium (what plugs are made of and what lies on it) and roots. Here they are put together, and what comes over all is
// added: water, the light's unevenness, things from outside.
//
// Shares, sizes and colours were settled by eye on sheets of drawings (sheet_test.go), where no source is named. It shares no code with the
// other styles: a mistake in one must not hide in another.
package brush

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"traygauge/vision/synth/brush/medium"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/roots"
	"traygauge/vision/synth/brush/tray"
	"traygauge/vision/synth/closeup"
)

// Roots draws a plug's bottom as closeup.NewRoots(512, 12), 42.7 mm across. The same seed gives the same drawing everywhere.
func Roots(r *rand.Rand) *closeup.Roots { return paint(num.Dice{Rand: r}).Painting.Roots }

// paint paints a whole scene.
func paint(d num.Dice) *scene {
	s := newScene(d)
	s.paintAround()
	s.paintGround()
	layers := append(roots.Layers(s.Setting, s.look), s.Litter()...)
	slices.SortStableFunc(layers, func(a, b medium.Layer) int { return cmp.Compare(a.Depth, b.Depth) })
	for _, l := range layers {
		l.Paint()
	}
	s.finish()
	return s
}

// scene is a drawing in the making.
type scene struct {
	*medium.Setting
	edge []float32 // distance inside the tray's holes, texels
	look *roots.Look
}

func newScene(d num.Dice) *scene {
	s := &scene{Setting: medium.NewSetting(d)}
	s.edge = s.Layout.Edges()
	s.look = roots.NewLook(d, s.Wet, s.Ordinary)
	if d.Chance(0.95) {
		s.look.ClearOf(num.Mix(s.Recipe.Dark, s.Recipe.Pale, 0.5))
	}
	return s
}

// paintAround paints what surrounds the plugs.
func (s *scene) paintAround() {
	if s.Layout.Loose {
		tray.NewTable(s.Dice).Paint(s.Painting, s.Ground.Inside, s.Textures, &s.Lamp, s.Between32(10, 80))
	} else {
		t := tray.NewTray(s.Dice, s.Layout, s.Ordinary)
		t.Paint(s.Painting, s.Layout, s.edge, s.Textures, &s.Lamp)
		t.Cavities(s.Dice, s.Painting, s.Layout, s.Textures, &s.Lamp)
	}
	if s.Chance(0.5) {
		s.Dirty()
	}
}

// paintGround paints the medium and what has grown or dried on it.
func (s *scene) paintGround() {
	s.PaintMedium()
	if s.Chance(0.03) {
		s.Salt()
	}
	if s.Chance(0.03) {
		s.Web()
	}
	if s.Wet > 0.5 && s.Chance(0.5) || s.Chance(0.1) {
		s.Glints()
	}
}

// finish paints what lies over the roots, and the light.
func (s *scene) finish() {
	if s.Wet > 0.6 && s.Chance(0.4) {
		s.Films()
	}
	if s.Wet > 0.6 && s.Chance(0.4) || s.Chance(0.03) {
		s.Drops()
	}
	s.paintLight()
	if s.Chance(0.06) {
		s.occlude()
	}
	for i, l := range s.Light {
		s.Light[i] = num.RGB{min(4, max(0, l[0])), min(4, max(0, l[1])), min(4, max(0, l[2]))}
	}
}
