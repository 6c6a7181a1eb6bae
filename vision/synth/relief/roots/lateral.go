package roots

import (
	"traygauge/vision/synth/relief/bench"
	"traygauge/vision/synth/relief/num"
)

// laterals grows the laterals of the root of the given index, and theirs.
func (g *Grower) laterals(index int, h *habit, p *bench.Plug) {
	if index < 0 || g.Paths[index].order >= h.orders {
		return
	}
	parent := g.Paths[index]
	t := &h.twigs
	every := t.every * float32(parent.order+1)
	side := g.Sign()
	for at := every * g.Float32(); at < parent.Long()-0.5; {
		i := int(at / parent.Long() * float32(len(parent.Points)-1))
		g.lateral(index, i, h, p, side)
		if t.regular {
			at += float32(every * g.Between(0.9, 1.1))
			side = -side
		} else {
			at += float32(every * g.Between(0.2, 1.8))
			side = g.Sign()
		}
	}
}

// lateral grows one from the parent's point i to one of its sides.
func (g *Grower) lateral(index, i int, h *habit, on *bench.Plug, side float32) {
	if g.long > g.room.long*1.1 {
		return
	}
	parent := &g.Paths[index]
	from, next := parent.Points[i], parent.Points[i+1]
	n := max(num.Length(next.X-from.X, next.Y-from.Y), 1e-4)
	alongX, alongY := (next.X-from.X)/n, (next.Y-from.Y)/n
	half := max(from.Radius*h.twigs.ratio*g.Around(0.2), g.thin/2, 0.03)
	half = min(half, from.Radius)
	gait := gait{wander: h.twigs.wander, tremble: h.tremble, memory: h.memory, rim: h.rim * g.Between(0.5, 1.5), loose: h.loose}
	w := &walker{Dice: g.Dice, Tables: g.Tables, gait: &gait, plug: on, x: from.X, y: from.Y}
	w.alongX, w.alongY = num.Turned(alongX, alongY, side*num.Clamp(h.twigs.angle+float32(0.03*g.Bell()), 0.06, 0.3))
	rest := 1 - from.Along/parent.Long()
	long := h.twigs.long * g.Around(0.5) * num.Mix(0.4, 1, rest) / float32(parent.order+1)
	p := Path{order: parent.order + 1, stem: index, fork: i, Points: w.walk(max(long, 3*from.Radius), stride(half))}
	p.lineFrom = leaves(p.Points, from, alongX, alongY)
	g.laterals(g.finish(&p, h, half, half*0.7), h, on)
}

// leaves is the mm along a lateral at which it leaves its parent's body, taken as straight from the point where it starts.
func leaves(points []Point, from Point, alongX, alongY float32) float32 {
	before := float32(0)
	for i := range points {
		off := num.Abs(float32((points[i].X-from.X)*alongY) - float32((points[i].Y-from.Y)*alongX))
		if off > from.Radius {
			return num.Mix(points[i-1].Along, points[i].Along, (from.Radius-before)/(off-before))
		}
		before = off
	}
	return points[len(points)-1].Along
}
