package synth

import "math"

// texel says what is on top at one place of a canvas: the thing's number in drawing order (0 is nothing, so what lies
// below shows), which of its palette's colours it has, and how lit it is (128 is a gain of 1).
type texel uint32

func newTexel(owner int, tone, shade uint8) texel {
	return texel(owner)<<16 | texel(tone)<<8 | texel(shade)
}

func (t texel) owner() int   { return int(t >> 16) }
func (t texel) tone() uint8  { return uint8(t >> 8) }
func (t texel) shade() uint8 { return uint8(t) }

// palette is the own colours of a kind of thing, by tone.
type palette [256]rgb

// lit returns p with every colour times gain but the water's mirrors; a gain of 0 is 1.
func (p *palette) lit(gain float64) *palette {
	if gain == 0 || gain == 1 {
		return p
	}
	q := *p
	for i := range q {
		if q[i] != mirror {
			q[i] = q[i].times(float32(gain))
		}
	}
	return &q
}

func orOne(gain float64) float64 {
	if gain == 0 {
		return 1
	}
	return gain
}

// canvas is a part of a plane at a fine resolution. Truth is counted on it and pictures are sampled from it.
type canvas struct {
	x0, y0 float64 // mm: the outer corner of the first texel
	perMM  float64
	w, h   int
	t      []texel
	arc    []uint16 // if made: how far along its root a texel is, in 1/100 mm, see stroke
}

// reset makes c cover the rectangle, all of it nothing; memory is used again.
func (c *canvas) reset(minX, minY, maxX, maxY, perMM float64) {
	c.x0, c.y0, c.perMM = minX, minY, perMM
	c.w, c.h = int(math.Ceil((maxX-minX)*perMM)), int(math.Ceil((maxY-minY)*perMM))
	if n := c.w * c.h; cap(c.t) < n {
		c.t = make([]texel, n)
	} else {
		c.t = c.t[:n]
		clear(c.t)
	}
}

// withArc makes room for lengths along roots.
func (c *canvas) withArc() {
	if cap(c.arc) < len(c.t) {
		c.arc = make([]uint16, len(c.t))
	}
	c.arc = c.arc[:len(c.t)]
}

// index returns the texel at a point, −1 outside.
func (c *canvas) index(x, y float64) int {
	fx, fy := (x-c.x0)*c.perMM, (y-c.y0)*c.perMM
	if fx < 0 || fy < 0 || fx >= float64(c.w) || fy >= float64(c.h) {
		return -1
	}
	return int(fy)*c.w + int(fx)
}

// texelMM2 is the area of one texel.
func (c *canvas) texelMM2() float64 { return 1 / (c.perMM * c.perMM) }

// node is a point of a root's or fibre's centre line.
type node struct {
	x, y, half float64 // mm; half is half the width
	tone       uint8
}

// strokeLight is how round a stroke looks: the gain on its flanks, and where light comes from (a unit vector).
type strokeLight struct {
	flank, slope float64
	x, y         float64
}

// fromUpperLeft is where the lamp stands in all scenes.
var fromUpperLeft = [2]float64{-0.6, -0.8}

// stroke paints a round-ended line of changing width and counts nothing. step is the distance between nodes in mm; with
// c.arc made, each texel keeps how far along the line it is.
func (c *canvas) stroke(path []node, step float64, owner int, light strokeLight) {
	for i := 0; i+1 < len(path); i++ {
		c.segment(path[i], path[i+1], i == 0, float64(i)*step, step, owner, light)
	}
}

func (c *canvas) segment(p, q node, first bool, arc, step float64, owner int, light strokeLight) {
	px, py := (p.x-c.x0)*c.perMM-0.5, (p.y-c.y0)*c.perMM-0.5
	qx, qy := (q.x-c.x0)*c.perMM-0.5, (q.y-c.y0)*c.perMM-0.5
	a, b := p.half*c.perMM, q.half*c.perMM
	most := max(a, b)
	x0, x1 := max(int(math.Ceil(min(px, qx)-most)), 0), min(int(math.Floor(max(px, qx)+most)), c.w-1)
	y0, y1 := max(int(math.Ceil(min(py, qy)-most)), 0), min(int(math.Floor(max(py, qy)+most)), c.h-1)
	dx, dy := qx-px, qy-py
	length2 := dx*dx + dy*dy
	if length2 == 0 {
		return
	}
	inverse, length := 1/length2, math.Sqrt(length2)
	// The lamp's share across the line: light on the left flank, shade on the right one.
	across := (-dy*light.x + dx*light.y) / length
	for y := y0; y <= y1; y++ {
		row := y * c.w
		for x := x0; x <= x1; x++ {
			ex, ey := float64(x)-px, float64(y)-py
			t := (ex*dx + ey*dy) * inverse
			if t < 0 {
				if !first && c.t[row+x].owner() == owner {
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
			gain := light.flank + (1-light.flank)*math.Sqrt(max(0, 1-side*side)) + light.slope*side*across
			c.t[row+x] = newTexel(owner, p.tone, shadeOf(gain))
			if c.arc != nil {
				c.arc[row+x] = uint16((arc + step*t) * 100)
			}
		}
	}
}

func shadeOf(gain float64) uint8 { return uint8(max(0, min(255, gain*128+0.5))) }

// fill calls set for every texel whose middle is inside the polygon, which must be crossed at most twice by any row.
func (c *canvas) fill(polygon [][2]float64, set func(i int, x, y float64)) {
	left, right := make([]float64, c.h), make([]float64, c.h)
	for i := range left {
		left[i], right[i] = math.Inf(1), math.Inf(-1)
	}
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if p[1] > q[1] {
			p, q = q, p
		}
		from := max(int(math.Ceil((p[1]-c.y0)*c.perMM-0.5)), 0)
		to := min(int(math.Ceil((q[1]-c.y0)*c.perMM-0.5)), c.h)
		for y := from; y < to; y++ {
			my := c.y0 + (float64(y)+0.5)/c.perMM
			x := p[0] + (q[0]-p[0])*(my-p[1])/(q[1]-p[1])
			left[y], right[y] = min(left[y], x), max(right[y], x)
		}
	}
	for y := range c.h {
		if left[y] > right[y] {
			continue
		}
		my := c.y0 + (float64(y)+0.5)/c.perMM
		from := max(int(math.Ceil((left[y]-c.x0)*c.perMM-0.5)), 0)
		to := min(int(math.Ceil((right[y]-c.x0)*c.perMM-0.5)), c.w)
		for x := from; x < to; x++ {
			set(y*c.w+x, c.x0+(float64(x)+0.5)/c.perMM, my)
		}
	}
}

// shadow is the dark that a thing throws on what lies lower: taps are steps toward the lamp in mm, each of which that
// meets something higher takes away the share.
type shadow struct {
	taps  [][2]float64
	share float32
}

// lay samples c into the picture: 3 × 3 places a pixel, each asking the canvas what is on top. light, if not nil, is a
// gain that depends on the place on the plane.
func (c *canvas) lay(p *picture, v *view, z float64, palettes []*palette, sh shadow, busy func(x, y float64) bool, light func(x, y float64) float32) {
	x0, y0, x1, y1 := v.box(c.x0, c.y0, c.x0+float64(c.w)/c.perMM, c.y0+float64(c.h)/c.perMM, z)
	n := x1 - x0
	if n <= 0 || y1 <= y0 {
		return
	}
	rows := [4][]float64{make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)}
	xs, ys, nextX, nextY := rows[0], rows[1], rows[2], rows[3]
	v.planeRow(x0, y0, z, xs, ys)
	taps := make([]int, len(sh.taps))
	for i, t := range sh.taps {
		taps[i] = int(math.Round(t[1]*c.perMM))*c.w + int(math.Round(t[0]*c.perMM))
	}
	for y := y0; y < y1; y++ {
		v.planeRow(x0, y+1, z, nextX, nextY)
		for i := range n {
			if busy != nil && !busy(xs[i], ys[i]) {
				continue
			}
			ux, uy := (xs[i+1]-xs[i])/3, (ys[i+1]-ys[i])/3
			wx, wy := (nextX[i]-xs[i])/3, (nextY[i]-ys[i])/3
			colour, hits := c.sample(xs[i], ys[i], ux, uy, wx, wy, palettes, taps, sh.share)
			if hits == 0 {
				continue
			}
			gain := float32(1)
			if light != nil {
				gain = light(xs[i], ys[i])
			}
			p.blend(x0+i, y, colour.times(gain/float32(hits)), float32(hits)/9)
		}
		xs, ys, nextX, nextY = nextX, nextY, xs, ys
	}
}

// sample sums the colours at the nine places around (x, y) and tells how many of them met something.
func (c *canvas) sample(x, y, ux, uy, wx, wy float64, palettes []*palette, taps []int, share float32) (sum rgb, hits int) {
	for j := -1.0; j <= 1; j++ {
		for i := -1.0; i <= 1; i++ {
			at := c.index(x+i*ux+j*wx, y+i*uy+j*wy)
			if at < 0 {
				continue
			}
			t := c.t[at]
			owner := t.owner()
			if owner == 0 {
				continue
			}
			hits++
			gain := float32(t.shade()) / 128
			for _, d := range taps {
				if k := at + d; k >= 0 && k < len(c.t) && c.t[k].owner() > owner {
					gain *= share
				}
			}
			own := &palettes[owner][t.tone()]
			sum[0] += own[0] * gain
			sum[1] += own[1] * gain
			sum[2] += own[2] * gain
		}
	}
	return sum, hits
}
