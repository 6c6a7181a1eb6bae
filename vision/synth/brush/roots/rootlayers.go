// Package roots grows roots on the plugs of a setting, gives them widths, depths and colours, and returns each as a layer to be painted in
// turn with what lies on the medium. In go the setting and how roots look; out come layers. It does not know tray, litter and water, nor
// when its layers are painted.
package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/medium"
	"traygauge/vision/synth/brush/num"
)

// planting is what roots grow in, and how they look.
type planting struct {
	*medium.Setting
	look *Look
}

// Layers grows and dresses the roots of all plugs.
func Layers(in *medium.Setting, k *Look) []medium.Layer {
	s := &planting{in, k}
	how := s.newAbundance()
	if how.cover == 0 || len(s.Layout.Plugs) == 0 {
		return nil
	}
	habits := s.habits(how)
	w := &wardrobe{form: newForm(s.Dice), browning: newBrowning(s.Dice), brush: s.newRootBrush()}
	if s.Chance(0.12) {
		w.hairs, w.reach = s.Between32(0.1, 0.45), s.Between(0.15, 0.7)
	}
	crowd := &crowd{}
	var layers []medium.Layer
	for k := range s.Layout.Plugs {
		g := &growth{Dice: s.Dice, plug: &s.Layout.Plugs[k], crowd: crowd, spread: s.Between(0.1, 0.7)}
		g.enough = how.on(g.plug)
		g.grow(habits)
		for _, r := range g.roots {
			layers = append(layers, s.dressed(r, w)...)
		}
	}
	if s.Chance(0.16) {
		layers = append(layers, s.evenLines(w.brush)...)
	}
	return layers
}

// habits draws the ways in which the drawing's roots grow.
func (s *planting) habits(how abundance) []*habit {
	var all []*habit
	for n := s.Whole(1, 3); n > 0; n-- {
		h := newHabit(s.Dice, s.Ordinary)
		if thin := how.widest / h.width[1]; thin > 1 { // fine roots alone make no mat
			h.width[0], h.width[1] = float64(h.width[0]*thin), float64(h.width[1]*thin)
		}
		all = append(all, h)
	}
	if how.widest == 0 && s.Chance(0.08) { // many thin ones beside them, of the same light
		for range 3 {
			h, w := newHabit(s.Dice, s.Ordinary), s.Ratio(0.06, 0.2)
			h.width, h.thinnest = [2]float64{min(w, 0.1), w}, 0.06
			all = append(all, h)
		}
	}
	return all
}

// wardrobe is what the drawing's roots have in common once they have grown.
type wardrobe struct {
	form     form
	browning browning
	brush    *rootBrush
	hairs    float32 // how dense root hairs are, 0..1; 0 for none
	reach    float64 // how long they are, mm
}

// newRootBrush draws how roots end at the plug's rim.
func (s *planting) newRootBrush() *rootBrush {
	b := &rootBrush{Painting: s.Painting, look: s.look, lamp: &s.Lamp, ground: s.Ground, grain: s.Grain,
		soil: limited(num.Grey(s.Recipe.Pale, 0.55), 0.3), over: s.Between32(-1, 10), clip: s.Chance(0.85)}
	if s.Chance(0.5) {
		b.over = s.Between32(-1, 1)
	}
	return b
}

// dressed gives a root its form and colour, and returns it and perhaps its hairs as layers.
func (s *planting) dressed(r *root, w *wardrobe) []medium.Layer {
	w.form.dress(s.Dice, r)
	o := s.look.single(s.Dice)
	r.colour(s.Dice, &o, w.browning.along(s.Dice, r))
	layers := []medium.Layer{{Depth: r.depth, Paint: func() { w.brush.paint(r, &o) }}}
	if w.hairs > 0 && s.Chance(0.7) {
		layers = append(layers, medium.Layer{Depth: r.depth - 1e-6, Paint: func() { w.brush.hairs(r, w.reach, w.hairs, &o) }})
	}
	return layers
}

// colour gives a root its own colour at each point, from how brown it is there.
func (r *root) colour(d num.Dice, o *own, brown []float32) {
	r.own = make([]num.RGB, len(brown))
	tone, uneven := newWander(d, d.Ratio(2, 12)), d.Between(0, 0.12)
	for i, b := range brown {
		k := 1 + float64(uneven*tone.at(float64(i)*r.Step/canvas.PerMM))
		r.own[i] = num.Times(o.at(b), float32(max(0.5, k)))
	}
}
