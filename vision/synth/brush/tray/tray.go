// Package tray is where plugs and holes are, and what surrounds them: the plastic of a tray, the cavities without a plug, or the board or
// cloth that a loose plug lies on. In go chance, noises and the lamp; it paints the surroundings and returns the plugs' outlines with the
// distances inside them. It knows nothing of media and roots.
package tray

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// Tray is the plastic around the plugs.
type Tray struct {
	colour num.RGB
	mottle float32 // unevenness of its tone, deviation
	rough  float32 // unevenness of its face
	wall   float32 // light that reaches the gap, as a share of the colour
	gloss  float32
	bumps  []bump  // rings about the holes
	ribs   []bump  // along the lines between cells
	pins   float64 // radius of the holes where four cells meet, texels; 0 for none
	dusty  float32
	clear  bool // translucent: the gap glows
}

// bump is a ridge (height above 0) or a groove along an edge.
type bump struct{ at, width, height float32 } // texels

// NewTray draws a tray around the holes of a layout; an ordinary one is black.
func NewTray(d num.Dice, y *Layout, ordinary bool) *Tray {
	t := &Tray{mottle: d.Between32(0.02, 0.2), rough: float32(d.Ratio(0.01, 0.25)), wall: d.Between32(0.03, 0.5),
		gloss: d.Between32(0, 0.5), dusty: d.Between32(0, 0.5)}
	t.colour = num.Tint(d.Ratio(0.006, 0.05), d.Between(0.92, 1.1), d.Between(0.9, 1.15)) // black
	if !ordinary || d.Chance(0.2) {
		t.paintColour(d)
	}
	for n := d.IntN(4); n > 0; n-- {
		b := bump{d.Between32(2, 45), d.Between32(3, 16), d.Between32(-3, 5)}
		if free := float32(float64(y.pitch*0.5) - y.holes[0].Half); b.at+b.width > free && free > 6 && d.Chance(0.8) {
			b.at, b.width = float32(free*d.Between32(0.2, 0.5)), float32(free*d.Between32(0.2, 0.45)) // ends before the next cell's
		}
		t.bumps = append(t.bumps, b)
	}
	if d.Chance(0.4) {
		t.ribs = append(t.ribs, bump{0, d.Between32(3, 14), d.Between32(-3, 5)})
	}
	if d.Chance(0.2) {
		t.pins = d.Between(4, 30)
	}
	return t
}

func (t *Tray) paintColour(d num.Dice) {
	switch d.IntN(8) {
	case 0, 1: // grey
		t.colour = num.Tint(d.Ratio(0.04, 0.4), d.Between(0.95, 1.05), d.Between(0.95, 1.08))
	case 2: // green
		t.colour = num.Tint(d.Ratio(0.02, 0.25), d.Between(0.2, 0.7), d.Between(0.3, 0.8))
	case 3: // white
		t.colour = num.Tint(d.Between(0.5, 0.9), d.Between(0.97, 1.05), d.Between(0.9, 1.02))
	case 4: // terracotta
		t.colour = num.Tint(d.Between(0.1, 0.3), d.Between(1.7, 2.5), d.Between(0.4, 0.7))
	case 5: // blue
		t.colour = num.Tint(d.Ratio(0.02, 0.25), d.Between(0.2, 0.7), d.Between(1.4, 3))
	case 6: // translucent
		t.colour, t.clear = num.Tint(d.Between(0.2, 0.5), d.Between(0.95, 1.05), d.Between(0.9, 1)), true
		t.wall = d.Between32(0.4, 0.9)
	}
}

// Paint lays the tray with its holes over the whole drawing.
func (t *Tray) Paint(p *canvas.Painting, y *Layout, edge []float32, x *texture.Textures, l *canvas.Lamp) {
	tilt := newTilt(x)
	for i := range edge {
		at := num.At(float64(i%canvas.Side)+0.5, float64(i/canvas.Side)+0.5)
		inHole := canvas.RimShare(edge, i)
		light := num.RGB{}
		if inHole < 1 {
			light = t.top(i, at, y, edge, tilt, x, l)
		}
		if inHole > 0 {
			light = num.Mix(light, t.gap(i, edge, x, l), inHole)
		}
		p.Light[i] = light
	}
}

// tilt is a lookup of a texture's slope.
type tilt struct{ f texture.Field }

func newTilt(x *texture.Textures) tilt { return tilt{x.Mid} }

func (t tilt) at(i int) (dx, dy float32) {
	x, y := i%canvas.Side, i/canvas.Side
	return t.f.Nearest(x+1, y) - t.f[i], t.f.Nearest(x, y+1) - t.f[i]
}

// top is the light from the tray's upper face.
func (t *Tray) top(i int, at num.Vec, y *Layout, edge []float32, tl tilt, x *texture.Textures, l *canvas.Lamp) num.RGB {
	dx, dy := canvas.Outward(edge, i)
	rise := float32(0)
	out := -edge[i]
	for _, b := range t.bumps {
		rise += b.slope(out)
	}
	dx, dy = float32(dx*rise), float32(dy*rise)
	for _, b := range t.ribs {
		u, v := y.between(at)
		du, dv := float64(b.slope(float32(u))), float64(b.slope(float32(v)))
		s := y.across.Times(du).Plus(y.across.Quarter().Times(dv))
		dx, dy = dx+float32(s.X), dy+float32(s.Y)
	}
	wx, wy := tl.at(i)
	dx, dy = dx+float32(t.rough*wx), dy+float32(t.rough*wy)
	z := 1 / num.Sqrt32(1+float32(dx*dx)+float32(dy*dy))
	shade := l.On(float32(-dx*z), float32(-dy*z), z)
	shade = float32(shade * (1 + float32(t.mottle*(float32(0.6*x.Broad[i])+float32(0.25*x.Grain[i])))))
	colour := num.Times(t.colour, max(0.1, shade))
	s := float32(t.gloss * l.Mirror(float32(-dx*z), float32(-dy*z), z, 4) * 0.25)
	colour = num.Sum(colour, num.RGB{s, s, s})
	dust := float32(t.dusty * num.Ease(0.4, 1.8, x.Mid.Nearest(i%canvas.Side*2, i/canvas.Side*2)+float32(0.4*x.Grain[i])))
	colour = num.Mix(colour, num.RGB{0.09, 0.07, 0.05}, float32(0.5*dust))
	if t.pins > 0 {
		if in := float32(t.pins - y.corner(at)); in > -1 {
			colour = num.Times(colour, 1-float32(0.9*num.Within01(in+0.5)))
		}
	}
	return colour
}

// slope is the rise per texel of a bump at a distance from its edge.
func (b bump) slope(out float32) float32 {
	f := (out - b.at) / b.width
	if f <= -1 || f >= 1 {
		return 0
	}
	f2 := float32(f * f)
	return float32(-4 * b.height / b.width * f * (1 - f2)) // of height·(1 - f²)²
}

// gap is the light from inside a hole, beside the plug.
func (t *Tray) gap(i int, edge []float32, x *texture.Textures, l *canvas.Lamp) num.RGB {
	dx, dy := canvas.Outward(edge, i)
	facing := float32(-dx*l.To[0]) - float32(dy*l.To[1]) // the wall that faces the lamp is lit
	depth := float32(max(0, edge[i]) / 8)
	deep := 1 / (1 + depth + float32(depth*depth))
	wall := float32(t.wall * deep * (0.35 + float32(0.65*l.Direct*max(0, facing)) + float32(0.05*x.Mid[i])))
	return num.Times(t.colour, max(0.02, wall))
}

// between returns how far a place is from the middle lines between cells, across and along the rows, texels.
func (y *Layout) between(at num.Vec) (u, v float64) {
	d := at.Minus(y.holes[0].Middle)
	fold := func(s float64) float64 {
		s = s/y.pitch + 1000
		return float64((s - float64(int(s)) - 0.5) * y.pitch)
	}
	return fold(d.Dot(y.across)), fold(y.across.Cross(d))
}

// corner is the distance from the nearest place where four cells meet, texels.
func (y *Layout) corner(at num.Vec) float64 {
	u, v := y.between(at)
	return num.At(u, v).Length()
}
