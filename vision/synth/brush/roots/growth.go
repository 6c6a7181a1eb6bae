package roots

import (
	"math"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/tray"
)

// root is one root as it has grown, with what varies along it at each of its points.
type root struct {
	canvas.Ribbon
	order   int       // 0 for main roots
	depth   float64   // roots of greater depth lie on top
	width   float64   // mm, typical
	bury    []float32 // 0 on top of the medium .. 1 under it
	own     []num.RGB // own colour
	lateral bool      // starts within its parent
}

func (r *root) lengthMM() float64 { return float64(r.Step*float64(len(r.Points)-1)) / canvas.PerMM }

// growth lets the roots of one plug grow.
type growth struct {
	num.Dice
	plug   *tray.Plug
	crowd  *crowd
	enough amount
	roots  []*root
	grown  float64 // mm² so far, overlaps counted twice
	total  float64 // mm so far
	point  num.Vec // where the roots of a fan come from
	fan    num.Vec // and where it points
	spread float64 // of roots that come from around the middle, in plugs' half widths
	left   int     // roots that this fan still gets
}

// amount is how much is to grow.
type amount struct {
	area   float64 // mm², overlaps counted twice
	length float64 // mm, at most
	count  int     // main roots, at most
}

// grow lets main roots of the given habits and their laterals grow until there is enough.
func (g *growth) grow(habits []*habit) {
	for n := 0; n < g.enough.count && !g.full(); n++ {
		h := habits[g.IntN(len(habits))]
		length := min(g.Ratio(h.length[0], max(h.length[0]+1, h.length[1])), g.enough.length-g.total+4)
		width := g.Between(h.width[0], h.width[1])
		from, way := g.start(h)
		main := g.run(h, &sprout{at: from, way: way, length: length, width: width, bias: g.bias(h)})
		g.keep(main, h, nil)
		for k := 0; k < h.strand && !g.full(); k++ {
			g.alongside(h, main)
		}
	}
}

// full reports whether enough has grown.
func (g *growth) full() bool { return g.grown >= g.enough.area || g.total >= g.enough.length }

// start draws where a main root begins, and its direction.
func (g *growth) start(h *habit) (at, way num.Vec) {
	switch h.from {
	case rimside:
		at = g.plug.OnRim(g.Direction(), g.Between(0, 6))
		return at, g.plug.Inward(at).Turned(float64(g.Sign() * g.Between(0.5, 1.5)))
	case centre:
		out := g.Direction()
		return g.plug.Middle.Along(out, float64(g.plug.Half*g.Between(0, g.spread))), out.Turned(float64(1.2 * g.spread * g.Normal()))
	case onePoint:
		g.newFan()
		return g.point.Along(g.Direction(), g.Between(0, 12)), g.fan.Turned(float64(0.45 * g.Normal()))
	}
	return g.plug.Somewhere(g.Dice, 1), g.Direction()
}

// newFan draws another place for roots to spread from when the last has its share.
func (g *growth) newFan() {
	if g.left--; g.left > 0 {
		return
	}
	g.left = g.Whole(3, 16)
	g.point = g.plug.Somewhere(g.Dice, 2)
	if g.Chance(0.5) {
		g.point = g.plug.OnRim(g.Direction(), 3)
	}
	g.fan = g.plug.Middle.Along(g.Direction(), 0.4*g.plug.Half).Minus(g.point).Unit()
}

func (g *growth) bias(h *habit) float64 { return float64(h.bias * g.Sign() * g.Between(0.4, 1.6)) }

// alongside grows a root of a bundle beside its leader.
func (g *growth) alongside(h *habit, leader *root) {
	from := g.IntN(max(1, len(leader.Points)/3))
	side := float64(g.Normal() * leader.width * canvas.PerMM * 1.2)
	at := leader.Points[from].Plus(leader.direction(from).Quarter().Times(side))
	guide := &guide{leader: leader, at: from, side: side}
	length := float64(leader.lengthMM() * g.Between(0.3, 1))
	s := &sprout{at: at, way: leader.direction(from), length: length, width: float64(leader.width * g.Between(0.6, 1.2)), beside: guide}
	g.keep(g.run(h, s), h, nil)
}

// direction is the root's direction at point k.
func (r *root) direction(k int) num.Vec {
	k = min(k, len(r.Points)-2)
	return r.Points[k+1].Minus(r.Points[k]).Unit()
}

// guide leads a root along another one, some texels to its side.
type guide struct {
	leader *root
	at     int
	side   float64
}

// turn is the turn toward the place beside the leader a little ahead, until the leader ends.
func (gd *guide) turn(at, way num.Vec) float64 {
	const ahead = 9
	if gd.at+ahead >= len(gd.leader.Points)-1 {
		return 0
	}
	goal := gd.leader.Points[gd.at+ahead].Plus(gd.leader.direction(gd.at + ahead).Quarter().Times(gd.side))
	gd.at++
	return way.Cross(goal.Minus(at).Unit())
}

// sprout is where a root begins and what it is to become.
type sprout struct {
	at, way       num.Vec
	length, width float64 // mm
	bias          float64 // curvature that is always there, radians per mm
	lateral       bool
	beside        *guide // of a bundle's root; else nil
}

// run walks a tip until its length is reached or it leaves the plug.
func (g *growth) run(h *habit, s *sprout) *root {
	step := min(3.5, max(1.6, float64(0.55*s.width*canvas.PerMM)))
	mm, at, way := step/canvas.PerMM, s.at, s.way
	r := &root{Ribbon: canvas.Ribbon{Step: step, Points: []num.Vec{at}}, width: s.width}
	tightest := 1.6 / s.width // a root does not bend more sharply than its own thickness allows
	curve := float64(h.wander * g.Normal())
	drift, stir := h.wander, h.wiggle
	if s.lateral {
		drift, stir = float64(2*h.wander)+0.06, float64(1.4*h.wiggle)+0.1
	}
	keep, kick := 1-mm/h.lasting, float64(drift*math.Sqrt(2*mm/h.lasting))
	small, smallKeep, smallKick := 0.0, max(0, 1-mm/0.5), float64(stir*math.Sqrt(2*mm/0.5))
	t := tip{hand: g.Sign(), reach: float64(h.rimReach * g.Between(0.3, 1.4)), margin: g.Ratio(0.25, 2.5)}
	for n := int(s.length/mm) + 3; n > 0; n-- {
		curve = float64(curve*max(0, keep)) + float64(kick*g.Normal())
		small = float64(small*smallKeep) + float64(smallKick*g.Normal())
		turn := curve + small + s.bias + g.guided(h, &t, at, way)
		if s.beside != nil {
			turn += float64(1.3 * s.beside.turn(at, way))
		}
		turn = float64(mm * min(tightest, max(-tightest, turn)))
		way = way.Along(way.Quarter(), min(0.5, max(-0.5, turn))).Unit()
		at = at.Along(way, step)
		r.Points = append(r.Points, at)
		g.crowd.add(at, way, step)
		if g.plug.Inside(at) < -14 || at.X < -40 || at.Y < -40 || at.X > canvas.Side+40 || at.Y > canvas.Side+40 {
			break
		}
	}
	return r
}

// tip is what one root makes of its habit.
type tip struct {
	hand   float64 // way round along the rim, 1 or -1
	reach  float64 // how far from the rim it is guided, mm
	margin float64 // how close to the rim it turns back at the latest, mm
}

// guided is the turn that the rim, the pull and the other roots give a tip, radians per mm.
func (g *growth) guided(h *habit, t *tip, at, way num.Vec) float64 {
	turn := 0.0
	if h.pull > 0 {
		turn += float64(h.pull * way.Cross(h.way))
	}
	if h.outward > 0 {
		turn += float64(h.outward * way.Cross(at.Minus(g.plug.Middle).Unit()))
	}
	if h.shun > 0 {
		turn += float64(h.shun * g.crowd.shun(at, way))
	}
	if h.follow > 0 {
		turn += float64(h.follow * g.crowd.follow(at, way))
	}
	if h.overRim {
		return turn
	}
	left := g.plug.Inside(at) / canvas.PerMM // mm to the rim
	if h.rim > 0 && left < t.reach {
		along := g.plug.Inward(at).Quarter().Times(t.hand)
		near := 1 - max(0, left)/t.reach
		turn += float64(2 * h.rim * near * near * way.Cross(along))
	}
	if left < t.margin {
		turn += float64((t.margin - left) / t.margin * 1.8 * way.Cross(g.plug.Inward(at)))
	}
	return turn
}

// keep adds a root and lets its laterals grow.
func (g *growth) keep(r *root, h *habit, parent *root) {
	r.depth = g.Float64()
	if parent != nil {
		r.order, r.lateral = parent.order+1, true
		r.depth = parent.depth - g.Between(0.001, 0.3) // its parent's body hides where it begins
	}
	g.roots = append(g.roots, r)
	g.total += r.lengthMM()
	g.grown += float64(r.lengthMM() * r.width)
	if r.order < h.orders {
		g.branch(r, h)
	}
}

// branch grows the laterals of a root: none near its tip, shorter ones where it is younger.
func (g *growth) branch(r *root, h *habit) {
	length := r.lengthMM()
	bare := float64(g.Between(0.05, 0.3) * length)
	hand := g.Sign()
	rate := float64(h.perMM * g.Between(0.5, 1.5))
	for s := float64(g.gap(h, rate) * g.Float64()); s < length-bare && !g.full(); s += g.gap(h, rate) {
		k := min(len(r.Points)-2, int(s*canvas.PerMM/r.Step))
		hand = -hand
		if !h.regular {
			hand = g.Sign()
		}
		way := r.direction(k).Turned(float64(hand * (h.angle + float64(0.2*g.Normal()))))
		long := g.Ratio(h.lateral[0], h.lateral[0]+h.lateral[1])
		for range r.order {
			long = float64(long * 0.5)
		}
		long = float64(long * (1.15 - s/length))
		width := max(h.thinnest, float64(r.width*h.thinner*g.Between(0.7, 1.25)))
		if long < float64(2*width) || long < 0.6*r.width {
			continue
		}
		s := &sprout{at: r.Points[k], way: way, length: long, width: min(width, r.width), bias: float64(0.5 * g.bias(h)), lateral: true}
		g.keep(g.run(h, s), h, r)
	}
}

// gap draws the distance to the next lateral, mm.
func (g *growth) gap(h *habit, rate float64) float64 {
	if h.regular {
		return g.Between(0.8, 1.2) / rate
	}
	return max(0.15, float64(-num.Logarithm(1-g.Float64())/rate))
}
