package solids

import "traygauge/vision/synth/relief/num"

// Owner says what a solid belongs to, for the labels.
type Owner uint8

const (
	OfTray  Owner = iota // the tray, the gap, the board and what lies on them
	OfPlug               // medium and what lies on it
	OfCover              // what lies over the plug from outside
)

// Material is what a solid's surface is made of.
type Material struct {
	Own    num.RGB // its colour without light
	Owner  Owner   //
	Mottle float32 // how much its colour varies from place to place, in standard deviations of a share
	Coarse bool    // whether it varies in lumps of a few tenths of a mm rather than from sample to sample
	Gloss  float32 // the share of light mirrored straight back; a film of water has 0.02, plastic 0.04
	Polish int     // the mirror's exponent is 2 to this power
	Rough  float32 // how far the gloss's normals scatter, as a slope
	Clear  bool    // whether light goes through it and falls on its far side, as in a drop of water
	Wrap   float32 // how far diffuse light reaches round an edge; what lets light through has more
}

// Palette is a drawing's materials. Index 0 is never on top of anything.
type Palette []Material

// Add returns the index of a new material.
func (p *Palette) Add(m Material) uint16 {
	*p = append(*p, m)
	return uint16(len(*p) - 1)
}

// Kin adds a number of materials that differ from m by chance, by so many doublings of luminance, and returns their indexes.
func (p *Palette) Kin(d num.Dice, number int, m Material, doublings float32) []uint16 {
	kin := make([]uint16, number)
	own, gloss := m.Own, m.Gloss
	for i := range kin {
		m.Own = d.Varied(own, doublings)
		m.Gloss = gloss * d.Between(0.1, 1.9)
		kin[i] = p.Add(m)
	}
	return kin
}
