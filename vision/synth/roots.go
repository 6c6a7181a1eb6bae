package synth

import (
	"math"
	"math/rand/v2"
	"sort"
	"sync"
)

const (
	rootStep    = 0.4 // mm between nodes
	rootPerMM   = 20  // texels of the canvas that truth is counted on
	walkStep    = 0.02
	browningAt  = 128 // tones from here on are brown
	mostPrimary = 70
)

// rootPalette is the own colours of roots: cream below browningAt, tan to brown above.
var rootPalette = sync.OnceValue(func() *palette {
	var p palette
	for i := range browningAt {
		p[i] = mixed(rgb{0.66, 0.60, 0.49}, rgb{0.50, 0.43, 0.30}, float64(i)/(browningAt-1))
	}
	for i := browningAt; i < 256; i++ {
		p[i] = mixed(rgb{0.33, 0.20, 0.098}, rgb{0.15, 0.072, 0.032}, float64(i-browningAt)/(255-browningAt))
	}
	return &p
})

// root is one root's plan: when it starts in the plant's own time, and how it grows. Time is in mm of a vigorous root's
// growth.
type root struct {
	seed        uint64
	parent      *root
	at          float64 // mm along the parent
	start, rate float64
	most        float64 // mm
	width       float64 // mm at its base
	depth       float64 // drawing order: higher lies above
	tone        float64
	brownness   float64

	path []node
}

func (r *root) length(time float64) float64 {
	return max(0, min(r.most, (time-r.start)*r.rate))
}

// planRoots lays down everything the plug's roots will ever do.
func planRoots(seed uint64) []*root {
	var plan []*root
	r := habit(seed, 1)
	start := 0.0
	for i := range mostPrimary {
		p := &root{
			seed: mix(seed + uint64(i)<<20), start: start, rate: between(r, 0.55, 1), most: between(r, 50, 170),
			width: 0.38 + 0.55*math.Pow(r.Float64(), 2), depth: r.Float64(), tone: between(r, 10, 100), brownness: r.Float64(),
		}
		plan = append(append(plan, p), planLaterals(r, p)...)
		if i > 1 {
			start += 9 * r.ExpFloat64()
		}
	}
	return plan
}

// planLaterals branches a root: a lateral starts some way behind the tip that has gone by.
func planLaterals(r *rand.Rand, p *root) (laterals []*root) {
	gap := between(r, 4, 11)
	for s := between(r, 3, 9); s < p.most-6; s += gap * between(r, 0.5, 1.6) {
		laterals = append(laterals, &root{
			seed: mix(p.seed + uint64(len(laterals)+1)), parent: p, at: s,
			start: p.start + (s+between(r, 6, 18))/p.rate, rate: between(r, 0.12, 0.4), most: 3 + 22*math.Pow(r.Float64(), 1.5),
			width: between(r, 0.15, min(0.34, p.width*0.7)), depth: p.depth, tone: p.tone + between(r, -10, 25), brownness: p.brownness,
		})
	}
	return laterals
}

// growTo returns the time at which the roots' lengths sum to total mm, or the end of growth.
func growTo(plan []*root, total float64) (time float64) {
	sum := func(t float64) (s float64) {
		for _, r := range plan {
			s += r.length(t)
		}
		return s
	}
	low, high := 0.0, 2000.0
	for range 50 {
		if mid := (low + high) / 2; sum(mid) < total {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// rootsOf returns the plug's roots as they are at the given total length, lowest first.
func rootsOf(p *plug, seed uint64, total, brown float64) []*root {
	if total <= 0 {
		return nil
	}
	plan := planRoots(seed)
	time := growTo(plan, total)
	var grown []*root
	for _, r := range plan {
		if l := r.length(time); l > 1 {
			r.grow(p, l)
		}
		if len(r.path) > 2 {
			grown = append(grown, r)
		}
	}
	discolour(grown, brown)
	sort.SliceStable(grown, func(i, j int) bool {
		a, b := grown[i], grown[j]
		if a.depth != b.depth {
			return a.depth < b.depth
		}
		return a.parent != nil && b.parent == nil // a root lies above its own laterals
	})
	return grown
}

// grow draws the root's centre line: a walk whose curvature wanders (an Ornstein-Uhlenbeck process) and that follows the
// plug's edge where it comes to it. The same seed makes the same line, of which length is used.
func (r *root) grow(p *plug, length float64) {
	rnd := habit(r.seed, 2)
	limit := between(rnd, 0.86, 0.985)
	x, y, heading, ok := r.begin(rnd, p, limit)
	if !ok {
		return
	}
	turnSD := between(rnd, 0.10, 0.24)
	if r.parent != nil {
		turnSD *= 1.4
	}
	curve := 0.0
	n := int(length/rootStep) + 1
	r.path = make([]node, 0, n)
	for i := range n {
		r.path = append(r.path, node{x: x, y: y, half: r.halfWidth(float64(i)*rootStep, length)})
		curve += -curve*rootStep/7 + turnSD*math.Sqrt(rootStep)*rnd.NormFloat64()*0.5
		curve = max(-0.6, min(0.6, curve))
		heading += curve * rootStep
		heading = p.followEdge(x, y, heading, limit)
		x, y = p.keepIn(x+rootStep*math.Cos(heading), y+rootStep*math.Sin(heading), 0.985, r.width/2+0.1)
	}
}

// begin is where a root first shows and which way it goes: a lateral at its parent, others at the plug's edge or from
// within.
func (r *root) begin(rnd *rand.Rand, p *plug, limit float64) (x, y, heading float64, ok bool) {
	if r.parent != nil {
		i := int(r.at / rootStep)
		if i+1 >= len(r.parent.path) {
			return 0, 0, 0, false
		}
		a, b := r.parent.path[i], r.parent.path[i+1]
		side := math.Copysign(between(rnd, 0.7, 1.4), rnd.Float64()-0.5)
		return a.x, a.y, math.Atan2(b.y-a.y, b.x-a.x) + side, true
	}
	angle := between(rnd, -math.Pi, math.Pi)
	sin, cos := math.Sincos(angle)
	if rnd.Float64() < 0.55 {
		d := p.reach(angle) * min(limit, 0.95)
		return p.x + d*cos, p.y + d*sin, angle + math.Pi + between(rnd, -1.35, 1.35), true
	}
	d := p.reach(angle) * 0.75 * math.Sqrt(rnd.Float64())
	return p.x + d*cos, p.y + d*sin, between(rnd, -math.Pi, math.Pi), true
}

// halfWidth tapers toward the tip and rounds it.
func (r *root) halfWidth(s, length float64) float64 {
	left := length - s
	return r.width / 2 * (0.6 + 0.4*min(1, left/25)) * math.Sqrt(min(1, 0.25+left/1.2))
}

// followEdge bends a heading toward the way along the edge where the root is beyond the limit.
func (p *plug) followEdge(x, y, heading, limit float64) float64 {
	dx, dy := x-p.x, y-p.y
	out := math.Atan2(dy, dx)
	over := math.Hypot(dx, dy)/p.reach(out) - (limit - 0.09)
	if over <= 0 || math.Cos(heading-out) <= -0.15 {
		return heading
	}
	along := out + math.Copysign(math.Pi/2+0.12, math.Sin(heading-out))
	turn := math.Remainder(along-heading, 2*math.Pi)
	most := min(0.55, 3*over) * rootStep * 2.2
	return heading + max(-most, min(most, turn))
}

// keepIn moves a point that is too near to the outline inward.
func (p *plug) keepIn(x, y, share, margin float64) (float64, float64) {
	dx, dy := x-p.x, y-p.y
	d := math.Hypot(dx, dy)
	if most := p.reach(math.Atan2(dy, dx))*share - margin; d > most && most > 0 {
		return p.x + dx*most/d, p.y + dy*most/d
	}
	return x, y
}

// discolour turns the given share of the roots' length brown, whole roots before patches, and gives every node its tone.
func discolour(roots []*root, share float64) {
	var keys []float64
	for _, r := range roots {
		for i := range r.path {
			keys = append(keys, r.brownKey(i))
		}
	}
	if len(keys) == 0 {
		return
	}
	sort.Float64s(keys)
	limit := math.Inf(-1)
	if share > 0 {
		limit = keys[min(len(keys)-1, int(share*float64(len(keys))))]
	}
	for _, r := range roots {
		for i := range r.path {
			key, wave := r.brownKey(i), 14*r.wander(i, 4)
			tone := max(0, min(browningAt-1, r.tone+wave))
			if key < limit {
				tone = max(browningAt, min(255, browningAt+20+r.tone+wave))
			}
			r.path[i].tone = uint8(tone)
		}
	}
}

// brownKey orders nodes by who browns first.
func (r *root) brownKey(i int) float64 { return r.brownness + 0.18*r.wander(i, 9) }

// wander is slow noise along the root, −1 to 1, that changes over the given mm.
func (r *root) wander(i int, over float64) float64 {
	s := float64(i) * rootStep / over
	k := math.Floor(s)
	at := func(k float64) float64 { return float64(mix(r.seed^mix(uint64(k)+uint64(over)<<32))>>11)/(1<<52) - 1 }
	a, b := at(k), at(k+1)
	return a + (b-a)*smooth(s-k)
}

// paintRoots draws roots on the medium, lowest first.
func paintRoots(c *canvas, roots []*root) {
	c.withArc()
	light := strokeLight{flank: 0.78, slope: 0.10, x: fromUpperLeft[0], y: fromUpperLeft[1]}
	for i, r := range roots {
		c.stroke(r.path, rootStep, i+2, light)
	}
}

// visibleLength walks the root's centre line and sums where the root itself is on top.
func (r *root) visibleLength(c *canvas, owner int) (length float64) {
	r.eachVisible(c, owner, func(_ int, mm float64) { length += mm })
	return length
}

// eachVisible walks the root's centre line and calls see with each texel where the root itself is on top, and the mm walked there.
func (r *root) eachVisible(c *canvas, owner int, see func(at int, mm float64)) {
	for i := 0; i+1 < len(r.path); i++ {
		a, b := r.path[i], r.path[i+1]
		step := math.Hypot(b.x-a.x, b.y-a.y)
		n := int(math.Ceil(step / walkStep))
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			at := c.index(a.x+(b.x-a.x)*t, a.y+(b.y-a.y)*t)
			if at >= 0 && c.t[at].owner() == owner && math.Abs(float64(c.arc[at])/100-(float64(i)+t)*rootStep) < 1.5 {
				see(at, step/float64(n))
			}
		}
	}
}

// rootShadow is the contact shadow roots throw on medium and on lower roots.
var rootShadow = shadow{taps: [][2]float64{{-0.06, -0.09}, {-0.14, -0.19}}, share: 0.72}
