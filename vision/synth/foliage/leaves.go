// Package foliage draws parts of canopies in space: stems and stalks as tubes, blades as bent surfaces, seen from straight above
// through a depth buffer, under one lamp with its shadows and the sky. What each texel truly shows follows from which surface is on top.
//
// Its rooms: num (directions, colours, chance, noise), tray (where cells are), surface (meshes seen from above), shape (blades, ribs and
// tubes), skin (colours, veins, yellowing), plants (sorts, how they grow and where), ground and lighting. Here they are put together and
// drawn texel by texel; labels stuck into cells come last.
//
// Shares, sizes and colours were settled by eye on sheets of drawings (sheet_test.go), where no source is named. It shares no code with the
// other styles: a mistake in one must not hide in another.
package foliage

import (
	"math/rand/v2"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage/ground"
	"traygauge/vision/synth/foliage/lighting"
	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/plants"
	"traygauge/vision/synth/foliage/surface"
)

// Leaves draws a part of a canopy, 170.7 mm across, as closeup.NewLeaves(1024, 6): all that one lamp and the sky show of it, and
// what each texel is. The same random numbers give the same drawing.
func Leaves(r *rand.Rand) *closeup.Leaves {
	s := drawScene(num.Dice{Rand: r})
	return s.show(s.bed.Lay(s.dice, s.land, s.mesh.Hidden()))
}

// drawScene draws at random all that a drawing shows. More than half of the scenes are ordinary: green leafy vegetables in a dark tray.
func drawScene(d num.Dice) *scene {
	ordinary := d.Chance(0.55)
	b := ground.DrawBed(d, ordinary)
	s := &scene{land: b.DrawLand(d), lamp: lighting.DrawLamp(d), mesh: &surface.Mesh{}, dice: d.Own()}
	s.bed = b
	s.bases = plants.Sow(d, ordinary, &s.land, s.bed.Empty, s.mesh)
	if d.Chance(0.42) {
		s.addTags(d)
	}
	return s
}
