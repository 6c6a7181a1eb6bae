// Package relief draws plug bottoms as a relief: everything is a solid, in millimetres, laid into a height map.
//
// A drawing is made in five steps, each but the last in a room of its own:
//
//  1. The bench: tray or board, gap and the plug's floor (bench), at 2 × 2 samples a texel.
//  2. The heap (medium): crumbs, grains, chips, flakes, fibres and lumps of perlite, each a solid laid where it is higher than what is
//     there already (solids), then algae, water and what lies over all.
//  3. The roots (roots): paths with widths and colours, which come to rest on the heap and on each other and are laid as tubes at
//     4 × 4 samples a texel, hidden by what is higher.
//  4. The light (lighting): shadows cast along the lamp's direction, the share of the sky that a hollow sees, soft diffuse light
//     and gloss.
//  5. The labels: which solid is on top, sample by sample (resolve.go), and how each is lit (shade.go for the relief, look.go for the
//     roots).
//
// The rooms' shares, sizes and colours were settled by eye, on sheets of drawings (sheet_test.go), where no source is named. The same
// seed gives the same drawing, to the last bit, on every processor (num).
//
// It shares no code with the other styles: a mistake in one must not hide in another.
package relief
