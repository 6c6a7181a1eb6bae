// Package ground is all that lies under the plants, as a relief with colours: trays, medium, what grows and lies on it, and what the trays
// stand on. In go chance, where the trays stand and what leaves will hide; out comes the light that a texel of the ground sends up. It knows
// nothing of the plants but which squares they cover.
package ground

import (
	"math"

	"traygauge/vision/synth/foliage/lighting"
	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/tray"
)

// Ground is all that lies under the plants as a relief: tray, medium, what grows and lies on it, and what the tray stands on.
type Ground struct {
	tray.Land
	h      []float32    // height above the webs, mm, texel by texel
	colour [][3]float32 // reflectance
	gloss  []float32    // mirror-like reflectance, of that of a bare smooth skin
	soil   []float32    // share that is medium, on which things may lie and grow
	tops   []float32    // greatest height near by, square by square
	near   []float32    // mean height round about, square by square
	sky    []float32    // the sky's light past the leaves, square by square
}

const (
	groundSquare = 8                         // texels
	groundSide   = num.Side/groundSquare + 1 // squares' corners
	groundMM     = groundSquare / num.PerMM  // mm
	topSquare    = 64                        // texels
)

// NewGround returns a ground without height and colour.
func NewGround(l tray.Land) *Ground {
	n := num.Side * num.Side
	return &Ground{Land: l, h: make([]float32, n), colour: make([][3]float32, n), gloss: make([]float32, n),
		soil: make([]float32, n)}
}

func (g *Ground) paint(i int, c num.RGB, k float64) {
	p := &g.colour[i]
	p[0] += (float32(c.R) - p[0]) * float32(k)
	p[1] += (float32(c.G) - p[1]) * float32(k)
	p[2] += (float32(c.B) - p[2]) * float32(k)
}

// light is how light the ground is at a texel.
func (g *Ground) light(i int) float64 {
	return float64(g.colour[i][0]+g.colour[i][1]+g.colour[i][2]) / 3
}

// soilLight is how light the medium is on the mean.
func (g *Ground) soilLight() float64 {
	sum, n := 0.0, 0.0
	for i := 0; i < len(g.soil); i += 7 {
		if g.soil[i] >= 0.5 {
			sum, n = sum+g.light(i), n+1
		}
	}
	return max(num.Darkest, sum/max(1, n))
}

// Settle works out what the light needs once all is laid: mean heights, and the sky that the leaves leave open.
func (g *Ground) Settle(view *lighting.Skyview) {
	g.near, g.sky = make([]float32, groundSide*groundSide), make([]float32, groundSide*groundSide)
	for j := range groundSide {
		for i := range groundSide {
			sum, n := 0.0, 0.0
			for y := max(0, j*groundSquare-12); y < min(num.Side, j*groundSquare+12); y += 3 {
				for x := max(0, i*groundSquare-12); x < min(num.Side, i*groundSquare+12); x += 3 {
					sum, n = sum+float64(g.h[y*num.Side+x]), n+1
				}
			}
			mean := sum / n
			at := num.At(float64(i)*groundMM, float64(j)*groundMM, mean)
			above, _ := view.Light(at, num.At(0, 0, 1))
			g.near[j*groundSide+i], g.sky[j*groundSide+i] = float32(mean), float32(above)
		}
	}
	g.setTops()
}

// setTops finds how high the relief stands near by, so that light from high up need not be followed far.
func (g *Ground) setTops() {
	const n = num.Side / topSquare
	own := make([]float32, n*n)
	for i := range own {
		own[i] = -1000
	}
	for i, h := range g.h {
		if k := i/num.Side/topSquare*n + i%num.Side/topSquare; h > own[k] {
			own[k] = h
		}
	}
	g.tops = make([]float32, n*n)
	for k := range own {
		g.tops[k] = own[k]
		for y := max(0, k/n-1); y <= min(n-1, k/n+1); y++ {
			for x := max(0, k%n-1); x <= min(n-1, k%n+1); x++ {
				g.tops[k] = max(g.tops[k], own[y*n+x])
			}
		}
	}
}

// coarse is a value kept square by square, between squares.
func coarse(v []float32, x, y int) float64 {
	i, j := x/groundSquare, y/groundSquare
	fx, fy := float64(x%groundSquare)/groundSquare, float64(y%groundSquare)/groundSquare
	n := j*groundSide + i
	return num.Mixed(num.Mixed(float64(v[n]), float64(v[n+1]), fx), num.Mixed(float64(v[n+groundSide]), float64(v[n+groundSide+1]), fx), fy)
}

// height is the relief at a texel, and beyond the drawing's edges what it is there.
func (g *Ground) height(x, y int) float64 {
	if uint(x) >= num.Side {
		x = min(num.Side-1, max(0, x))
	}
	if uint(y) >= num.Side {
		y = min(num.Side-1, max(0, y))
	}
	return float64(g.h[y*num.Side+x])
}

// walks are the distances along the lamp's ray at which the relief is looked at for what is in its way, mm.
var walks = [...]float64{0.25, 0.5, 0.9, 1.5, 2.3, 3.4, 4.8, 6.5, 8.5, 11, 14}

// lit is the share of the lamp that the relief itself leaves at a texel.
func (g *Ground) lit(l *lighting.Lamp, x, y int) float64 {
	flat := math.Sqrt(1 - l.To.Z*l.To.Z)
	if flat < 0.05 {
		return 1
	}
	rise, h, top := l.To.Z/flat, g.height(x, y), float64(g.tops[y/topSquare*(num.Side/topSquare)+x/topSquare])
	dx, dy := l.To.X/flat*num.PerMM, l.To.Y/flat*num.PerMM
	left := 1.0
	for _, w := range walks {
		ray := h + w*rise
		if ray > top {
			break
		}
		soft := 0.12 + w*l.Spread*1.5
		over := g.height(int(float64(x)+dx*w+0.5), int(float64(y)+dy*w+0.5)) - ray
		switch {
		case over >= soft:
			return 0
		case over > -soft:
			left = min(left, num.Ramp(soft, -soft, over))
		}
	}
	return left
}

// Seen is the light that a texel of the ground sends up.
func (g *Ground) Seen(x, y int, l *lighting.Lamp, s *lighting.Shadows) num.RGB {
	i := y*num.Side + x
	slopeX := (g.height(x+1, y) - g.height(x-1, y)) * num.PerMM / 2
	slopeY := (g.height(x, y+1) - g.height(x, y-1)) * num.PerMM / 2
	steep := math.Sqrt(slopeX*slopeX + slopeY*slopeY)
	if steep > 2.5 {
		slopeX, slopeY = slopeX*2.5/steep, slopeY*2.5/steep
	}
	n := num.At(-slopeX, -slopeY, 1).Unit()
	h := float64(g.h[i])
	at := num.At((float64(x)+0.5)/num.PerMM, (float64(y)+0.5)/num.PerMM, h)
	direct := 0.0
	if l.Direct > 0 {
		if facing := n.Dot(l.To) / l.To.Z; facing > 0 {
			direct = l.Direct * facing
			if direct > 0.001 {
				direct *= g.lit(l, x, y)
			}
			if direct > 0.001 {
				direct *= s.Lit(at, -1, lighting.Away(x, y))
			}
		}
	}
	sunk := num.Clamp((coarse(g.near, x, y)-h)/2.5, -0.4, 1.6)
	open := coarse(g.sky, x, y) * (1 - 0.42*sunk) * (0.45 + 0.55*n.Z)
	sky := (1 - l.Direct) * open
	field := l.Field(at.X, at.Y)
	c := g.colour[i]
	light := num.RGB{R: float64(c[0]), G: float64(c[1]), B: float64(c[2])}.Times(direct + sky + 0.02)
	gloss, rough := float64(g.gloss[i]), 0.28
	if gloss == dropGloss {
		gloss, rough = 0.7, 0.1
	}
	light = light.Plus(num.Grey(lighting.Mirrored(n, l, direct, sky, 0.04*gloss, rough)))
	return light.Times(field)
}
