package weave

import "math"

// root is a root of any order.
type root struct {
	ribbon
	order int
	first int32 // number of its first segment once it is laid
}

func (r *root) length() float64 {
	long := 0.0
	for i := 1; i < len(r.knots); i++ {
		long += math.Hypot(r.knots[i].x-r.knots[i-1].x, r.knots[i].y-r.knots[i-1].y)
	}
	return long
}

// habit is how a kind of root grows.
type habit struct {
	thin, thick, broken     float64    // mm, least and greatest width; share with blunt tips
	long                    [2]float64 // mm
	wander, memory, tremble float64    // deviation of its bend, radians a mm; mm over which a bend lasts; bends of a step
	curl                    float64    // radians a mm
	rim                     float64    // mm from the edge at which it turns aside
	hug                     bool       // keeps to the rim
	start                   int        // 0 anywhere, 1 at the rim inward, 2 along the rim, 3 from the middle
	bundle                  int        // roots side by side
	every, ratio, sideLong  float64    // mm from side root to side root, 0 for none; their width to their parent's; their length, mm
	angle                   [2]float64 // at which they leave
	beside                  float64    // how closely they turn back to their parent's direction
	buried                  float64    // stretches below the medium a mm
	depth                   float32    // how deep all lie
}

func (s *scene) newHabit(thin, thick float64) *habit {
	h := &habit{thin: thin, thick: thick, long: [2]float64{6, 60}, wander: s.log(0.02, 0.5), memory: s.log(0.5, 6), tremble: s.log(0.01, 0.3), rim: s.in(0.1, 3),
		start: s.IntN(4), bundle: 1, buried: s.maybe(0.5, 0, 0.06), broken: s.in(0, 0.4), depth: float32(s.maybe(0.3, 0, 0.4))}
	switch s.pick(0.4, 0.2, 0.12, 0.1, 0.08, 0.1) {
	case 1: // circling
		h.hug, h.start, h.long = true, 2, [2]float64{15, 110}
	case 2: // straight
		h.wander, h.tremble = s.log(0.001, 0.03), s.log(0.002, 0.02)
	case 3: // curled
		h.curl = s.in(-0.8, 0.8)
	case 4: // short pieces
		h.long, h.start, h.broken = [2]float64{2, 10}, 0, 0.9
	case 5:
		h.bundle = s.count(2, 7)
	}
	if s.chance(0.65) {
		h.every, h.ratio, h.sideLong = s.log(0.4, 6), s.in(0.2, 0.9), s.log(1.5, 25)
		h.angle[0] = s.in(0.1, 1.2)
		h.angle[1] = s.in(h.angle[0], 1.6)
		h.beside = s.maybe(0.4, 0, 1)
	}
	return h
}

// grow plants roots until there are enough, from none to a mat.
func (s *scene) grow() {
	area, plugs := 0.0, s.places()
	for i := range s.depth {
		area += float64(s.plugShare(i)) / (perMM * perMM)
	}
	cover, most := 0.0, 0.0
	switch s.pick(0.07, 0.15, 0.3, 0.25, 0.23) {
	case 1:
		cover, most = s.log(0.003, 0.06), 0.5
	case 2:
		cover, most = s.log(0.05, 0.4), 2
	case 3:
		cover, most = s.in(0.3, 1), 5
	case 4:
		cover, most = s.in(1, 3.2), 9
	}
	if len(plugs) == 0 || cover == 0 {
		return
	}
	s.look.clearOf(s.dice, s.soil)
	cover, most = cover*area, most*area // mm², mm
	habits, few := s.habits()
	if few != nil { // a few thick ones among many thin
		for n := s.count(1, 7); n > 0; n-- {
			cover -= s.tree(few, plugs) * 0.5
		}
	}
	for n := 0; n < 4000 && cover > 0 && most > 0; n++ {
		before := len(s.roots)
		cover -= s.tree(habits[s.IntN(len(habits))], plugs)
		for _, r := range s.roots[before:] {
			most -= r.length()
		}
	}
	if few != nil {
		s.Shuffle(len(s.roots), func(i, j int) { s.roots[i], s.roots[j] = s.roots[j], s.roots[i] })
	}
}

// habits draws one to three habits, and one for a few thick roots where the others are thin.
func (s *scene) habits() (all []*habit, few *habit) {
	way := s.pick(0.5, 0.14, 0.36)
	for n := s.count(1, 3); n > 0; n-- {
		switch way {
		case 0: // of much the same width
			w := s.log(0.12, 2.2)
			all = append(all, s.newHabit(max(0.05, w/s.in(1, 2.5)), w))
		case 1: // nearly all thin
			w := s.in(0.07, 0.25)
			all = append(all, s.newHabit(max(0.05, w/s.in(1, 2)), w))
		case 2: // of any width
			all = append(all, s.newHabit(0.08, 2.5))
		}
	}
	if way == 1 && s.chance(0.8) {
		few = s.newHabit(0.35, s.in(0.5, 2.2))
		few.bundle = 1
		s.look.spread = min(s.look.spread, 0.07) // of the same light
	}
	return all, few
}

// places are texels inside plugs, where roots may start.
func (s *scene) places() []int32 {
	var all []int32
	for i := 0; i < len(s.depth); i += 7 {
		if s.depth[i] > 0.2 {
			all = append(all, int32(i))
		}
	}
	return all
}

// tree grows a root with its side roots, which lie below it where they begin, and returns their area.
func (s *scene) tree(h *habit, plugs []int32) float64 {
	x, y := place(int(plugs[s.IntN(len(plugs))]))
	way := s.in(0, 2*math.Pi)
	if h.start == 1 || h.start == 2 {
		x, y, way = s.toRim(x, y, h)
	} else if h.start == 3 {
		x, y = s.x+s.NormFloat64()*0.1*s.half, s.y+s.NormFloat64()*0.1*s.half
	}
	w := s.log(h.thin, h.thick)
	main := s.walk(x, y, way, s.log(h.long[0], h.long[1]), w, h)
	if main == nil {
		return 0.01
	}
	area := s.sides(main, h, w, 1)
	area += s.add(main, h, w)
	for n := 1; n < h.bundle; n++ {
		beside := s.parallel(main, w*s.in(0.8, 1.8)*float64(n))
		area += s.add(beside, h, w)
	}
	return area
}

// toRim moves a place to the rim; the way is inward or along it.
func (s *scene) toRim(x, y float64, h *habit) (ax, ay, way float64) {
	for range 60 {
		i := texelAt(x, y)
		if s.depth[i] < float32(0.3*h.rim)+0.1 {
			break
		}
		nx, ny := s.inward(i)
		x, y = x-0.4*float64(nx), y-0.4*float64(ny)
	}
	nx, ny := s.inward(texelAt(x, y))
	way = math.Atan2(float64(ny), float64(nx)) + 0.5*s.NormFloat64()
	if h.start == 2 {
		way += math.Copysign(math.Pi/2, s.Float64()-0.5)
	}
	return x, y, way
}

// walk grows a path.
func (s *scene) walk(x, y, way, long, w float64, h *habit) *root {
	step := min(0.33, max(0.08, 0.5*w))
	stiff := min(1, 0.5/w)
	keep := math.Exp(-step / h.memory)
	bend := h.wander * s.NormFloat64()
	r := &root{}
	for at := 0.0; at <= long; at += step {
		r.knots = append(r.knots, knot{x: x, y: y})
		i := texelAt(x, y)
		in := float64(s.depth[i])
		if in < -0.3-float64(max(0, s.look.over)) || x < -1 || y < -1 || x > width+1 || y > width+1 {
			break
		}
		bend = bend*keep + h.wander*math.Sqrt(1-keep*keep)*s.NormFloat64()
		turn := (bend + h.curl) * stiff
		if in < h.rim || h.hug {
			nx, ny := s.inward(i)
			sin, cos := math.Sincos(way)
			ahead := cos*float64(nx) + sin*float64(ny)
			toward := math.Copysign(1, cos*float64(ny)-sin*float64(nx))
			switch {
			case in < h.rim && ahead < 0.1 && s.look.over < 0.3:
				turn += toward * min(2.5, 0.4+1.2*(h.rim-in)) * (0.2 - ahead)
			case h.hug && in > h.rim && ahead > -0.4:
				turn -= toward * min(0.6, 0.2*(in-h.rim))
			}
		}
		way += turn*step + h.tremble*stiff*math.Sqrt(step)*s.NormFloat64()
		x, y = x+step*math.Cos(way), y+step*math.Sin(way)
	}
	if len(r.knots) < 4 {
		return nil
	}
	return r
}

// parallel is a path beside another.
func (s *scene) parallel(main *root, off float64) *root {
	if s.chance(0.5) {
		off = -off
	}
	sway, phase := s.in(0, 0.4)*off, s.in(0, 6)
	r := &root{order: main.order}
	for i := 1; i < len(main.knots); i++ {
		a, z := &main.knots[i-1], &main.knots[i]
		n := math.Hypot(z.x-a.x, z.y-a.y) + 1e-9
		o := off + sway*math.Sin(phase+0.1*float64(i))
		r.knots = append(r.knots, knot{x: z.x - o*(z.y-a.y)/n, y: z.y + o*(z.x-a.x)/n})
	}
	return r
}

// sides grows the side roots of a root.
func (s *scene) sides(main *root, h *habit, w float64, order int) float64 {
	if h.every == 0 || order > 2 {
		return 0
	}
	area, long := 0.0, main.length()
	side := 1.0
	for at := h.every * s.Float64(); at < long && len(s.roots) < 5000; at += h.every * s.log(0.4, 2.5) * float64(order) {
		k := min(len(main.knots)-2, int(at/long*float64(len(main.knots)-1)))
		a, z := &main.knots[k], &main.knots[k+1]
		side = math.Copysign(side, s.Float64()-0.45)
		way := math.Atan2(z.y-a.y, z.x-a.x)
		thin := max(0.05, min(w, w*h.ratio*s.log(0.6, 1.4)))
		own := *h
		own.curl, own.hug = 0, false
		angle := s.in(h.angle[0], h.angle[1])
		if h.beside > 0 { // turns back to run along its parent
			own.curl = -side * h.beside * angle / (1 + 3*w)
			own.wander *= 0.5
		}
		r := s.walk(a.x, a.y, way+side*angle, h.sideLong*s.log(0.3, 1.5)/float64(order), thin, &own)
		if r == nil {
			continue
		}
		r.order = order
		if s.chance(0.5) {
			area += s.sides(r, h, thin, order+1)
		}
		area += s.add(r, h, thin)
	}
	return area
}

// add gives a path its widths, colour and depth, and returns its area.
func (s *scene) add(r *root, h *habit, w float64) float64 {
	n := len(r.knots)
	if n < 2 {
		return 0
	}
	r.cutA, r.cutB = s.chance(0.5), s.chance(h.broken)
	long := r.length()
	tip, taper := min(long, w*s.log(1, 25)), s.in(0.5, 1)
	swollen, lumpy := s.chance(0.06), s.in(0, 0.12)
	tone := s.in(0, 6)
	depth := h.depth * s.Float32() * 2
	dive, deep := s.in(0, long), 0.0
	if s.chance(h.buried * long) {
		deep = s.log(0.4, 8)
	}
	slow := max(0.3, 3*w)
	area, step := 0.0, long/float64(n-1)
	for i := range r.knots {
		q := &r.knots[i]
		along := step * float64(i)
		half := w / 2 * (1 - (1-taper)*along/long) * (1 + lumpy*math.Sin(along*2.1+tone)*math.Sin(along*0.7+2*tone))
		if rest := max(0, long-along); !r.cutB && rest < tip {
			half *= max(0.35, math.Sqrt(rest/tip))
			if swollen {
				half *= 1.5
			}
		}
		q.r = max(0.022, half)
		q.bury = depth
		if deep > 0 {
			q.bury = max(q.bury, clamp01(float32((deep-math.Abs(along-dive))/slow+0.5)))
		}
		area += 2 * q.r * step
	}
	s.colour(r)
	s.roots = append(s.roots, r)
	return area
}
