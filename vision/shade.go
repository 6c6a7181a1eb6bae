package vision

import "math"

// The lamp does not light a whole tray alike, and the card tells only its own corner. The tray tells the rest: its webs are
// of one plastic, so how light they look is how much light falls there.

// shade is how the light changes over the tray: ln(light) goes as alongU·u + alongV·v.
type shade struct{ alongU, alongV float64 }

// mostShade is how far the light over a plug may differ from the card's to be evened out, as a factor; what is more is no
// lamp but dirt on the tray or leaves on the webs.
const mostShade = 2.5

// sighting is how light something looks at a place in the tray.
type sighting struct{ u, v, light float64 }

// fitShade fits the logarithms of the lights by least squares, of which prior pulls the slopes to 0 with the weight of so many
// sightings; ok is false for too few.
func fitShade(seen []sighting, prior float64) (shade, bool) {
	if len(seen) < 6 {
		return shade{}, false
	}
	n := float64(len(seen))
	var mu, mv float64
	for _, p := range seen {
		mu, mv = mu+p.u/n, mv+p.v/n
	}
	var m [3][4]float64
	for _, p := range seen {
		row := [4]float64{1, p.u - mu, p.v - mv, math.Log(p.light)}
		for i := range 3 {
			for j := range 4 {
				m[i][j] += row[i] * row[j]
			}
		}
	}
	m[1][1] *= 1 + prior/n
	m[2][2] *= 1 + prior/n
	x, ok := solve3(m)
	return shade{x[1], x[2]}, ok
}

// shadeOf fits the webs' luminance, cells without a web left out.
func shadeOf(cells []*rootCell) (shade, bool) {
	var seen []sighting
	for _, c := range cells {
		if !c.plug.Cut && c.web.light > 1e-4 {
			seen = append(seen, sighting{c.u, c.v, c.web.light})
		}
	}
	return fitShade(seen, 0)
}

// over returns the light at (u, v) over that at the card's white window.
func (h shade) over(s *Scene, u, v float64) float64 {
	cu, cv := s.TrayUV(s.windowCentre())
	d := h.alongU*(u-cu) + h.alongV*(v-cv)
	limit := math.Log(mostShade)
	return math.Exp(math.Max(-limit, math.Min(limit, d)))
}

// evenLight gives every cell the gain that brings it to the light that falls on the card, so that paper would be 1 anywhere.
func (s *Scene) evenLight(cells []*rootCell) {
	h, ok := shadeOf(cells)
	if !ok {
		return
	}
	for _, c := range cells {
		k := 1 / h.over(s, c.u, c.v)
		c.gain = c.gain.times(float32(k))
		c.core.light, c.core.spread, c.web.light = c.core.light*k, c.core.spread*k, c.web.light*k
	}
}
