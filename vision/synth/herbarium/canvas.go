package herbarium

import "traygauge/vision/synth/closeup"

// canvas is a drawing in the making. While layers are laid, the drawing's Light holds the lamp's part alone, and its Own and Dead
// hold amounts of the whole texel.
type canvas struct {
	*closeup.Leaves
	lamp   lamp
	sky    []closeup.RGB // the light from all over, and what is sent back of it
	z      []float32     // mm of what lies on top over the tray's upper side
	held   []held
	top    []int32 // the last piece that covers the texel whole, -1 for none
	now    int32   // the piece being laid
	flatMM float64 // mm a texel

	mask   mask // scratch
	summed summed
}

// held is how much of a texel two plants have: the one that has most there is in Plant, first is its share.
type held struct {
	first, second float32
	runnerUp      uint8
}

func newCanvas(side int, perMM float64, l lamp) *canvas {
	n := side * side
	return &canvas{
		Leaves: closeup.NewLeaves(side, perMM), lamp: l, flatMM: 1 / perMM,
		sky: make([]closeup.RGB, n), z: make([]float32, n), held: make([]held, n), top: make([]int32, n),
	}
}

// mark finds what will be hidden by the pieces, which are laid in this order, so that nothing need be painted there.
func (c *canvas) mark(pieces []piece) {
	for i := range c.top {
		c.top[i] = -1
	}
	for k, one := range pieces {
		m := &c.mask
		if !m.cut(c.Side, one.outlines()...) {
			continue
		}
		for y := range m.h {
			row := c.top[(m.y0+y)*c.Side+m.x0:]
			for x, cover := range m.cover[y*m.w : (y+1)*m.w] {
				if cover == 1 {
					row[x] = int32(k)
				}
			}
		}
	}
}

// layer is what one texel of a sheet, or of a thing, lays over what is there.
type layer struct {
	sun, sky closeup.RGB
	own      closeup.RGB // of a leaf
	dead     float32     // share of the leaf
	z        float32
	plant    uint8 // 0 for what is no leaf
}

// lay covers a share of a texel. What was there keeps the rest, labels too.
func (c *canvas) lay(i int, share float32, l *layer) {
	left := 1 - share
	c.Light[i] = over(c.Light[i], l.sun, share)
	c.sky[i] = over(c.sky[i], l.sky, share)
	c.z[i] = c.z[i]*left + l.z*share
	h := &c.held[i]
	h.first *= left
	h.second *= left
	if l.plant == 0 {
		c.Own[i] = scaled(c.Own[i], left)
		c.Leaf[i] *= left
		c.Dead[i] *= left
		return
	}
	c.Own[i] = over(c.Own[i], l.own, share)
	c.Leaf[i] = c.Leaf[i]*left + share
	c.Dead[i] = c.Dead[i]*left + l.dead*share
	c.claim(i, l.plant, share)
}

// claim gives a share of a texel to a plant.
func (c *canvas) claim(i int, plant uint8, share float32) {
	h := &c.held[i]
	switch {
	case c.Plant[i] == plant:
		h.first += share
	case h.runnerUp == plant:
		h.second += share
	default:
		h.second, h.runnerUp = share, plant
	}
	if h.second > h.first {
		h.first, h.second = h.second, h.first
		c.Plant[i], h.runnerUp = h.runnerUp, c.Plant[i]
	}
}

func over(below, above closeup.RGB, share float32) closeup.RGB {
	left := 1 - share
	return closeup.RGB{below[0]*left + above[0]*share, below[1]*left + above[1]*share, below[2]*left + above[2]*share}
}

// finish turns amounts into the drawing's labels and adds up the light.
func (c *canvas) finish(v *veil) *closeup.Leaves {
	const none = 1e-3 // of a texel: what is left of a leaf below a sheet's soft sum
	for i := range c.Light {
		left := float32(v.at(point{float64(i%c.Side) + 0.5, float64(i/c.Side) + 0.5}))
		for k := range 3 {
			c.Light[i][k] = min(4, left*(c.Light[i][k]+c.sky[i][k]))
		}
		if c.Leaf[i] < none {
			c.Leaf[i], c.Dead[i], c.Plant[i], c.Own[i] = 0, 0, 0, closeup.RGB{}
			continue
		}
		c.Own[i] = scaled(c.Own[i], 1/c.Leaf[i])
		c.Leaf[i] = min(1, c.Leaf[i])
		c.Dead[i] = min(c.Dead[i], c.Leaf[i])
	}
	return c.Leaves
}
