package tray

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// Cavities paints what can be seen in the holes that have no plug: the sloping wall, and the floor with its drain.
func (t *Tray) Cavities(d num.Dice, p *canvas.Painting, y *Layout, x *texture.Textures, l *canvas.Lamp) {
	floor, drain := d.Between(0.4, 0.9), d.Between(0.1, 0.6)
	glow := d.Ratio(0.1, 0.9)
	ring := d.Between(0.5, 0.95)
	if d.Chance(0.15) { // deep and black
		glow = 0.02
	}
	for k := range y.bare {
		g := &y.bare[k]
		x0, x1 := canvas.Span(g.Middle.X-g.Half, g.Middle.X+g.Half)
		y0, y1 := canvas.Span(g.Middle.Y-g.Half, g.Middle.Y+g.Half)
		for row := y0; row < y1; row++ {
			for col := x0; col < x1; col++ {
				at := num.At(float64(col)+0.5, float64(row)+0.5)
				deep := g.Inside(at) / g.Half // 0 at the rim .. 1 in the middle
				if deep < 0 {
					continue
				}
				i := row*canvas.Side + col
				light := wallLight(g, at, l)
				flat := num.Within01(float32((deep-(1-floor))*g.Half) + 0.5)
				bottom := float32(0.8*glow) * (0.8 + float32(0.05*x.Mid[i]) + float32(0.04*x.Grain[i]))
				if edge := float32((deep - (1 - float64(floor*ring))) * g.Half); edge > -3 && edge < 3 {
					bottom = float32(bottom * (1.35 - float32(0.1*edge*edge)))
				}
				bottom = float32(bottom * (1 - float32(0.9*num.Within01(float32((deep-(1-float64(floor*drain)))*g.Half)+0.5))))
				light = num.Blend32(float32(light*float32(glow)), bottom, flat)
				rim := num.Within01(float32(deep*g.Half) - 0.5)
				p.Lay(i, rim, num.Times(t.colour, max(0.02, light)))
			}
		}
	}
}

// wallLight is the light on a cavity's wall, brightest where it faces the lamp.
func wallLight(g *Plug, at num.Vec, l *canvas.Lamp) float32 {
	in := g.Inward(at)
	facing := float32(float32(in.X)*l.To[0]) + float32(float32(in.Y)*l.To[1])
	return 0.5 + float32(0.8*l.Direct*max(0, facing))
}
