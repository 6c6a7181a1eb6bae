package roots

import "slices"

// usualQuantile of the plugs' diameters is a tray's usual one, even where something hides parts of most plugs. Each is taken to be leastUsualMM at least, so that
// nothing is divided by 0.
const usualQuantile, leastUsualMM = 0.75, 1.0

// setNarrowest compares each plug's diameters with the tray's usual ones. Whatever hides a part of a plug, of whatever colour, is a dent or a hole in the network's map
// of the plug. Diameters are compared and not radii, because a plug may hang to one side of its hole.
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
			share[way] = (seen[way] + seen[way+ways]) / max(leastUsualMM, usual[way])
		}
		plugs[i].Narrowest = slices.Min(medianBeside(share, 1)) // single roots and stones narrow no plug
	}
}

// goesBeyond reports whether plug reaches more than a quarter of the patch's edge. Where the card was printed a tenth too small, a whole plug reaches a sixth of it.
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
