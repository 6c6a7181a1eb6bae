// Package canvas is what sheets are laid on: outlines filled by exact coverage, piece by piece from the lowest, each shading what lies
// below it, with light and labels kept layer by layer. It holds the lamp, and what comes over all: drops of water and shadows from outside.
// In go pieces, which say their outlines and what they are at each texel; out comes the drawing. It does not know what a piece is of.
package canvas

import (
	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/num"
)

// Canvas is a drawing in the making. While layers are laid, the drawing's Light holds the lamp's part alone, and its Own and Dead
// hold amounts of the whole texel.
type Canvas struct {
	*closeup.Leaves
	Lamp   Lamp
	Sky    []closeup.RGB // the light from all over, and what is sent back of it
	Z      []float32     // mm of what lies on top over the tray's upper side
	held   []held
	Top    []int32 // the last piece that covers the texel whole, -1 for none
	now    int32   // the piece being laid
	FlatMM float64 // mm a texel

	Mask   Mask // scratch
	summed summed
}

// held is how much of a texel two plants have: the one that has most there is in Plant, first is its share.
type held struct {
	first, second float32
	runnerUp      uint8
}

// NewCanvas returns an empty drawing of side × side texels under a lamp.
func NewCanvas(side int, perMM float64, l Lamp) *Canvas {
	n := side * side
	return &Canvas{
		Leaves: closeup.NewLeaves(side, perMM), Lamp: l, FlatMM: 1 / perMM,
		Sky: make([]closeup.RGB, n), Z: make([]float32, n), held: make([]held, n), Top: make([]int32, n),
	}
}

// Mark finds what will be hidden by the pieces, which are laid in this order, so that nothing need be painted there.
func (c *Canvas) Mark(pieces []Piece) {
	for i := range c.Top {
		c.Top[i] = -1
	}
	for k, one := range pieces {
		m := &c.Mask
		if !m.cut(c.Side, one.Outlines()...) {
			continue
		}
		for y := range m.H {
			row := c.Top[(m.Y0+y)*c.Side+m.X0:]
			for x, cover := range m.cover[y*m.W : (y+1)*m.W] {
				if cover == 1 {
					row[x] = int32(k)
				}
			}
		}
	}
}

// Piece is what is laid over the ground: a sheet of a plant, or a thing.
type Piece interface {
	Order() float64       // mm; what is lower is laid first
	Outlines() []num.Ring // texels
	Paint(p *Painter)     // its outlines are in the mask
}

// LayAll lays the pieces over all that is there, one after the other.
func (c *Canvas) LayAll(pieces []Piece) {
	p := Painter{Canvas: c}
	for i, one := range pieces {
		if c.now = int32(i); c.Mask.cut(c.Side, one.Outlines()...) {
			one.Paint(&p)
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
func (c *Canvas) lay(i int, share float32, l *layer) {
	left := 1 - share
	c.Light[i] = over(c.Light[i], l.sun, share)
	c.Sky[i] = over(c.Sky[i], l.sky, share)
	c.Z[i] = c.Z[i]*left + l.z*share
	h := &c.held[i]
	h.first *= left
	h.second *= left
	if l.plant == 0 {
		c.Own[i] = num.Scaled(c.Own[i], left)
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
func (c *Canvas) claim(i int, plant uint8, share float32) {
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

// Finish turns amounts into the drawing's labels and adds up the light.
func (c *Canvas) Finish(v *Veil) *closeup.Leaves {
	const none = 1e-3 // of a texel: what is left of a leaf below a sheet's soft sum
	for i := range c.Light {
		left := float32(v.at(num.At(float64(i%c.Side)+0.5, float64(i/c.Side)+0.5)))
		for k := range 3 {
			c.Light[i][k] = min(4, left*(c.Light[i][k]+c.Sky[i][k]))
		}
		if c.Leaf[i] < none {
			c.Leaf[i], c.Dead[i], c.Plant[i], c.Own[i] = 0, 0, 0, closeup.RGB{}
			continue
		}
		c.Own[i] = num.Scaled(c.Own[i], 1/c.Leaf[i])
		c.Leaf[i] = min(1, c.Leaf[i])
		c.Dead[i] = min(c.Dead[i], c.Leaf[i])
	}
	return c.Leaves
}
