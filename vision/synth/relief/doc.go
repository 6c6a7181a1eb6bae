// Package relief draws plug bottoms as a relief: everything is a solid, in millimetres, laid into a height map.
//
// A drawing is made in five steps, each in files of its own:
//
//  1. The bench: tray, gap and the plug's floor (tray.go, board.go, floor.go), at 2 × 2 samples a texel (relief.go).
//  2. The heap: crumbs, grains, chips, flakes, fibres and lumps of perlite, each a solid laid where it is higher than what is
//     there already (heap.go, crumb.go, facet.go, plate.go, fibre.go, lump.go), then algae, water and what lies over all.
//  3. The roots: paths (habit.go, walk.go, plant.go, lateral.go) with widths and colours (body.go, browning.go), which come to rest on
//     the heap and on each other (bed.go) and are laid as tubes at 4 × 4 samples a texel, hidden by what is higher (tube.go).
//  4. The light: shadows cast along the lamp's direction (shadow.go), the share of the sky that a hollow sees (hollow.go), soft
//     diffuse light and gloss (lamp.go; shade.go for the relief, look.go for the roots).
//  5. The labels: which solid is on top, sample by sample (resolve.go), and where centre lines can be seen (line.go).
//
// Lengths are in mm, x to the right and y downward from the drawing's top left corner, z up from the plane of the plug's bottom.
// Colours are linear, in sRGB's primaries.
//
// The same seed gives the same drawing, to the last bit, on every processor. Go may round a product and a sum in one step where the
// processor can, so each product that goes into a sum is rounded first, by a conversion: float32(a*b) + c. The math package's own
// sines and powers differ in the same way; those in number.go do not.
package relief
