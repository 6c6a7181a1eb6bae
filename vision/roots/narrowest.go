package roots

import (
	"slices"

	"traygauge/vision/raster"
)

// usualQuantile of a tray's plugs is the usual one: it holds where something hides parts of most plugs.
const usualQuantile = 0.75

// setNarrowest compares each plug's diameters with the tray's. What hides a part of a plug is no plug to the network, be it black or of any other colour: a
// dent or a hole in its map. A diameter stays the same where a plug hangs to one side of its hole, as a radius does not.
func setNarrowest(plugs []Plug) {
	const ways = outlineRays / 2
	var usual [ways]float64
	for way := range usual {
		var all []float64
		for i := range plugs {
			if seen := plugs[i].seen; seen != nil {
				all = append(all, seen[way]+seen[way+ways])
			}
		}
		if len(all) == 0 {
			return
		}
		slices.Sort(all)
		usual[way] = all[int(usualQuantile*float64(len(all)-1)+0.5)]
	}
	for i := range plugs {
		seen := plugs[i].seen
		if seen == nil {
			continue
		}
		share := make([]float64, ways)
		for way := range share {
			share[way] = (seen[way] + seen[way+ways]) / max(raster.LeastLight, usual[way])
		}
		plugs[i].Narrowest = slices.Min(medianBeside(share, 1)) // single roots and stones narrow no plug
	}
}

// goesBeyond reports whether plug goes on over a quarter of the patch's edge. A plug in a photo whose card is a tenth too small
// is cut off over a sixth of it.
func (c *rootCell) goesBeyond(plug []float32) bool {
	const surely, most = 0.5, 0.25
	w, h, n := c.p.w, c.p.h, 0
	for i, share := range plug {
		if x, y := i%w, i/w; share > surely && (x == 0 || y == 0 || x == w-1 || y == h-1) {
			n++
		}
	}
	return float64(n) > most*float64(2*(w+h))
}
