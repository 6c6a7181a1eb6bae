package relief

// laterals grows the laterals of the root of the given index, and theirs.
func (g *grower) laterals(index int, h *habit, p *plug) {
	if index < 0 || g.paths[index].order >= h.orders {
		return
	}
	parent := g.paths[index]
	t := &h.twigs
	every := t.every * float32(parent.order+1)
	side := g.sign()
	for at := every * g.Float32(); at < parent.long()-0.5; {
		i := int(at / parent.long() * float32(len(parent.points)-1))
		g.lateral(index, i, h, p, side)
		if t.regular {
			at += float32(every * g.between(0.9, 1.1))
			side = -side
		} else {
			at += float32(every * g.between(0.2, 1.8))
			side = g.sign()
		}
	}
}

// lateral grows one from the parent's point i to one of its sides.
func (g *grower) lateral(index, i int, h *habit, on *plug, side float32) {
	if g.long > g.room.long*1.1 {
		return
	}
	parent := &g.paths[index]
	from, next := parent.points[i], parent.points[i+1]
	n := max(length(next.x-from.x, next.y-from.y), 1e-4)
	alongX, alongY := (next.x-from.x)/n, (next.y-from.y)/n
	half := max(from.radius*h.twigs.ratio*g.around(0.2), g.thin/2, 0.03)
	half = min(half, from.radius)
	gait := gait{wander: h.twigs.wander, tremble: h.tremble, memory: h.memory, rim: h.rim * g.between(0.5, 1.5), loose: h.loose}
	w := &walker{dice: g.dice, tables: g.tables, gait: &gait, plug: on, x: from.x, y: from.y}
	w.alongX, w.alongY = turned(alongX, alongY, side*clamp(h.twigs.angle+float32(0.03*g.bell()), 0.06, 0.3))
	rest := 1 - from.along/parent.long()
	long := h.twigs.long * g.around(0.5) * mix(0.4, 1, rest) / float32(parent.order+1)
	p := path{order: parent.order + 1, stem: index, fork: i, points: w.walk(max(long, 3*from.radius), stride(half))}
	p.lineFrom = leaves(p.points, from, alongX, alongY)
	g.laterals(g.finish(&p, h, half, half*0.7), h, on)
}

// leaves is the mm along a lateral at which it leaves its parent's body, taken as straight from the point where it starts.
func leaves(points []point, from point, alongX, alongY float32) float32 {
	before := float32(0)
	for i := range points {
		off := abs(float32((points[i].x-from.x)*alongY) - float32((points[i].y-from.y)*alongX))
		if off > from.radius {
			return mix(points[i-1].along, points[i].along, (from.radius-before)/(off-before))
		}
		before = off
	}
	return points[len(points)-1].along
}
