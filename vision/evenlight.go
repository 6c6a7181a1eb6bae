package vision

import "math"

// Uneven is how far the light on a tray changes from part to part, by the tray's own plastic, which is one colour: the largest over the smallest
// of the parts. 1 is even; 0 is not seen.
type Uneven struct {
	Light  float64 // how bright
	Colour float64 // red over green, or blue over green, whichever changes more
}

// The tray is looked at in parts of three by two; a part counts with so many places between cells at which the plastic shows.
const (
	partsAlong, partsAcross = 3, 2
	fewestPlaces            = 3
)

// Unevenness compares the light on the tray's parts. leaf is where leaves lie, nil for none: what they cover or border is passed over.
func (s *Scene) Unevenness(t Tray, g Grid, leaf *Share) Uneven {
	o := s.overview(t)
	defer o.Close()
	m := s.coverMap(o, t, g)
	var parts [partsAlong * partsAcross][]RGB
	for _, i := range m.between(t) {
		if leaf != nil && s.leafNear(leaf, t, g, i%m.w, i/m.w) {
			continue
		}
		c := m.rgb[i]
		x, y := i%m.w*partsAlong/m.w, i/m.w*partsAcross/m.h
		parts[y*partsAlong+x] = append(parts[y*partsAlong+x], c)
	}
	low, high := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{}
	seen := 0
	for _, places := range parts {
		if len(places) < fewestPlaces {
			continue
		}
		seen++
		c := medianLight(places)
		green := math.Max(1e-4, float64(c[1]))
		for k, v := range [3]float64{green, float64(c[0]) / green, float64(c[2]) / green} {
			low[k], high[k] = math.Min(low[k], v), math.Max(high[k], v)
		}
	}
	if seen < 2 {
		return Uneven{}
	}
	return Uneven{high[0] / low[0], math.Max(high[1]/math.Max(1e-4, low[1]), high[2]/math.Max(1e-4, low[2]))}
}

// leafNear reports whether a leaf lies on a place of the cover map or within two of its steps.
func (s *Scene) leafNear(leaf *Share, t Tray, g Grid, i, j int) bool {
	for dj := -2; dj <= 2; dj++ {
		for di := -2; di <= 2; di++ {
			u, v := g.place(t, (float64(i+di)+0.5)*coverStepMM, (float64(j+dj)+0.5)*coverStepMM)
			q := s.Plane.ToPx(s.TrayPoint(u, v))
			x, y := int((q.X+0.5-leaf.X0)/leaf.StepX), int((q.Y+0.5-leaf.Y0)/leaf.StepY)
			if x >= 0 && y >= 0 && x < leaf.W && y < leaf.H && leaf.A[y*leaf.W+x] > mostLeafShare {
				return true
			}
		}
	}
	return false
}

// mostLeafShare is the share of a leaf, of 255, that may be on plastic.
const mostLeafShare = 25
