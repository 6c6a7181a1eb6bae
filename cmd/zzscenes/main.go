package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"

	"traygauge/vision/card"
	"traygauge/vision/scene"
)

func main() {
	dir := os.Args[1]
	os.MkdirAll(dir, 0o755)
	type stage struct {
		name        string
		leaves      int
		leafMM      float64
		rootMM      float64
		brown       float64
		yellow      float64
		height      float64
		algae       float64
	}
	for _, st := range []stage{
		{"seed", 2, 6, 20, 0, 0, 3, 0}, {"d7", 2, 9, 80, 0, 0, 5, 0}, {"d14", 4, 16, 200, 0, 0, 8, 0.1}, {"d21", 5, 26, 500, 0.2, 0.1, 16, 0},
		{"d28", 6, 40, 1200, 0, 0.3, 28, 0.2}, {"sick", 4, 20, 300, 0.8, 0.8, 16, 0.2}, {"algae", 4, 12, 100, 0.1, 0, 10, 0.6},
	} {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			for _, shows := range []card.Face{card.Roots, card.Shoots} {
				s := scene.Defaults(face)
				s.Shows = shows
				s.Resize(2400, 1800)
				s.Plants = map[string]scene.Plant{}
				s.LeafHeight = st.height
				s.Algae = st.algae
				if st.algae > 0 { s.Board = scene.WoodBoard; s.Wet = true }
				r := rand.New(rand.NewPCG(7, uint64(len(st.name))))
				for _, c := range s.Tray.Cells() {
					if r.Float64() < 0.06 {
						continue
					}
					k := 0.7 + 0.6*r.Float64()
					s.Plants[c] = scene.Plant{Plug: true, Leaves: st.leaves, LeafLengthMM: st.leafMM * k, RootLengthMM: st.rootMM * k, RootBrown: st.brown, Yellow: st.yellow}
				}
				img, _, err := scene.Draw(s)
				if err != nil {
					panic(err)
				}
				name := filepath.Join(dir, fmt.Sprintf("%s-shows-%v-card-%v.jpg", st.name, shows, face))
				if err := scene.WriteJPEG(name, img, 90, scene.EXIF{Focal35: 26, Orientation: 1}); err != nil {
					panic(err)
				}
			}
		}
	}
}
