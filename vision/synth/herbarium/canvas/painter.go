package canvas

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/num"
)

// Hide is what a piece's whole surface does with light.
type Hide struct {
	Tube    bool        // a stalk or stem
	Lit     closeup.RGB // colour of light that came through
	Through float64     // share of the lamp's light that goes through
	Gloss   float64     // strength of the lamp's reflection
	Rough   float64     // spread of the slopes that make it
	Sheen   float64     // share of the sky's light that is sent back white
	Fuzz    float64     // light caught by hairs
}

// Texture is what a piece is at a spot.
type Texture struct {
	Own   closeup.RGB
	Dead  float32
	Bump  float32 // mm
	Gloss float32 // share of the hide's gloss
	Pale  float32 // share that dust covers
}

// Painter lays pieces on a canvas; it keeps its scratch from piece to piece.
type Painter struct {
	*Canvas
	Deep  []float32
	Cells []Painted
}

// Painted is one texel of a sheet on its way to the canvas.
type Painted struct {
	Texture
	Gx, Gy float32 // slope of the smooth sheet, as drawn
	Z      float32
}

// Shown reports whether the piece being laid covers some of a texel of the mask and is not hidden there.
func (p *Painter) Shown(x, y int) bool {
	m := &p.Mask
	return m.cover[y*m.W+x] > 0 && p.Top[(m.Y0+y)*p.Side+m.X0+x] <= p.now
}

// Room makes room for the mask's texels.
func (p *Painter) Room() {
	n := p.Mask.W * p.Mask.H
	if cap(p.Cells) < n {
		p.Cells = make([]Painted, n+n/2)
	}
	p.Cells = p.Cells[:n]
}

// Light shades the mask's texels and lays them on the canvas, as a plant's or, for plant 0, as no leaf.
func (p *Painter) Light(k *Hide, plant uint8) {
	m := &p.Mask
	var l layer
	l.plant = plant
	for y := range m.H {
		for x := range m.W {
			i := y*m.W + x
			share := m.cover[i]
			if !p.Shown(x, y) {
				continue
			}
			c := &p.Cells[i]
			gx, gy := p.bumps(x, y, i)
			at := (m.Y0+y)*p.Side + m.X0 + x
			open := 1.0
			if k.Tube && p.Leaf[at] < 0.5 {
				open = openness(float64(c.Z - p.Z[at]))
			}
			p.shine(&l, c, k, float64(c.Gx)+gx, float64(c.Gy)+gy, open)
			p.lay(at, share, &l)
		}
	}
}

// bumps returns the slope of the sheet's bumps at a texel of the mask, from its covered neighbours.
func (p *Painter) bumps(x, y, i int) (gx, gy float64) {
	m := &p.Mask
	between := func(back, ahead bool, step int) float64 {
		a, b, n := i, i, 0
		if back {
			a, n = i-step, n+1
		}
		if ahead {
			b, n = i+step, n+1
		}
		if n == 0 {
			return 0
		}
		return num.Clamp(float64(p.Cells[b].Bump-p.Cells[a].Bump)*p.PerMM/float64(n), -1.6, 1.6)
	}
	return between(x > 0 && p.Shown(x-1, y), x < m.W-1 && p.Shown(x+1, y), 1),
		between(y > 0 && p.Shown(x, y-1), y < m.H-1 && p.Shown(x, y+1), m.W)
}

// openness is the share of the sky that a stem sees so many mm over the ground from which it rises.
func openness(over float64) float64 {
	over = max(0, over)
	return 0.35 + 0.65*over/(over+1.5)
}

// shine fills in what a texel of a sheet looks like on its slope.
func (p *Painter) shine(l *layer, c *Painted, k *Hide, gx, gy, open float64) {
	base := c.Own
	if c.Pale > 0 {
		base = num.Blend(base, dustColour, c.Pale)
	}
	if k.Fuzz > 0 {
		steep := float32(1 - 1/math.Sqrt(1+gx*gx+gy*gy))
		base = num.Blend(base, fuzzColour, float32(k.Fuzz)*(0.25+steep))
	}
	lit := p.Lamp.Direct(gx, gy) * (0.5 + 0.5*open)
	sun := float32(p.Lamp.Sun * lit)
	back := float32(p.Lamp.Sun * k.Through * max(0, 0.9-lit))
	shiny := float32(p.Lamp.Sun * k.Gloss * float64(c.Gloss) * p.Lamp.Gloss(gx, gy, k.Rough))
	sky := float32(p.Lamp.Sky * open * p.Lamp.Around(gx, gy))
	sheen := sky * float32(k.Sheen) * (0.4 + 0.6*c.Gloss)
	for i := range 3 {
		l.sun[i] = base[i]*sun + k.Lit[i]*back + shiny
		l.sky[i] = base[i]*sky + sheen
	}
	l.own, l.dead, l.z = c.Own, c.Dead, c.Z
}

var (
	dustColour = closeup.RGB{0.32, 0.28, 0.22}
	fuzzColour = closeup.RGB{0.62, 0.66, 0.58}
)
