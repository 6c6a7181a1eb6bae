package foliage

import "math"

// ground is all that lies under the plants as a relief: tray, medium, what grows and lies on it, and what the tray stands on.
type ground struct {
	land
	h      []float32    // height above the webs, mm, texel by texel
	colour [][3]float32 // reflectance
	gloss  []float32    // mirror-like reflectance, of that of a bare smooth skin
	soil   []float32    // share that is medium, on which things may lie and grow
	tops   []float32    // greatest height near by, square by square
	near   []float32    // mean height round about, square by square
	sky    []float32    // the sky's light past the leaves, square by square
}

const (
	groundSquare = 8                     // texels
	groundSide   = side/groundSquare + 1 // squares' corners
	groundMM     = groundSquare / perMM  // mm
	topSquare    = 64                    // texels
)

func newGround(l land) *ground {
	n := side * side
	return &ground{land: l, h: make([]float32, n), colour: make([][3]float32, n), gloss: make([]float32, n),
		soil: make([]float32, n)}
}

func (g *ground) paint(i int, c rgb, k float64) {
	p := &g.colour[i]
	p[0] += (float32(c.r) - p[0]) * float32(k)
	p[1] += (float32(c.g) - p[1]) * float32(k)
	p[2] += (float32(c.b) - p[2]) * float32(k)
}

// light is how light the ground is at a texel.
func (g *ground) light(i int) float64 {
	return float64(g.colour[i][0]+g.colour[i][1]+g.colour[i][2]) / 3
}

// soilLight is how light the medium is on the mean.
func (g *ground) soilLight() float64 {
	sum, n := 0.0, 0.0
	for i := 0; i < len(g.soil); i += 7 {
		if g.soil[i] >= 0.5 {
			sum, n = sum+g.light(i), n+1
		}
	}
	return max(darkest, sum/max(1, n))
}

// settle works out what the light needs once all is laid: mean heights, and the sky that the leaves leave open.
func (g *ground) settle(view *skyview) {
	g.near, g.sky = make([]float32, groundSide*groundSide), make([]float32, groundSide*groundSide)
	for j := range groundSide {
		for i := range groundSide {
			sum, n := 0.0, 0.0
			for y := max(0, j*groundSquare-12); y < min(side, j*groundSquare+12); y += 3 {
				for x := max(0, i*groundSquare-12); x < min(side, i*groundSquare+12); x += 3 {
					sum, n = sum+float64(g.h[y*side+x]), n+1
				}
			}
			mean := sum / n
			at := vec{float64(i) * groundMM, float64(j) * groundMM, mean}
			above, _ := view.light(at, vec{0, 0, 1})
			g.near[j*groundSide+i], g.sky[j*groundSide+i] = float32(mean), float32(above)
		}
	}
	g.setTops()
}

// setTops finds how high the relief stands near by, so that light from high up need not be followed far.
func (g *ground) setTops() {
	const n = side / topSquare
	own := make([]float32, n*n)
	for i := range own {
		own[i] = -1000
	}
	for i, h := range g.h {
		if k := i/side/topSquare*n + i%side/topSquare; h > own[k] {
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
	return mixed(mixed(float64(v[n]), float64(v[n+1]), fx), mixed(float64(v[n+groundSide]), float64(v[n+groundSide+1]), fx), fy)
}

// height is the relief at a texel, and beyond the drawing's edges what it is there.
func (g *ground) height(x, y int) float64 {
	if uint(x) >= side {
		x = min(side-1, max(0, x))
	}
	if uint(y) >= side {
		y = min(side-1, max(0, y))
	}
	return float64(g.h[y*side+x])
}

// walks are the distances along the lamp's ray at which the relief is looked at for what is in its way, mm.
var walks = [...]float64{0.25, 0.5, 0.9, 1.5, 2.3, 3.4, 4.8, 6.5, 8.5, 11, 14}

// lit is the share of the lamp that the relief itself leaves at a texel.
func (g *ground) lit(l *lamp, x, y int) float64 {
	flat := math.Sqrt(1 - l.to.z*l.to.z)
	if flat < 0.05 {
		return 1
	}
	rise, h, top := l.to.z/flat, g.height(x, y), float64(g.tops[y/topSquare*(side/topSquare)+x/topSquare])
	dx, dy := l.to.x/flat*perMM, l.to.y/flat*perMM
	left := 1.0
	for _, w := range walks {
		ray := h + w*rise
		if ray > top {
			break
		}
		soft := 0.12 + w*l.spread*1.5
		over := g.height(int(float64(x)+dx*w+0.5), int(float64(y)+dy*w+0.5)) - ray
		switch {
		case over >= soft:
			return 0
		case over > -soft:
			left = min(left, ramp(soft, -soft, over))
		}
	}
	return left
}

// seen is the light that a texel of the ground sends up.
func (g *ground) seen(x, y int, l *lamp, s *shadows) rgb {
	i := y*side + x
	slopeX := (g.height(x+1, y) - g.height(x-1, y)) * perMM / 2
	slopeY := (g.height(x, y+1) - g.height(x, y-1)) * perMM / 2
	steep := math.Sqrt(slopeX*slopeX + slopeY*slopeY)
	if steep > 2.5 {
		slopeX, slopeY = slopeX*2.5/steep, slopeY*2.5/steep
	}
	n := vec{-slopeX, -slopeY, 1}.unit()
	h := float64(g.h[i])
	at := vec{(float64(x) + 0.5) / perMM, (float64(y) + 0.5) / perMM, h}
	direct := 0.0
	if l.direct > 0 {
		if facing := n.dot(l.to) / l.to.z; facing > 0 {
			direct = l.direct * facing
			if direct > 0.001 {
				direct *= g.lit(l, x, y)
			}
			if direct > 0.001 {
				direct *= s.lit(at, -1, away(x, y))
			}
		}
	}
	sunk := clamp((coarse(g.near, x, y)-h)/2.5, -0.4, 1.6)
	open := coarse(g.sky, x, y) * (1 - 0.42*sunk) * (0.45 + 0.55*n.z)
	sky := (1 - l.direct) * open
	field := l.field(at.x, at.y)
	c := g.colour[i]
	light := rgb{float64(c[0]), float64(c[1]), float64(c[2])}.times(direct + sky + 0.02)
	gloss, rough := float64(g.gloss[i]), 0.28
	if gloss == dropGloss {
		gloss, rough = 0.7, 0.1
	}
	light = light.plus(grey(mirrored(n, l, direct, sky, 0.04*gloss, rough)))
	return light.times(field)
}
