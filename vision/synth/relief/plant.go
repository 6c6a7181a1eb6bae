package relief

// grower grows the roots of a drawing's plugs.
type grower struct {
	dice
	*tables
	plugs    []plug
	weights  []float32 // each plug's share in the drawing
	habits   []habit
	browning browning
	white    rgb
	aging    float32 // how much yellower old parts are, 0 to 1
	thin     float32 // mm, the least width of a lateral
	paths    []path
	long     float32 // mm grown so far
	area     float32 // mm² grown so far
	room     stand
}

// So that drawing ends in time:
const (
	mostPoints   = 60000 // of all paths together
	mostPlanting = 20000 // starts of roots, some of which fall off the plug at once
)

// newGrower draws a drawing's kinds of roots.
func newGrower(d dice, t *tables, plugs []plug, room stand) *grower {
	g := &grower{dice: d, tables: t, plugs: plugs, browning: newBrowning(d), white: pale(d), aging: d.Float32(), room: room}
	for i := range plugs {
		p := &plugs[i]
		w := max(0, min(width, p.x+p.half)-max(0, p.x-p.half)) * max(0, min(width, p.y+p.half)-max(0, p.y-p.half))
		g.weights = append(g.weights, w)
	}
	thick := d.scaled(0.25, 1)
	if d.chance(0.25) {
		thick = d.scaled(0.08, 2.2)
	}
	if room.cover >= 1.2 { // a mat of hair-thin roots would take too long
		thick = max(thick, 0.3)
	}
	g.thin = max(0.07, thick*d.scaled(0.25, 0.8))
	for range 1 + d.pick(0.35, 0.4, 0.25) {
		g.habits = append(g.habits, newHabit(d, clamp(thick*d.around(0.15), 0.07, 2.2), g.thin))
	}
	if room.cover < 1.2 && d.chance(0.08) { // many thin ones beside them, of the same light
		g.thin = 0.06
		for range 3 {
			g.habits = append(g.habits, newHabit(d, d.scaled(0.06, 0.2), g.thin))
		}
	}
	return g
}

// grow plants roots until the stand is full.
func (g *grower) grow() {
	if len(g.plugs) == 0 {
		return
	}
	points := 0
	for range mostPlanting {
		if g.long >= g.room.long || g.area >= g.room.cover*g.plugArea() || points >= mostPoints {
			return
		}
		before := len(g.paths)
		g.plant(&g.plugs[g.pick(g.weights...)], &g.habits[g.IntN(len(g.habits))])
		for _, p := range g.paths[before:] {
			points += len(p.points)
		}
	}
}

// plugArea is about how many mm² of plug the drawing shows.
func (g *grower) plugArea() float32 {
	sum := float32(0)
	for i, w := range g.weights {
		sum += float32(w * mix(1, 0.785, g.plugs[i].corner))
	}
	return sum
}

// plant grows one root, one fan or one bundle.
func (g *grower) plant(p *plug, h *habit) {
	w := g.tip(p, h)
	long := g.scaled(h.long[0], h.long[1]) * min(1, p.half/17+0.2)
	x, y := w.alongX, w.alongY
	for i := range h.fan {
		if i > 0 {
			w.alongX, w.alongY = turned(x, y, h.spread*g.between(-0.5, 0.5))
			w.bend = 0
		}
		one := *w
		if h.bundle > 1 {
			g.bundle(&one, h, long)
		} else {
			g.root(&one, h, long*g.around(0.3))
		}
	}
}

// tip is where and in which direction a root starts.
func (g *grower) tip(p *plug, h *habit) *walker {
	w := &walker{dice: g.dice, tables: g.tables, gait: &h.gait, plug: p, phase: g.Float32()}
	cx, cy := g.facing()
	w.alongX, w.alongY = g.facing()
	r := sqrt(g.Float32()) * (p.half - 0.3)
	switch h.start {
	case onRim:
		r = p.half - float32(h.rim*g.between(0.6, 1.6))
		s := g.sign()
		w.alongX, w.alongY = -cy*s, cx*s
	case inMiddle:
		r = p.half * 0.25 * g.Float32()
		w.alongX, w.alongY = cx, cy
	case acrossFromRim:
		r = p.half - g.between(0.2, 1.5)
		w.alongX, w.alongY = turned(-cx, -cy, 0.12*g.bell())
	}
	if h.start != inMiddle && p.corner < 1 { // out to a square's edge
		r = min(r*1.1/max(abs(dot(cx, cy, p.alongX, p.alongY)), abs(dot(cx, cy, -p.alongY, p.alongX))), p.half*1.2)
	}
	w.x, w.y = p.x+float32(cx*r), p.y+float32(cy*r)
	for range 20 { // back onto the plug, where its edge wanders inward
		if p.depth(g.tables, w.x, w.y) > 0.1 {
			break
		}
		w.x, w.y = mix(w.x, p.x, 0.1), mix(w.y, p.y, 0.1)
	}
	return w
}

// root grows one root with its laterals.
func (g *grower) root(w *walker, h *habit, long float32) {
	half := clamp(h.thick/2*g.around(h.vary), 0.03, 1.1)
	p := path{stem: -1, points: w.walk(long, stride(half))}
	g.laterals(g.finish(&p, h, half, half*h.taper), h, w.plug)
}

// bundle grows roots that run side by side with one in the middle.
func (g *grower) bundle(w *walker, h *habit, long float32) {
	half := clamp(h.thick/2*g.around(0.2), 0.03, 1.1)
	middle := w.walk(long, stride(half))
	for i := range h.bundle {
		off := (float32(i) - float32(float32(h.bundle-1)/2)) * half * g.between(1.6, 2.6)
		p := path{stem: -1, points: g.beside(middle, off, half)}
		g.laterals(g.finish(&p, h, half*g.around(h.vary/2), half*h.taper), h, w.plug)
	}
}

// beside is a path that keeps off another by so many mm, more or less.
func (g *grower) beside(middle []point, off, half float32) []point {
	first, last := g.IntN(len(middle)/4+1), len(middle)-g.IntN(len(middle)/4+1)
	seed := g.between(0, 500)
	var points []point
	along := float32(0)
	for i := first; i+1 < last; i++ {
		a, b := middle[i], middle[i+1]
		n := max(length(b.x-a.x, b.y-a.y), 1e-4)
		o := off + float32(half*1.5*g.soft.at(a.along*4, seed))
		q := point{x: a.x - float32(o*(b.y-a.y)/n), y: a.y + float32(o*(b.x-a.x)/n)}
		if len(points) > 0 {
			before := points[len(points)-1]
			along += length(q.x-before.x, q.y-before.y)
		}
		q.along = along
		points = append(points, q)
	}
	return points
}

// stride is the mm from point to point that keep a root of the given half width smooth.
func stride(half float32) float32 { return clamp(1.6*half, 0.13, 0.35) }

// finish gives a path its widths, ends, dives and colours, and keeps it; it returns its index, or -1 for a path too short to keep.
func (g *grower) finish(p *path, h *habit, base, tip float32) int {
	if len(p.points) < 3 {
		return -1
	}
	p.cutBase, p.cutTip = g.chance(0.1), g.chance(h.blunt)
	g.widths(p, h, base, max(tip, 0.03))
	g.dive(p, h)
	g.paint(p)
	for i := 1; i < len(p.points); i++ {
		part := p.points[i].along - p.points[i-1].along
		g.long += part
		g.area += float32(part * 2 * p.points[i].radius)
	}
	g.paths = append(g.paths, *p)
	return len(g.paths) - 1
}
