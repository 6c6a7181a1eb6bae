package bench

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Layout is where the plugs and the tray's holes are.
type Layout struct {
	Plugs []Plug
	Plug  solids.Coarse // mm inside the nearest plug's edge, negative outside
	hole  solids.Coarse // mm inside the nearest hole's edge
	web   solids.Coarse // mm from the nearest line halfway between two cells
	pitch float32       // mm from cell to cell, 0 for a loose plug
	Cell  Outline       // the middle cell's hole
	empty bool          // whether the cells hold no plugs
}

// Plug is one plug's bottom.
type Plug struct {
	Outline
	level float32 // mm by which it stands out
	dome  float32 // mm by which its middle stands out beyond that
	round float32 // mm from the edge within which its surface bends down
}

// NewLayout draws where plugs and cells are: one plug fills the drawing, stands alone, or has others around it.
func NewLayout(d num.Dice, t *num.Tables) Layout {
	middle, fills := newPlug(d)
	l := Layout{Cell: middle.grown(max(0, d.Between(-0.6, 3)))}
	l.Cell.ragged = 0
	if d.Chance(0.1) {
		l.Cell.points, l.Cell.out = d.Count(4, 10), d.Between(0.3, 1.5)
		l.Cell = l.Cell.grown(l.Cell.out)
	}
	l.empty = !fills && d.Chance(0.03)
	if !l.empty {
		l.Plugs = append(l.Plugs, middle)
	}
	if !fills && d.Chance(0.85) {
		l.neighbours(d, middle)
	}
	l.Plug = solids.NewCoarse(func(x, y float32) float32 { _, in := l.nearest(t, x, y); return max(in, -30) })
	l.hole = solids.NewCoarse(func(x, y float32) float32 { x, y = l.folded(x, y); return l.Cell.Depth(t, x, y) })
	l.web = solids.NewCoarse(l.fromWeb)
	return l
}

// newPlug returns the plug in the middle, and whether it is larger than the drawing.
func newPlug(d num.Dice) (p Plug, fills bool) {
	p.Corner = 1
	switch d.Pick(0.57, 0.19, 0.21, 0.03) {
	case 0:
		p.Half = num.Clamp(17+float32(2*d.Bell()), 13, 19) // mm: 26 to 38 mm wide
	case 1:
		p.Half = d.Between(7.5, 21)
	case 2:
		p.Half, p.Corner = d.Between(5, 20), d.Between(0.1, 0.7)
	case 3:
		p.Half, fills = d.Between(33, 60), true
	}
	x, y := d.Facing()
	off := d.Between(0, 2)
	p.X, p.Y = solids.Width/2+float32(x*off), solids.Width/2+float32(y*off)
	p.AlongX, p.AlongY = 1, 0
	if d.Chance(0.3) {
		p.AlongX, p.AlongY = d.Facing()
	}
	p.ragged, p.every = d.Between(0, 0.5)*d.Float32(), d.Scaled(1, 8)
	p.seedX, p.seedY = d.Between(0, 500), d.Between(0, 500)
	p.level, p.dome = d.Between(-0.6, 0.6), d.Between(-0.6, 0.9)
	p.round = d.Scaled(0.4, 3)
	return p, fills
}

// neighbours puts plugs into the cells around.
func (l *Layout) neighbours(d num.Dice, middle Plug) {
	l.pitch = 2*l.Cell.Half + float32(2*l.Cell.out) + d.Scaled(1, 12)
	reach := int(solids.Width/2/l.pitch + 1.5)
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			p := middle
			p.X, p.Y = l.cellAt(float32(i), float32(j))
			if i == 0 && j == 0 || l.empty || d.Chance(0.12) || !p.seen() {
				continue
			}
			p.Half *= d.Between(0.94, 1)
			p.seedX, p.seedY = d.Between(0, 500), d.Between(0, 500)
			p.X += d.Between(-0.4, 0.4)
			p.Y += d.Between(-0.4, 0.4)
			p.level += d.Between(-0.5, 0.5)
			l.Plugs = append(l.Plugs, p)
		}
	}
}

// seen reports whether a plug reaches into the drawing.
func (p *Plug) seen() bool {
	return p.X > -p.Half && p.Y > -p.Half && p.X < solids.Width+p.Half && p.Y < solids.Width+p.Half
}

// cellAt is the middle of the cell i columns to the right and j rows down of the middle one.
func (l *Layout) cellAt(i, j float32) (x, y float32) {
	c := &l.Cell
	return c.X + float32(l.pitch*num.Dot(i, j, c.AlongX, -c.AlongY)), c.Y + float32(l.pitch*num.Dot(i, j, c.AlongY, c.AlongX))
}

// folded is the place in the middle cell that looks like the given place in its own cell.
func (l *Layout) folded(x, y float32) (fx, fy float32) {
	if l.pitch == 0 {
		return x, y
	}
	u, v := l.inCell(x, y)
	c := &l.Cell
	return c.X + num.Dot(u, v, c.AlongX, -c.AlongY), c.Y + num.Dot(u, v, c.AlongY, c.AlongX)
}

// inCell is where a place lies from its own cell's middle, along the tray's rows and columns.
func (l *Layout) inCell(x, y float32) (u, v float32) {
	c := &l.Cell
	u, v = num.Dot(x-c.X, y-c.Y, c.AlongX, c.AlongY), num.Dot(x-c.X, y-c.Y, -c.AlongY, c.AlongX)
	u -= float32(l.pitch * num.Floor(u/l.pitch+0.5))
	v -= float32(l.pitch * num.Floor(v/l.pitch+0.5))
	return u, v
}

func (l *Layout) fromWeb(x, y float32) float32 {
	if l.pitch == 0 {
		return 30
	}
	u, v := l.inCell(x, y)
	return float32(l.pitch/2) - max(num.Abs(u), num.Abs(v))
}
