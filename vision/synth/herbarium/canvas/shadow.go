package canvas

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// summed holds the sums of a mask's coverage over all boxes from its corner, so that the mean of any box costs four look-ups
// (Crow 1984). Coverage is counted in 255ths, so that the sums are exact.
type summed struct {
	w, h int
	sums []uint32 // (w+1) × (h+1)
}

func (s *summed) of(m *Mask) {
	s.w, s.h = m.W, m.H
	n := (m.W + 1) * (m.H + 1)
	if cap(s.sums) < n {
		s.sums = make([]uint32, n+n/2)
	}
	s.sums = s.sums[:n]
	clear(s.sums[:m.W+1])
	for y := range m.H {
		above, row := s.sums[y*(m.W+1):], s.sums[(y+1)*(m.W+1):]
		sum := uint32(0)
		row[0] = 0
		for x := range m.W {
			sum += uint32(255*m.cover[y*m.W+x] + 0.5)
			row[x+1] = above[x+1] + sum
		}
	}
}

// mean returns the mean coverage in a square box about (x, y) that reaches r texels to all sides; nothing lies outside the mask.
func (s *summed) mean(x, y, r int) float32 {
	sum := s.sum(x-r, y-r, x+r+1, y+r+1)
	if sum == 0 {
		return 0
	}
	side := 2*r + 1
	return float32(sum) * (1.0 / 255) / float32(side*side)
}

// sum returns the coverage in a box from one corner to before another, in 255ths.
func (s *summed) sum(x0, y0, x1, y1 int) uint32 {
	x0, x1 = max(0, x0), min(s.w, x1)
	y0, y1 = max(0, y0), min(s.h, y1)
	if x0 >= x1 || y0 >= y1 {
		return 0
	}
	top, low := s.sums[y0*(s.w+1):], s.sums[y1*(s.w+1):]
	return low[x1] - low[x0] - top[x1] + top[x0]
}

// Shadows reach no further than this, in texels: sheets that stand higher shade as if they stood that high.
const (
	reachOfLamp = 110
	reachOfSky  = 36
	leastGap    = 0.7 // mm between a sheet and what lies below it
)

// Height is how high a sheet stands over the drawing: z mm at a place in texels, and so much more for each texel from there, but
// within lo and hi.
type Height struct {
	At     num.Point
	Z      float64
	Slope  num.Point
	Lo, Hi float64
}

// Level is the height of what lies level.
func Level(z float64) Height { return Height{Z: z, Lo: z, Hi: z} }

// over returns how high the sheet would stand at a place, were it as wide as that.
func (h *Height) over(p num.Point) float64 { return h.Z + h.Slope.Dot(p.Minus(h.At)) }

// Shade darkens what lies below the canvas's mask, a sheet of the given height: the lamp's part where the shadow falls, its edge the
// softer the deeper it falls, and the sky's part all round. Of the lamp's light, through goes through the sheet.
func (c *Canvas) Shade(h Height, through [3]float32) {
	c.summed.of(&c.Mask)
	sh := shading{Height: h, fall: c.Lamp.Fall().Times(c.PerMM), through: through}
	sh.deepest = min(h.Hi+8, 1+1.2*float64(c.Mask.W+c.Mask.H)/c.PerMM) // a small sheet high up throws no shadow worth drawing
	sh.along = max(0.35, 1+h.Slope.Dot(sh.fall))
	sh.reach(c)
	m := &c.Mask
	for y := max(0, m.Y0+sh.up); y < min(c.Side, m.Y0+m.H+sh.down); y += tile {
		for x := max(0, m.X0+sh.left); x < min(c.Side, m.X0+m.W+sh.right); x += tile {
			c.shadeTile(x, y, &sh)
		}
	}
}

// tile is how many texels each way are looked at together, for whether any shadow falls there.
const tile = 16

// shadeTile shades the texels of a tile that will be seen.
func (c *Canvas) shadeTile(x0, y0 int, s *shading) {
	m := &c.Mask
	left, top := x0-m.X0, y0-m.Y0
	if c.summed.sum(left-s.right, top-s.down, left+tile-s.left, top+tile-s.up) == 0 {
		return
	}
	for y := y0; y < min(c.Side, y0+tile); y++ {
		for x := x0; x < min(c.Side, x0+tile); x++ {
			if i := y*c.Side + x; c.Top[i] < c.now {
				c.darken(i, x, y, s)
			}
		}
	}
}

// shading is how one sheet shades what lies below it.
type shading struct {
	Height
	fall    num.Point // texels aside for each mm down
	along   float64
	deepest float64 // mm
	through [3]float32

	left, up, right, down int // texels from the sheet that its shadow reaches; to the left and up below 0
}

// reach finds how far to each side the shadow may reach.
func (s *shading) reach(c *Canvas) {
	far := func(v float64) int { return (int(min(reachOfLamp, math.Abs(v))) + 1) * sign(v) }
	blur := int(min(reachOfSky, s.deepest*max(0.6, c.Lamp.Soft)*c.PerMM+0.8*c.PerMM)) + 2
	aside, ahead := far(s.deepest*s.fall.X), far(s.deepest*s.fall.Y)
	s.left, s.right, s.up, s.down = min(0, aside)-blur, max(0, aside)+blur, min(0, ahead)-blur, max(0, ahead)+blur
}

// darken shades one texel. What stands over it lies as far to the side as the shadow falls on its way down; on a sheet that rises
// toward there, the way is shorter.
func (c *Canvas) darken(i, x, y int, s *shading) {
	z := s.over(num.At(float64(x), float64(y)))
	below := float64(c.Z[i])
	gap := num.Clamp(num.Clamp((z-below)/s.along, s.Lo-below, s.Hi-below), leastGap, s.deepest)
	dx, dy := num.Clamp(gap*s.fall.X, -reachOfLamp, reachOfLamp), num.Clamp(gap*s.fall.Y, -reachOfLamp, reachOfLamp)
	x, y = x-c.Mask.X0, y-c.Mask.Y0
	if dark := c.summed.mean(x-int(dx), y-int(dy), int(min(reachOfSky, gap*c.Lamp.Soft*c.PerMM))); dark > 0 {
		for k := range 3 {
			c.Light[i][k] *= 1 - dark*(1-s.through[k])
		}
	}
	above := num.Clamp(num.Clamp(z, s.Lo, s.Hi)-below, leastGap, s.deepest)
	if dark := c.summed.mean(x, y, int(min(reachOfSky, (0.8+0.6*above)*c.PerMM))); dark > 0 {
		c.Sky[i] = num.Scaled(c.Sky[i], 1-0.85*dark)
	}
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// Raised returns the height with so many mm more.
func (h Height) Raised(by float64) Height {
	h.Z, h.Lo, h.Hi = h.Z+by, h.Lo+by, h.Hi+by
	return h
}
