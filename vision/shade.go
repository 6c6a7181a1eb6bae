package vision

import "math"

// The lamp does not light a whole tray alike, and the card tells only its own corner. The tray tells the rest: its webs are
// of one plastic, so how light they look is how much light falls there.

// shade is the light over the tray: ln(light) = at0 + alongU·u + alongV·v.
type shade struct{ at0, alongU, alongV float64 }

// mostShade is how far the light over a plug may differ from the card's to be evened out, as a factor; what is more is no
// lamp but dirt on the tray or leaves on the webs.
const mostShade = 2.5

// shadeOf fits the webs' luminance, cells without a web left out; ok is false for too few.
func shadeOf(cells []*rootCell, t Tray) (shade, bool) {
	var m [3][4]float64
	n := 0
	for _, c := range cells {
		if c.p == nil || !(c.webLight > 1e-4) {
			continue
		}
		u, v := t.centre(c.plug.Row, c.plug.Col)
		row := [4]float64{1, u, v, math.Log(c.webLight)}
		for i := range 3 {
			for j := range 4 {
				m[i][j] += row[i] * row[j]
			}
		}
		n++
	}
	if n < 6 {
		return shade{}, false
	}
	x, ok := solve3(m)
	return shade{x[0], x[1], x[2]}, ok
}

// over returns the light at (u, v) over that at the card's white window.
func (h shade) over(s *Scene, u, v float64) float64 {
	cu, cv := s.TrayUV(s.windowCentre())
	d := h.alongU*(u-cu) + h.alongV*(v-cv)
	limit := math.Log(mostShade)
	return math.Exp(math.Max(-limit, math.Min(limit, d)))
}

// evenLight brings every cell's patch to the light that falls on the card, so that paper would be 1 anywhere.
func (s *Scene) evenLight(cells []*rootCell, t Tray) {
	h, ok := shadeOf(cells, t)
	if !ok {
		return
	}
	for _, c := range cells {
		if c.p == nil {
			continue
		}
		u, v := t.centre(c.plug.Row, c.plug.Col)
		k := 1 / h.over(s, u, v)
		c.p.scale(float32(k))
		c.coreLight, c.coreSpread, c.webLight = c.coreLight*k, c.coreSpread*k, c.webLight*k
	}
}

// scale multiplies all light by k.
func (p *patch) scale(k float32) {
	for _, plane := range [4][]float32{p.r, p.g, p.b, p.lum} {
		for i := range plane {
			plane[i] *= k
		}
	}
}
