package vision

import "math"

// The lamp does not light a whole tray alike, and the card tells only its own corner. The tray tells the rest: its webs are
// of one plastic, so how light they look is how much light falls there.

// shade is the light over the tray: ln(light) = at0 + alongU·u + alongV·v.
type shade struct{ at0, alongU, alongV float64 }

// mostShade is how far the light over a plug may differ from the card's to be evened out, as a factor; what is more is no
// lamp but dirt on the tray or leaves on the webs.
const mostShade = 2.5

// fitShade fits the logarithms of how light something looks at places in the tray; ok is false for too few.
func fitShade(at [][2]float64, light []float64) (shade, bool) {
	var m [3][4]float64
	for k, p := range at {
		row := [4]float64{1, p[0], p[1], math.Log(light[k])}
		for i := range 3 {
			for j := range 4 {
				m[i][j] += row[i] * row[j]
			}
		}
	}
	if len(at) < 6 {
		return shade{}, false
	}
	x, ok := solve3(m)
	return shade{x[0], x[1], x[2]}, ok
}

// shadeOf fits the webs' luminance, cells without a web left out.
func shadeOf(cells []*rootCell, t Tray) (shade, bool) {
	var at [][2]float64
	var light []float64
	for _, c := range cells {
		if !c.plug.Cut && c.web.light > 1e-4 {
			at, light = append(at, [2]float64{c.u, c.v}), append(light, c.web.light)
		}
	}
	return fitShade(at, light)
}

// over returns the light at (u, v) over that at the card's white window.
func (h shade) over(s *Scene, u, v float64) float64 {
	cu, cv := s.TrayUV(s.windowCentre())
	d := h.alongU*(u-cu) + h.alongV*(v-cv)
	limit := math.Log(mostShade)
	return math.Exp(math.Max(-limit, math.Min(limit, d)))
}

// evenLight gives every cell the gain that brings it to the light that falls on the card, so that paper would be 1 anywhere.
func (s *Scene) evenLight(cells []*rootCell, t Tray) {
	h, ok := shadeOf(cells, t)
	if !ok {
		return
	}
	for _, c := range cells {
		k := 1 / h.over(s, c.u, c.v)
		c.gain = c.gain.times(float32(k))
		c.core.light, c.core.spread, c.web.light = c.core.light*k, c.core.spread*k, c.web.light*k
	}
}
