// Package medium is what plugs are made of and what lies and grows on it: crumbs, perlite, stones, chips and fibres, moss, salt and webs,
// water in films and drops. It makes the setting, which all layers share, and returns the loose things as layers with a depth, to be painted
// in turn with the roots. It knows nothing of roots but that they are labelled where they are seen.
package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
	"traygauge/vision/synth/brush/tray"
)

// Setting is what all layers of a drawing share: the lamp, where plugs are, and the medium before roots grow over it.
type Setting struct {
	num.Dice
	*canvas.Painting
	*texture.Textures
	Lamp     canvas.Lamp
	Layout   *tray.Layout
	Recipe   Recipe
	Ground   *Ground
	Wet      float64 // 0 dusty dry, 0.4 moist, 1 dripping
	Ordinary bool    // whether it is drawn as most trays are: round plugs of usual width in peat
	Perlites int     // grains of perlite
}

// Layer is one thing to be laid on the medium; those of greater depth come later.
type Layer struct {
	Depth float64
	Paint func()
}

// NewSetting draws all that is there before roots grow, but paints nothing yet.
func NewSetting(d num.Dice) *Setting {
	s := &Setting{Dice: d, Painting: canvas.NewPainting(), Textures: texture.New(d), Lamp: canvas.NewLamp(d), Ordinary: d.Chance(0.5)}
	s.Wet = d.Between(0, 1)
	if s.Ordinary {
		s.Wet = d.Between(0.15, 0.75)
	}
	s.Layout = tray.NewLayout(d, s.Ordinary)
	rims := s.Layout.Rims(tray.Crumbled{Uneven: d.Between32(0, 2.5), Crumby: d.Between32(0, 1.5)}, s.Textures)
	s.Recipe = newRecipe(d, s.Ordinary).watered(s.Wet)
	s.Ground = newGround(d, &s.Recipe, s.Textures, rims)
	return s
}

// PaintMedium lays the medium.
func (s *Setting) PaintMedium() { s.Ground.paint(s.Painting, &s.Recipe, &s.Lamp) }
