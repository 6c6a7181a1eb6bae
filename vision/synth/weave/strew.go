package weave

import "math"

// canvas is light on square samples, and which root's segment each shows.
type canvas struct {
	n     int     // samples a side
	scale float64 // samples a mm
	light []rgb
	share func(i int) float32 // what part of a sample may be painted on; nil for all
	owner []int32             // 0 for no root; nil where roots are not known yet
}

// refined returns the same picture at the fine samples.
func (c *canvas) refined() *canvas {
	f := &canvas{n: fine, scale: perS, light: make([]rgb, fine*fine), owner: make([]int32, fine*fine)}
	for i := range f.light {
		f.light[i] = c.light[i/fine/sub*side+i%fine/sub]
	}
	return f
}

// put lays a colour over a share of a sample; on fine samples, over all or nothing.
func (c *canvas) put(i int, share float32, colour rgb) {
	if c.owner != nil {
		if share >= 0.5 {
			c.light[i], c.owner[i] = colour, 0
		}
		return
	}
	if c.share != nil {
		share *= c.share(i)
	}
	c.light[i] = mix(c.light[i], colour, share)
}

// lump is a crumb, a grain or a chip.
type lump struct {
	x, y, r, long      float64 // mm; long is length over width
	faces              int     // of an angular one; 0 for a round one
	colour             rgb
	relief, dark, edge float32 // how much its light varies with the lamp; its shadow; darkness of its edge
	speck, glint       float32 // unevenness; a mirror image of the lamp
	alongX, alongY     float64
	normals            [9][2]float32
	reach              [9]float32
}

// lay paints a lump with its shadow.
func (s *scene) lay(c *canvas, l *lump) {
	l.alongX, l.alongY = s.facing()
	for k := range l.faces {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + s.in(-0.3, 0.3)) / float64(l.faces))
		l.normals[k] = [2]float32{float32(cos), float32(sin)}
		l.reach[k] = float32(s.in(0.6, 1))
	}
	if l.dark > 0 {
		s.shade(c, l)
	}
	reach := 1.3*l.r*l.long + 1/c.scale
	lx, ly := float32(s.lampX*l.alongX+s.lampY*l.alongY), float32(s.lampY*l.alongX-s.lampX*l.alongY)
	soft := float32(l.r * c.scale)
	x0, x1, y0, y1 := c.box(l.x, l.y, reach)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			dx, dy := (float64(x)+0.5)/c.scale-l.x, (float64(y)+0.5)/c.scale-l.y
			u := float32((dx*l.alongX + dy*l.alongY) / (l.r * l.long))
			v := float32((dy*l.alongX - dx*l.alongY) / l.r)
			deep, nx, ny := l.deep(u, v)
			share := clamp01(deep*soft + 0.5)
			if share == 0 {
				continue
			}
			i := y*c.n + x
			bevel := clamp01(1 - deep*1.6)
			light := 1 + l.relief*bevel*(nx*lx+ny*ly) - l.edge*bevel*bevel
			light *= 1 + l.speck*s.grain[(y*side/c.n*side+x*side/c.n+int(l.x*991))%(side*side)]
			colour := times(l.colour, max(0.1, light))
			if l.glint > 0 && (u-0.4*lx)*(u-0.4*lx)+(v-0.4*ly)*(v-0.4*ly) < 0.03 {
				colour = plus(colour, rgb{1, 1, 1}, l.glint)
			}
			c.put(i, share, colour)
		}
	}
}

// deep is how deep inside a lump of unit size a place is, and the direction of the nearest edge.
func (l *lump) deep(u, v float32) (deep, nx, ny float32) {
	if l.faces == 0 {
		r := float32(math.Sqrt(float64(u*u + v*v)))
		return 1 - r, u / (r + 1e-4), v / (r + 1e-4)
	}
	deep = 9
	for k := range l.faces {
		n := &l.normals[k]
		if e := l.reach[k] - u*n[0] - v*n[1]; e < deep {
			deep, nx, ny = e, n[0], n[1]
		}
	}
	return deep, nx, ny
}

// shade darkens what lies beside a lump, away from the lamp.
func (s *scene) shade(c *canvas, l *lump) {
	r := l.r * math.Sqrt(l.long)
	cx, cy := l.x-0.5*r*s.lampX, l.y-0.5*r*s.lampY
	x0, x1, y0, y1 := c.box(cx, cy, 1.3*r)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			dx, dy := (float64(x)+0.5)/c.scale-cx, (float64(y)+0.5)/c.scale-cy
			q := float32((dx*dx + dy*dy) / (r * r * 1.69))
			if q < 1 {
				i := y*c.n + x
				k := l.dark * (1 - q)
				if c.share != nil {
					k *= c.share(i)
				}
				c.light[i] = times(c.light[i], 1-k)
			}
		}
	}
}

// box is the range of samples within reach of a place.
func (c *canvas) box(x, y, reach float64) (x0, x1, y0, y1 int) {
	at := func(v float64) int { return min(c.n, max(-1, int(math.Floor(v*c.scale)))) }
	return max(0, at(x-reach)), min(c.n-1, at(x+reach)), max(0, at(y-reach)), min(c.n-1, at(y+reach))
}
