package synth

// neighbourGapMM is what lies between a tray and the next one, on the side away from the card.
const neighbourGapMM = 5

// neighbourLeaves are leaves of the next tray's plants that reach NeighbourMM or so over the tray. They are no plant's of
// this tray and count for none, but hide what is under them.
func neighbourLeaves(s Spec) (leaves []*leaf) {
	if s.NeighbourMM <= 0 {
		return nil
	}
	const back = 12 // mm from the tray's edge to the next tray's stems
	for column := range s.Tray.Columns {
		seed := mix(s.Seed ^ mix(0x6e65696768+uint64(column)))
		r := habit(seed, 11)
		u, _ := s.Tray.centre(0, column)
		at := s.Face.FromTray(u+between(r, -15, 15), s.Tray.WidthMM+back)
		plant := Plant{Plug: true, Leaves: 4 + r.IntN(3), LeafLengthMM: (s.NeighbourMM + back) / 1.4} // blade and stalk: about 1.4 blades
		leaves = append(leaves, leavesOf("", plant, seed, at.X, at.Y)...)
	}
	return leaves
}
