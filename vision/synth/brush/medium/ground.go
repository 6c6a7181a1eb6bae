package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// Ground is the plugs' medium as it lies before roots grow over it.
type Ground struct {
	Inside []float32     // distance inside the rims with their crumbs, texels
	relief texture.Field // height of the crumbs, 0..1
	Cover  texture.Field // how likely a crumb lies over a root that is sunk into the medium, 0..1, even over whole crumbs
	colour []num.RGB     // own colour
	shine  []float32     // how glossy a crumb's face is, 0..1, and its tilt
	tilt   [][2]float32
}

// newGround strews the medium over all texels that may be plug.
func newGround(d num.Dice, m *Recipe, t *texture.Textures, inside []float32) *Ground {
	g := &Ground{Inside: inside, relief: texture.NewField(), Cover: texture.NewField(), colour: make([]num.RGB, canvas.Side*canvas.Side),
		shine: make([]float32, canvas.Side*canvas.Side),
		tilt:  make([][2]float32, canvas.Side*canvas.Side)}
	strewn := make([]*texture.Cells, len(m.crumbs))
	for i, c := range m.crumbs {
		strewn[i] = texture.NewCells(d, float64(c.size*canvas.PerMM), c.stretch)
	}
	bend := d.Between32(1, 4)
	var felt texture.Field
	if m.felt > 0.15 {
		felt = t.Felted(d)
	}
	for i := range inside {
		if inside[i] > -2 {
			g.strew(m, t, strewn, felt, bend, i)
		}
	}
	return g
}

// strew makes one texel of the medium.
func (g *Ground) strew(m *Recipe, t *texture.Textures, strewn []*texture.Cells, felt texture.Field, bend float32, i int) {
	x, y := float32(i%canvas.Side)+float32(bend*t.WarpX[i]), float32(i/canvas.Side)+float32(bend*t.WarpY[i])
	x, y = x+float32(0.45*t.Grain[i]), y+float32(0.45*t.Grain.Nearest(i%canvas.Side+77, i/canvas.Side+31))
	relief, tone, odd := float32(0), float32(0.5), float32(0)
	var tilt [2]float32
	gaps, cover := float32(1), float32(0)
	for k, c := range strewn {
		kind := &m.crumbs[k]
		near, next, crumb := c.Near(x, y)
		gap := num.Ease(0, kind.crack, next-near)
		dome := 1 - float32(near*near)
		relief += float32(kind.weight * (float32(0.55*crumb.Tone) + float32(0.45*dome)) * (0.6 + float32(0.4*gap)))
		tone += float32(kind.tone * (float32(2*crumb.Hue) - 1))
		tilt[0] += float32(kind.tilt * crumb.Tilt)
		tilt[1] += float32(kind.tilt * crumb.Lean)
		gaps = float32(gaps * (1 - float32(float32(kind.weight*(1-gap))*0.9)))
		if kind.size > 0.3 {
			cover = num.Blend32(cover, float32(0.7*crumb.Tone)+float32(0.35*dome), 0.75)
		}
		if kind.size < 1.1 && crumb.Hue*crumb.Tone < float32(0.25*m.oddly) {
			odd = float32(0.2 + float32(0.5*dome))
		}
	}
	tone += float32(m.dust*t.Grain[i]) + float32(m.patchy*t.Broad[i])
	if felt != nil {
		tone += float32(m.felt * 0.35 * felt[i])
		relief += float32(m.felt * 0.08 * felt[i])
	}
	g.relief[i], g.Cover[i] = num.Within01(relief), num.Within01(cover)
	g.tilt[i] = tilt
	g.shine[i] = gaps
	colour := num.Mix(m.Dark, m.Pale, max(0, min(1.5, tone)))
	if tone < 0 {
		colour = num.Times(colour, max(0.4, 1+tone))
	}
	g.colour[i] = num.Mix(colour, m.odd, odd)
}

// paint lays the medium on the painting, lit by the lamp.
func (g *Ground) paint(p *canvas.Painting, m *Recipe, l *canvas.Lamp) {
	for i, in := range g.Inside {
		if in <= -1 {
			continue
		}
		x, y := i%canvas.Side, i/canvas.Side
		left, right := g.relief[i-min(x, 1)], g.relief[i+min(canvas.Side-1-x, 1)]
		up, down := g.relief[i-canvas.Side*min(y, 1)], g.relief[i+canvas.Side*min(canvas.Side-1-y, 1)]
		dx := float32(m.steep*(right-left)*0.5) + float32(g.tilt[i][0]*0.4)
		dy := float32(m.steep*(down-up)*0.5) + float32(g.tilt[i][1]*0.4)
		if in < 14 { // the rim is rounded off
			ox, oy := canvas.Outward(g.Inside, i)
			fall := float32(-0.7 * (1 - num.Ease(-1, 14, in)))
			dx, dy = dx+float32(ox*fall), dy+float32(oy*fall)
		}
		z := 1 / num.Sqrt32(1+float32(dx*dx)+float32(dy*dy))
		light := l.On(float32(-dx*z), float32(-dy*z), z)
		open := (1 - m.pores) + float32(m.pores*g.shine[i])
		low := 0.45 + float32(0.55*num.Ease(0.05, 0.5, g.relief[i]))
		colour := num.Times(g.colour[i], float32(light*open)*num.Blend32(1, low, m.pores))
		if m.gloss > 0 {
			s := l.Mirror(float32(-dx*z), float32(-dy*z), z, 5)
			s = float32(float32(m.gloss*s) * 0.25 * g.shine[i])
			colour = num.Sum(colour, num.RGB{s, s, s})
		}
		share := canvas.RimShare(g.Inside, i)
		p.Plug[i] = share
		p.Lay(i, share, colour)
	}
}
