package relief

// layout is where the plugs and the tray's holes are.
type layout struct {
	plugs []plug
	plug  coarse  // mm inside the nearest plug's edge, negative outside
	hole  coarse  // mm inside the nearest hole's edge
	web   coarse  // mm from the nearest line halfway between two cells
	pitch float32 // mm from cell to cell, 0 for a loose plug
	cell  outline // the middle cell's hole
	empty bool    // whether the cells hold no plugs
}

// plug is one plug's bottom.
type plug struct {
	outline
	level float32 // mm by which it stands out
	dome  float32 // mm by which its middle stands out beyond that
	round float32 // mm from the edge within which its surface bends down
}

func newLayout(d dice, t *tables) layout {
	middle, fills := newPlug(d)
	l := layout{cell: middle.grown(max(0, d.between(-0.6, 3)))}
	l.cell.ragged = 0
	if d.chance(0.1) {
		l.cell.points, l.cell.out = d.count(4, 10), d.between(0.3, 1.5)
		l.cell = l.cell.grown(l.cell.out)
	}
	l.empty = !fills && d.chance(0.03)
	if !l.empty {
		l.plugs = append(l.plugs, middle)
	}
	if !fills && d.chance(0.85) {
		l.neighbours(d, middle)
	}
	l.plug = newCoarse(func(x, y float32) float32 { _, in := l.nearest(t, x, y); return max(in, -30) })
	l.hole = newCoarse(func(x, y float32) float32 { x, y = l.folded(x, y); return l.cell.depth(t, x, y) })
	l.web = newCoarse(l.fromWeb)
	return l
}

// newPlug returns the plug in the middle, and whether it is larger than the drawing.
func newPlug(d dice) (p plug, fills bool) {
	p.corner = 1
	switch d.pick(0.57, 0.19, 0.21, 0.03) {
	case 0:
		p.half = clamp(17+float32(2*d.bell()), 13, 19) // mm: 26 to 38 mm wide
	case 1:
		p.half = d.between(7.5, 21)
	case 2:
		p.half, p.corner = d.between(5, 20), d.between(0.1, 0.7)
	case 3:
		p.half, fills = d.between(33, 60), true
	}
	x, y := d.facing()
	off := d.between(0, 2)
	p.x, p.y = width/2+float32(x*off), width/2+float32(y*off)
	p.alongX, p.alongY = 1, 0
	if d.chance(0.3) {
		p.alongX, p.alongY = d.facing()
	}
	p.ragged, p.every = d.between(0, 0.5)*d.Float32(), d.scaled(1, 8)
	p.seedX, p.seedY = d.between(0, 500), d.between(0, 500)
	p.level, p.dome = d.between(-0.6, 0.6), d.between(-0.6, 0.9)
	p.round = d.scaled(0.4, 3)
	return p, fills
}

// neighbours puts plugs into the cells around.
func (l *layout) neighbours(d dice, middle plug) {
	l.pitch = 2*l.cell.half + float32(2*l.cell.out) + d.scaled(1, 12)
	reach := int(width/2/l.pitch + 1.5)
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			p := middle
			p.x, p.y = l.cellAt(float32(i), float32(j))
			if i == 0 && j == 0 || l.empty || d.chance(0.12) || !p.seen() {
				continue
			}
			p.half *= d.between(0.94, 1)
			p.seedX, p.seedY = d.between(0, 500), d.between(0, 500)
			p.x += d.between(-0.4, 0.4)
			p.y += d.between(-0.4, 0.4)
			p.level += d.between(-0.5, 0.5)
			l.plugs = append(l.plugs, p)
		}
	}
}

// seen reports whether a plug reaches into the drawing.
func (p *plug) seen() bool {
	return p.x > -p.half && p.y > -p.half && p.x < width+p.half && p.y < width+p.half
}

// cellAt is the middle of the cell i columns to the right and j rows down of the middle one.
func (l *layout) cellAt(i, j float32) (x, y float32) {
	c := &l.cell
	return c.x + float32(l.pitch*dot(i, j, c.alongX, -c.alongY)), c.y + float32(l.pitch*dot(i, j, c.alongY, c.alongX))
}

// folded is the place in the middle cell that looks like the given place in its own cell.
func (l *layout) folded(x, y float32) (fx, fy float32) {
	if l.pitch == 0 {
		return x, y
	}
	u, v := l.inCell(x, y)
	c := &l.cell
	return c.x + dot(u, v, c.alongX, -c.alongY), c.y + dot(u, v, c.alongY, c.alongX)
}

// inCell is where a place lies from its own cell's middle, along the tray's rows and columns.
func (l *layout) inCell(x, y float32) (u, v float32) {
	c := &l.cell
	u, v = dot(x-c.x, y-c.y, c.alongX, c.alongY), dot(x-c.x, y-c.y, -c.alongY, c.alongX)
	u -= float32(l.pitch * floor(u/l.pitch+0.5))
	v -= float32(l.pitch * floor(v/l.pitch+0.5))
	return u, v
}

func (l *layout) fromWeb(x, y float32) float32 {
	if l.pitch == 0 {
		return 30
	}
	u, v := l.inCell(x, y)
	return float32(l.pitch/2) - max(abs(u), abs(v))
}
