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

// reachesBeyond reports whether plug goes on up to the patch's edge, as it does where the card's mm are not the tray's: then a part of it was not looked at.
func (c *rootCell) reachesBeyond(plug []float32) bool {
	const surely = 0.5
	w, h := c.p.w, c.p.h
	for x := range w {
		if plug[x] > surely || plug[(h-1)*w+x] > surely {
			return true
		}
	}
	for y := range h {
		if plug[y*w] > surely || plug[y*w+w-1] > surely {
			return true
		}
	}
	return false
}
