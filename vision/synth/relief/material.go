package relief

// owner says what a solid belongs to, for the labels.
type owner uint8

const (
	ofTray  owner = iota // the tray, the gap, the board and what lies on them
	ofPlug               // medium and what lies on it
	ofCover              // what lies over the plug from outside
)

// material is what a solid's surface is made of.
type material struct {
	own    rgb     // its colour without light
	owner  owner   //
	mottle float32 // how much its colour varies from place to place, in standard deviations of a share
	coarse bool    // whether it varies in lumps of a few tenths of a mm rather than from sample to sample
	gloss  float32 // the share of light mirrored straight back; a film of water has 0.02, plastic 0.04
	polish int     // the mirror's exponent is 2 to this power
	rough  float32 // how far the gloss's normals scatter, as a slope
	clear  bool    // whether light goes through it and falls on its far side, as in a drop of water
	wrap   float32 // how far diffuse light reaches round an edge; what lets light through has more
}

// palette is a drawing's materials. Index 0 is never on top of anything.
type palette []material

// add returns the index of a new material.
func (p *palette) add(m material) uint16 {
	*p = append(*p, m)
	return uint16(len(*p) - 1)
}

// kin adds a number of materials that differ from m by chance, by so many doublings of luminance, and returns their indexes.
func (p *palette) kin(d dice, number int, m material, doublings float32) []uint16 {
	kin := make([]uint16, number)
	own, gloss := m.own, m.gloss
	for i := range kin {
		m.own = d.varied(own, doublings)
		m.gloss = gloss * d.between(0.1, 1.9)
		kin[i] = p.add(m)
	}
	return kin
}

// one returns any of the materials.
func (d dice) one(kin []uint16) uint16 { return kin[d.IntN(len(kin))] }
