package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// tray is moulded plastic around the holes.
type tray struct {
	plastic uint16
	wall    uint16       // the inside of a cell
	profile [801]float32 // mm of height by the distance from the hole's edge, profileEvery apart, from profileFrom
	rib     float32      // mm by which the lines between the cells stand out
	ribHalf float32      // mm, half their width
	skin    float32      // mm of the mould's texture
}

const (
	profileFrom  = -16.0 // mm: inside the hole
	profileEvery = 0.05
)

func newTray(d num.Dice, p *solids.Palette, empty bool) *tray {
	m := plastic(d)
	t := &tray{skin: d.Scaled(0.0004, 0.003)}
	t.plastic = p.Add(m)
	m.Own = m.Own.Times(d.Between(0.6, 1))
	t.wall = p.Add(m)
	if d.Chance(0.5) {
		t.rib, t.ribHalf = d.Between(-0.6, 0.8), d.Between(0.2, 1)
	}
	t.mould(d, empty)
	return t
}

// plastic returns a tray's material.
func plastic(d num.Dice) solids.Material {
	m := solids.Material{Owner: solids.OfTray, Mottle: d.Between(0.01, 0.06), Coarse: true, Gloss: d.Between(0.003, 0.04), Polish: d.Count(3, 7),
		Rough: d.Between(0.01, 0.06), Wrap: 0.05}
	switch d.Pick(0.52, 0.2, 0.06, 0.07, 0.06, 0.05, 0.04) {
	case 0: // black
		m.Own = num.Hue(d.Scaled(0.005, 0.03), d.Between(0.95, 1.05), d.Between(0.95, 1.08))
	case 1: // grey
		m.Own = num.Hue(d.Scaled(0.04, 0.3), d.Between(0.96, 1.04), d.Between(0.95, 1.06))
	case 2: // green
		m.Own = num.Hue(d.Scaled(0.03, 0.25), d.Between(0.2, 0.6), d.Between(0.3, 0.7))
	case 3: // white
		m.Own = num.Hue(d.Between(0.5, 0.85), d.Between(0.97, 1.05), d.Between(0.9, 1.02))
	case 4: // terracotta
		m.Own = num.Hue(d.Between(0.08, 0.25), d.Between(2, 3.4), d.Between(0.4, 0.8))
	case 5: // blue
		m.Own = num.Hue(d.Between(0.03, 0.2), d.Between(0.2, 0.6), d.Between(1.5, 3))
	case 6: // lets light through
		m.Own, m.Wrap = num.Hue(d.Between(0.2, 0.5), d.Between(0.95, 1.03), d.Between(0.95, 1.05)), 0.6
	}
	return m
}

// mould draws the section through rim and wall.
func (t *tray) mould(d num.Dice, empty bool) {
	top, steep, bevel := d.Between(-1.5, 2.5), d.Scaled(1.2, 6), d.Scaled(0.15, 1.2)
	deep := d.Between(2.5, 7)
	if empty {
		deep, steep = d.Between(5, 16), d.Scaled(1, 5)
	}
	ring, ringFrom, ringWide := float32(0), d.Between(0, 2), d.Scaled(0.6, 4)
	if d.Chance(0.6) {
		ring = d.Between(-0.5, 1.2)
	}
	foot, footFrom, footWide := d.Between(-1.5, 1.5), d.Between(3, 8), d.Between(0.6, 2) // a ring on an empty cell's floor
	for i := range t.profile {
		out := profileFrom + float32(float32(i)*profileEvery)
		z := top
		if out < bevel { // a round edge that goes over into the wall
			z -= float32(min(bevel, bevel-out) * min(bevel, bevel-out) / (2 * bevel))
			z -= float32(max(0, -out) * steep)
		}
		z = max(z, top-deep)
		z += float32(ring * num.Smooth(0, 0.35, out-ringFrom) * (1 - num.Smooth(ringWide, ringWide+0.35, out-ringFrom)))
		z += float32(foot * num.Smooth(0, 0.4, -out-footFrom) * (1 - num.Smooth(footWide, footWide+0.4, -out-footFrom)))
		t.profile[i] = z
	}
}

// surface is the tray's height and material at a distance inside a hole's edge and from the line between two cells, mm.
func (t *tray) surface(in, web float32) (z float32, solid uint16) {
	at := num.Clamp((-in-profileFrom)/profileEvery, 0, float32(len(t.profile))-1.01)
	i := int(at)
	z = num.Mix(t.profile[i], t.profile[i+1], at-float32(i))
	if in > 0 {
		return z, t.wall
	}
	if t.rib != 0 && web < t.ribHalf+0.3 {
		z += float32(t.rib * (1 - num.Smooth(t.ribHalf, t.ribHalf+0.3, web)))
	}
	return z, t.plastic
}
