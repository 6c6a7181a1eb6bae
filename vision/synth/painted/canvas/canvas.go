// Package canvas is a part of a plane at a fine resolution, on which each texel knows the thing on top, its tone and its shade. Truth is
// counted on it and pictures are sampled from it, so that they cannot disagree. In go strokes and polygons in mm; it does not know what
// they are of.
package canvas

import (
	"math"

	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
)

// Texel says what is on top at one place of a canvas: the thing's number in drawing order (0 is nothing, so what lies
// below shows), which of its palette's colours it has, and how lit it is (128 is a gain of 1).
type Texel uint32

// NewTexel is a texel of a thing, in one of its tones, so lit.
func NewTexel(owner int, tone, shade uint8) Texel {
	return Texel(owner)<<16 | Texel(tone)<<8 | Texel(shade)
}

func (t Texel) Owner() int   { return int(t >> 16) }
func (t Texel) Tone() uint8  { return uint8(t >> 8) }
func (t Texel) Shade() uint8 { return uint8(t) }

// Palette is the own colours of a kind of thing, by tone.
type Palette [256]num.RGB

// Lit returns p with every colour times gain but the water's mirrors; a gain of 0 is 1.
func (p *Palette) Lit(gain float64) *Palette {
	if gain == 0 || gain == 1 {
		return p
	}
	q := *p
	for i := range q {
		if q[i] != Mirror {
			q[i] = q[i].Times(float32(gain))
		}
	}
	return &q
}

// Canvas is a part of a plane at a fine resolution. Truth is counted on it and pictures are sampled from it.
type Canvas struct {
	X0, Y0 float64 // mm: the outer corner of the first texel
	PerMM  float64
	W, H   int
	T      []Texel
	Arc    []uint16 // if made: how far along its root a texel is, in 1/100 mm, see Stroke
}

// Reset makes c cover the rectangle, all of it nothing; memory is used again.
func (c *Canvas) Reset(minX, minY, maxX, maxY, perMM float64) {
	c.X0, c.Y0, c.PerMM = minX, minY, perMM
	c.W, c.H = int(math.Ceil((maxX-minX)*perMM)), int(math.Ceil((maxY-minY)*perMM))
	if n := c.W * c.H; cap(c.T) < n {
		c.T = make([]Texel, n)
	} else {
		c.T = c.T[:n]
		clear(c.T)
	}
}

// WithArc makes room for lengths along roots.
func (c *Canvas) WithArc() {
	if cap(c.Arc) < len(c.T) {
		c.Arc = make([]uint16, len(c.T))
	}
	c.Arc = c.Arc[:len(c.T)]
}

// Index returns the texel at a point, −1 outside.
func (c *Canvas) Index(x, y float64) int {
	fx, fy := (x-c.X0)*c.PerMM, (y-c.Y0)*c.PerMM
	if fx < 0 || fy < 0 || fx >= float64(c.W) || fy >= float64(c.H) {
		return -1
	}
	return int(fy)*c.W + int(fx)
}

// TexelMM2 is the area of one texel.
func (c *Canvas) TexelMM2() float64 { return 1 / (c.PerMM * c.PerMM) }

// Node is a point of a root's or fibre's centre line.
type Node struct {
	X, Y, Half float64 // mm; half is half the width
	Tone       uint8
}

// StrokeLight is how round a stroke looks: the gain on its flanks, and where light comes from (a unit vector).
type StrokeLight struct {
	Flank, Slope float64
	X, Y         float64
}

// FromUpperLeft is where the lamp stands in all scenes.
var FromUpperLeft = [2]float64{-0.6, -0.8}

// Stroke paints a round-ended line of changing width and counts nothing. step is the distance between nodes in mm; with
// c.arc made, each texel keeps how far along the line it is.
func (c *Canvas) Stroke(path []Node, step float64, owner int, light StrokeLight) {
	for i := 0; i+1 < len(path); i++ {
		c.segment(path[i], path[i+1], i == 0, float64(i)*step, step, owner, light)
	}
}

func (c *Canvas) segment(p, q Node, first bool, arc, step float64, owner int, light StrokeLight) {
	px, py := (p.X-c.X0)*c.PerMM-0.5, (p.Y-c.Y0)*c.PerMM-0.5
	qx, qy := (q.X-c.X0)*c.PerMM-0.5, (q.Y-c.Y0)*c.PerMM-0.5
	a, b := p.Half*c.PerMM, q.Half*c.PerMM
	most := max(a, b)
	x0, x1 := max(int(math.Ceil(min(px, qx)-most)), 0), min(int(math.Floor(max(px, qx)+most)), c.W-1)
	y0, y1 := max(int(math.Ceil(min(py, qy)-most)), 0), min(int(math.Floor(max(py, qy)+most)), c.H-1)
	dx, dy := qx-px, qy-py
	length2 := dx*dx + dy*dy
	if length2 == 0 {
		return
	}
	inverse, length := 1/length2, math.Sqrt(length2)
	// The lamp's share across the line: light on the left flank, shade on the right one.
	across := (-dy*light.X + dx*light.Y) / length
	for y := y0; y <= y1; y++ {
		row := y * c.W
		for x := x0; x <= x1; x++ {
			ex, ey := float64(x)-px, float64(y)-py
			t := (ex*dx + ey*dy) * inverse
			if t < 0 {
				if !first && c.T[row+x].Owner() == owner {
					continue
				}
				t = 0
			} else if t > 1 {
				t = 1
			}
			half := a + (b-a)*t
			fx, fy := ex-dx*t, ey-dy*t
			if fx*fx+fy*fy > half*half {
				continue
			}
			side := (ey*dx - ex*dy) / length / half
			gain := light.Flank + (1-light.Flank)*math.Sqrt(max(0, 1-side*side)) + light.Slope*side*across
			c.T[row+x] = NewTexel(owner, p.Tone, ShadeOf(gain))
			if c.Arc != nil {
				c.Arc[row+x] = uint16((arc + step*t) * 100)
			}
		}
	}
}

// ShadeOf is a gain as texels keep it.
func ShadeOf(gain float64) uint8 { return uint8(max(0, min(255, gain*128+0.5))) }

// Fill calls set for every texel whose middle is inside the polygon, which must be crossed at most twice by any row.
func (c *Canvas) Fill(polygon [][2]float64, set func(i int, x, y float64)) {
	left, right := make([]float64, c.H), make([]float64, c.H)
	for i := range left {
		left[i], right[i] = math.Inf(1), math.Inf(-1)
	}
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if p[1] > q[1] {
			p, q = q, p
		}
		from := max(int(math.Ceil((p[1]-c.Y0)*c.PerMM-0.5)), 0)
		to := min(int(math.Ceil((q[1]-c.Y0)*c.PerMM-0.5)), c.H)
		for y := from; y < to; y++ {
			my := c.Y0 + (float64(y)+0.5)/c.PerMM
			x := p[0] + (q[0]-p[0])*(my-p[1])/(q[1]-p[1])
			left[y], right[y] = min(left[y], x), max(right[y], x)
		}
	}
	for y := range c.H {
		if left[y] > right[y] {
			continue
		}
		my := c.Y0 + (float64(y)+0.5)/c.PerMM
		from := max(int(math.Ceil((left[y]-c.X0)*c.PerMM-0.5)), 0)
		to := min(int(math.Ceil((right[y]-c.X0)*c.PerMM-0.5)), c.W)
		for x := from; x < to; x++ {
			set(y*c.W+x, c.X0+(float64(x)+0.5)/c.PerMM, my)
		}
	}
}

// Shadow is the dark that a thing throws on what lies lower: taps are steps toward the lamp in mm, each of which that
// meets something higher takes away the share.
type Shadow struct {
	Taps  [][2]float64
	Share float32
}

// Lay samples c into the picture: 3 × 3 places a pixel, each asking the canvas what is on top. light, if not nil, is a
// gain that depends on the place on the plane.
func (c *Canvas) Lay(p *exposure.Picture, v *camera.View, z float64, palettes []*Palette, sh Shadow, busy func(x, y float64) bool, light func(x, y float64) float32) {
	x0, y0, x1, y1 := v.Box(c.X0, c.Y0, c.X0+float64(c.W)/c.PerMM, c.Y0+float64(c.H)/c.PerMM, z)
	n := x1 - x0
	if n <= 0 || y1 <= y0 {
		return
	}
	rows := [4][]float64{make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)}
	xs, ys, nextX, nextY := rows[0], rows[1], rows[2], rows[3]
	v.PlaneRow(x0, y0, z, xs, ys)
	taps := make([]int, len(sh.Taps))
	for i, t := range sh.Taps {
		taps[i] = int(math.Round(t[1]*c.PerMM))*c.W + int(math.Round(t[0]*c.PerMM))
	}
	for y := y0; y < y1; y++ {
		v.PlaneRow(x0, y+1, z, nextX, nextY)
		for i := range n {
			if busy != nil && !busy(xs[i], ys[i]) {
				continue
			}
			ux, uy := (xs[i+1]-xs[i])/3, (ys[i+1]-ys[i])/3
			wx, wy := (nextX[i]-xs[i])/3, (nextY[i]-ys[i])/3
			colour, hits := c.sample(xs[i], ys[i], ux, uy, wx, wy, palettes, taps, sh.Share)
			if hits == 0 {
				continue
			}
			gain := float32(1)
			if light != nil {
				gain = light(xs[i], ys[i])
			}
			p.Blend(x0+i, y, colour.Times(gain/float32(hits)), float32(hits)/9)
		}
		xs, ys, nextX, nextY = nextX, nextY, xs, ys
	}
}

// sample sums the colours at the nine places around (x, y) and tells how many of them met something.
func (c *Canvas) sample(x, y, ux, uy, wx, wy float64, palettes []*Palette, taps []int, share float32) (sum num.RGB, hits int) {
	for j := -1.0; j <= 1; j++ {
		for i := -1.0; i <= 1; i++ {
			at := c.Index(x+i*ux+j*wx, y+i*uy+j*wy)
			if at < 0 {
				continue
			}
			t := c.T[at]
			owner := t.Owner()
			if owner == 0 {
				continue
			}
			hits++
			gain := float32(t.Shade()) / 128
			for _, d := range taps {
				if k := at + d; k >= 0 && k < len(c.T) && c.T[k].Owner() > owner {
					gain *= share
				}
			}
			own := &palettes[owner][t.Tone()]
			sum[0] += own[0] * gain
			sum[1] += own[1] * gain
			sum[2] += own[2] * gain
		}
	}
	return sum, hits
}

// Mirror is the lamp as water shows it.
var Mirror = num.RGB{0.95, 0.97, 1}

// Darken is the shadow of a small thing: a disc of the medium loses half its light.
func (c *Canvas) Darken(x, y, radius float64) {
	for ty := y - radius; ty <= y+radius; ty += 1 / c.PerMM {
		half := math.Sqrt(max(0, radius*radius-(ty-y)*(ty-y)))
		for tx := x - half; tx <= x+half; tx += 1 / c.PerMM {
			if i := c.Index(tx, ty); i >= 0 && c.T[i].Owner() == 1 {
				c.T[i] = NewTexel(1, c.T[i].Tone(), c.T[i].Shade()/2)
			}
		}
	}
}
