// Package foliage draws parts of canopies in space: stems and stalks as tubes, blades as bent surfaces, seen from straight above
// through a depth buffer, under one lamp with its shadows and the sky. What each texel truly shows follows from which surface is on top.
package foliage

import (
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
)

// Leaves draws a part of a canopy, 170.7 mm across, as closeup.NewLeaves(1024, 6): all that one lamp and the sky show of it, and
// what each texel is. The same random numbers give the same drawing.
func Leaves(r *rand.Rand) *closeup.Leaves {
	s := drawScene(dice{r})
	return s.show(s.bed.lay(s.dice, s.land, s.mesh.hidden()))
}

// drawScene draws at random all that a drawing shows. More than half of the scenes are ordinary: green leafy vegetables in a dark tray.
func drawScene(d dice) *scene {
	ordinary := d.chance(0.55)
	b := drawBed(d, ordinary)
	s := &scene{land: land{drawTrays(d, &b), -b.bench.drop}, lamp: drawLamp(d), mesh: &mesh{}, dice: d.own()}
	s.bed = b
	s.sow(d, drawSowing(d, ordinary, b.tray.pitch))
	if d.chance(0.42) {
		s.addTags(d)
	}
	return s
}

func drawBed(d dice, plain bool) bed {
	b := bed{tray: drawTray(d, plain), plastic: drawPlastic(d, plain), medium: drawMedium(d, plain), film: drawFilm(d),
		bench: drawBench(d),
		seed:  d.IntN(1 << 20), uneven: d.between(0, 2.5), patchy: d.between(0, 0.35)}
	if d.chance(0.1) {
		b.hollow = d.between(0.02, 0.3)
	}
	return b
}

// drawTrays says which trays are in sight: the edge of the one in the middle in some scenes, and there often the next one's.
func drawTrays(d dice, b *bed) []tray {
	if !d.chance(0.22) {
		return []tray{b.tray}
	}
	where := d.IntN(4)
	b.tray.cut(d, where)
	if d.chance(0.2) {
		b.tray.cut(d, (where+1)%4)
	}
	if d.chance(0.25) {
		b.bench.card = drawCard(d, where)
	}
	if d.chance(0.5) {
		return []tray{b.tray, b.tray.beside(d, where, d.scaled(0.5, 25))}
	}
	return []tray{b.tray}
}

// drawCard lays a card on a side of the tray.
func drawCard(d dice, where int) *card {
	c := card{turn: 0.1 * d.bell(), wide: d.between(80, 160), high: d.between(50, 110), seed: d.between(0, 99)}
	along, out := d.between(-40, 90), d.between(2, 30)
	switch where {
	case 0:
		c.x, c.y = out-c.wide, along
	case 1:
		c.x, c.y = along, out-c.high
	case 2:
		c.x, c.y = across-out, along
	default:
		c.x, c.y = along, across-out
	}
	return &c
}
