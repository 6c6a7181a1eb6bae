// Package roots grows roots on plugs, lets them come to rest on the heap, and lays them as tubes that hide each other. In go the plugs'
// outlines and the height map; out come paths with widths and own colours, the samples in which each root is on top, and the mm of centre
// line to be seen. It knows nothing of what the medium is and of light. A lateral begins where it leaves its parent's body.
package roots

import (
	"traygauge/vision/synth/relief/bench"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Grower grows the roots of a drawing's plugs.
type Grower struct {
	num.Dice
	*num.Tables
	plugs    []bench.Plug
	weights  []float32 // each plug's share in the drawing
	habits   []habit
	Browning Browning
	White    num.RGB
	aging    float32 // how much yellower old parts are, 0 to 1
	thin     float32 // mm, the least width of a lateral
	Paths    []Path
	long     float32 // mm grown so far
	area     float32 // mm² grown so far
	room     Stand
}

// So that drawing ends in time:
const (
	mostPoints   = 60000 // of all paths together
	mostPlanting = 20000 // starts of roots, some of which fall off the plug at once
)

// NewGrower draws a drawing's kinds of roots.
func NewGrower(d num.Dice, t *num.Tables, plugs []bench.Plug, room Stand) *Grower {
	g := &Grower{Dice: d, Tables: t, plugs: plugs, Browning: newBrowning(d), White: pale(d), aging: d.Float32(), room: room}
	for i := range plugs {
		p := &plugs[i]
		w := max(0, min(solids.Width, p.X+p.Half)-max(0, p.X-p.Half)) * max(0, min(solids.Width, p.Y+p.Half)-max(0, p.Y-p.Half))
		g.weights = append(g.weights, w)
	}
	thick := d.Scaled(0.25, 1)
	if d.Chance(0.25) {
		thick = d.Scaled(0.08, 2.2)
	}
	if room.cover >= 1.2 { // a mat of hair-thin roots would take too long
		thick = max(thick, 0.3)
	}
	g.thin = max(0.07, thick*d.Scaled(0.25, 0.8))
	for range 1 + d.Pick(0.35, 0.4, 0.25) {
		g.habits = append(g.habits, newHabit(d, num.Clamp(thick*d.Around(0.15), 0.07, 2.2), g.thin))
	}
	if room.cover < 1.2 && d.Chance(0.08) { // many thin ones beside them, of the same light
		g.thin = 0.06
		for range 3 {
			g.habits = append(g.habits, newHabit(d, d.Scaled(0.06, 0.2), g.thin))
		}
	}
	return g
}

// Grow plants roots until the stand is full.
func (g *Grower) Grow() {
	if len(g.plugs) == 0 {
		return
	}
	points := 0
	for range mostPlanting {
		if g.long >= g.room.long || g.area >= g.room.cover*g.plugArea() || points >= mostPoints {
			return
		}
		before := len(g.Paths)
		g.plant(&g.plugs[g.Pick(g.weights...)], &g.habits[g.IntN(len(g.habits))])
		for _, p := range g.Paths[before:] {
			points += len(p.Points)
		}
	}
}

// plugArea is about how many mm² of plug the drawing shows.
func (g *Grower) plugArea() float32 {
	sum := float32(0)
	for i, w := range g.weights {
		sum += float32(w * num.Mix(1, 0.785, g.plugs[i].Corner))
	}
	return sum
}

// plant grows one root, one fan or one bundle.
func (g *Grower) plant(p *bench.Plug, h *habit) {
	w := g.tip(p, h)
	long := g.Scaled(h.long[0], h.long[1]) * min(1, p.Half/17+0.2)
	x, y := w.alongX, w.alongY
	for i := range h.fan {
		if i > 0 {
			w.alongX, w.alongY = num.Turned(x, y, h.spread*g.Between(-0.5, 0.5))
			w.bend = 0
		}
		one := *w
		if h.bundle > 1 {
			g.bundle(&one, h, long)
		} else {
			g.root(&one, h, long*g.Around(0.3))
		}
	}
}

// tip is where and in which direction a root starts.
func (g *Grower) tip(p *bench.Plug, h *habit) *walker {
	w := &walker{Dice: g.Dice, Tables: g.Tables, gait: &h.gait, plug: p, phase: g.Float32()}
	cx, cy := g.Facing()
	w.alongX, w.alongY = g.Facing()
	r := num.Sqrt(g.Float32()) * (p.Half - 0.3)
	switch h.start {
	case onRim:
		r = p.Half - float32(h.rim*g.Between(0.6, 1.6))
		s := g.Sign()
		w.alongX, w.alongY = -cy*s, cx*s
	case inMiddle:
		r = p.Half * 0.25 * g.Float32()
		w.alongX, w.alongY = cx, cy
	case acrossFromRim:
		r = p.Half - g.Between(0.2, 1.5)
		w.alongX, w.alongY = num.Turned(-cx, -cy, 0.12*g.Bell())
	}
	if h.start != inMiddle && p.Corner < 1 { // out to a square's edge
		r = min(r*1.1/max(num.Abs(num.Dot(cx, cy, p.AlongX, p.AlongY)), num.Abs(num.Dot(cx, cy, -p.AlongY, p.AlongX))), p.Half*1.2)
	}
	w.x, w.y = p.X+float32(cx*r), p.Y+float32(cy*r)
	for range 20 { // back onto the plug, where its edge wanders inward
		if p.Depth(g.Tables, w.x, w.y) > 0.1 {
			break
		}
		w.x, w.y = num.Mix(w.x, p.X, 0.1), num.Mix(w.y, p.Y, 0.1)
	}
	return w
}

// root grows one root with its laterals.
func (g *Grower) root(w *walker, h *habit, long float32) {
	half := num.Clamp(h.thick/2*g.Around(h.vary), 0.03, 1.1)
	p := Path{stem: -1, Points: w.walk(long, stride(half))}
	g.laterals(g.finish(&p, h, half, half*h.taper), h, w.plug)
}

// bundle grows roots that run side by side with one in the middle.
func (g *Grower) bundle(w *walker, h *habit, long float32) {
	half := num.Clamp(h.thick/2*g.Around(0.2), 0.03, 1.1)
	middle := w.walk(long, stride(half))
	for i := range h.bundle {
		off := (float32(i) - float32(float32(h.bundle-1)/2)) * half * g.Between(1.6, 2.6)
		p := Path{stem: -1, Points: g.beside(middle, off, half)}
		g.laterals(g.finish(&p, h, half*g.Around(h.vary/2), half*h.taper), h, w.plug)
	}
}

// beside is a path that keeps off another by so many mm, more or less.
func (g *Grower) beside(middle []Point, off, half float32) []Point {
	first, last := g.IntN(len(middle)/4+1), len(middle)-g.IntN(len(middle)/4+1)
	seed := g.Between(0, 500)
	var points []Point
	along := float32(0)
	for i := first; i+1 < last; i++ {
		a, b := middle[i], middle[i+1]
		n := max(num.Length(b.X-a.X, b.Y-a.Y), 1e-4)
		o := off + float32(half*1.5*g.Soft.At(a.Along*4, seed))
		q := Point{X: a.X - float32(o*(b.Y-a.Y)/n), Y: a.Y + float32(o*(b.X-a.X)/n)}
		if len(points) > 0 {
			before := points[len(points)-1]
			along += num.Length(q.X-before.X, q.Y-before.Y)
		}
		q.Along = along
		points = append(points, q)
	}
	return points
}

// stride is the mm from point to point that keep a root of the given half width smooth.
func stride(half float32) float32 { return num.Clamp(1.6*half, 0.13, 0.35) }

// finish gives a path its widths, ends, dives and colours, and keeps it; it returns its index, or -1 for a path too short to keep.
func (g *Grower) finish(p *Path, h *habit, base, tip float32) int {
	if len(p.Points) < 3 {
		return -1
	}
	p.cutBase, p.cutTip = g.Chance(0.1), g.Chance(h.blunt)
	g.widths(p, h, base, max(tip, 0.03))
	g.dive(p, h)
	g.paint(p)
	for i := 1; i < len(p.Points); i++ {
		part := p.Points[i].Along - p.Points[i-1].Along
		g.long += part
		g.area += float32(part * 2 * p.Points[i].Radius)
	}
	g.Paths = append(g.Paths, *p)
	return len(g.Paths) - 1
}
