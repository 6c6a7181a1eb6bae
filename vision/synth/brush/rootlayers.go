package brush

// rootLayers grows and dresses the roots of all plugs.
func (s *scene) rootLayers() []layer {
	how := s.newAbundance()
	if how.cover == 0 || len(s.layout.plugs) == 0 {
		return nil
	}
	habits := s.habits(how)
	w := &wardrobe{form: newForm(s.dice), browning: newBrowning(s.dice), brush: s.newRootBrush()}
	if s.chance(0.12) {
		w.hairs, w.reach = s.between32(0.1, 0.45), s.between(0.15, 0.7)
	}
	crowd := &crowd{}
	var layers []layer
	for k := range s.layout.plugs {
		g := &growth{dice: s.dice, plug: &s.layout.plugs[k], crowd: crowd, spread: s.between(0.1, 0.7)}
		g.enough = how.on(g.plug)
		g.grow(habits)
		for _, r := range g.roots {
			layers = append(layers, s.dressed(r, w)...)
		}
	}
	if s.chance(0.16) {
		layers = append(layers, s.evenLines(w.brush)...)
	}
	return layers
}

// habits draws the ways in which the drawing's roots grow.
func (s *scene) habits(how abundance) []*habit {
	var all []*habit
	for n := s.whole(1, 3); n > 0; n-- {
		h := newHabit(s.dice, s.ordinary)
		if thin := how.widest / h.width[1]; thin > 1 { // fine roots alone make no mat
			h.width[0], h.width[1] = float64(h.width[0]*thin), float64(h.width[1]*thin)
		}
		all = append(all, h)
	}
	if how.widest == 0 && s.chance(0.08) { // many thin ones beside them, of the same light
		for range 3 {
			h, w := newHabit(s.dice, s.ordinary), s.ratio(0.06, 0.2)
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
func (s *scene) newRootBrush() *rootBrush {
	b := &rootBrush{painting: s.painting, look: s.look, lamp: &s.lamp, ground: s.ground, grain: s.grain,
		soil: limited(grey(s.recipe.pale, 0.55), 0.3), over: s.between32(-1, 10), clip: s.chance(0.85)}
	if s.chance(0.5) {
		b.over = s.between32(-1, 1)
	}
	return b
}

// dressed gives a root its form and colour, and returns it and perhaps its hairs as layers.
func (s *scene) dressed(r *root, w *wardrobe) []layer {
	w.form.dress(s.dice, r)
	o := s.look.single(s.dice)
	r.colour(s.dice, &o, w.browning.along(s.dice, r))
	layers := []layer{{r.depth, func() { w.brush.paint(r, &o) }}}
	if w.hairs > 0 && s.chance(0.7) {
		layers = append(layers, layer{r.depth - 1e-6, func() { w.brush.hairs(r, w.reach, w.hairs, &o) }})
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
