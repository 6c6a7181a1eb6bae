package plugs

import (
	"math"
	"math/rand/v2"
	"sort"
	"sync"

	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/num"
)

const (
	rootStep    = 0.4 // mm between nodes
	RootPerMM   = 20  // texels of the canvas that truth is counted on
	walkStep    = 0.02
	BrowningAt  = 128 // tones from here on are brown
	mostPrimary = 70
)

// RootPalette is the own colours of roots: cream below browningAt, tan to brown above.
var RootPalette = sync.OnceValue(func() *canvas.Palette {
	var p canvas.Palette
	for i := range BrowningAt {
		p[i] = num.Mixed(num.RGB{0.66, 0.60, 0.49}, num.RGB{0.50, 0.43, 0.30}, float64(i)/(BrowningAt-1))
	}
	for i := BrowningAt; i < 256; i++ {
		p[i] = num.Mixed(num.RGB{0.33, 0.20, 0.098}, num.RGB{0.15, 0.072, 0.032}, float64(i-BrowningAt)/(255-BrowningAt))
	}
	return &p
})

// Root is one root's plan: when it starts in the plant's own time, and how it grows. Time is in mm of a vigorous root's
// growth.
type Root struct {
	seed        uint64
	parent      *Root
	at          float64 // mm along the parent
	start, rate float64
	most        float64 // mm
	width       float64 // mm at its base
	depth       float64 // drawing order: higher lies above
	tone        float64
	brownness   float64

	path []canvas.Node
}

func (r *Root) length(time float64) float64 {
	return max(0, min(r.most, (time-r.start)*r.rate))
}

// planRoots lays down everything the plug's roots will ever do.
func planRoots(seed uint64) []*Root {
	var plan []*Root
	r := num.Habit(seed, 1)
	start := 0.0
	for i := range mostPrimary {
		p := &Root{
			seed: num.Mix(seed + uint64(i)<<20), start: start, rate: num.Between(r, 0.55, 1), most: num.Between(r, 50, 170),
			width: 0.38 + 0.55*math.Pow(r.Float64(), 2), depth: r.Float64(), tone: num.Between(r, 10, 100), brownness: r.Float64(),
		}
		plan = append(append(plan, p), planLaterals(r, p)...)
		if i > 1 {
			start += 9 * r.ExpFloat64()
		}
	}
	return plan
}

// planLaterals branches a root: a lateral starts some way behind the tip that has gone by.
func planLaterals(r *rand.Rand, p *Root) (laterals []*Root) {
	gap := num.Between(r, 4, 11)
	for s := num.Between(r, 3, 9); s < p.most-6; s += gap * num.Between(r, 0.5, 1.6) {
		laterals = append(laterals, &Root{
			seed: num.Mix(p.seed + uint64(len(laterals)+1)), parent: p, at: s,
			start: p.start + (s+num.Between(r, 6, 18))/p.rate, rate: num.Between(r, 0.12, 0.4), most: 3 + 22*math.Pow(r.Float64(), 1.5),
			width: num.Between(r, 0.15, min(0.34, p.width*0.7)), depth: p.depth, tone: p.tone + num.Between(r, -10, 25), brownness: p.brownness,
		})
	}
	return laterals
}

// growTo returns the time at which the roots' lengths sum to total mm, or the end of growth.
func growTo(plan []*Root, total float64) (time float64) {
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

// RootsOf returns the plug's roots as they are at the given total length, lowest first.
func RootsOf(p *Plug, seed uint64, total, brown float64) []*Root {
	if total <= 0 {
		return nil
	}
	plan := planRoots(seed)
	time := growTo(plan, total)
	var grown []*Root
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
func (r *Root) grow(p *Plug, length float64) {
	rnd := num.Habit(r.seed, 2)
	limit := num.Between(rnd, 0.86, 0.985)
	x, y, heading, ok := r.begin(rnd, p, limit)
	if !ok {
		return
	}
	turnSD := num.Between(rnd, 0.10, 0.24)
	if r.parent != nil {
		turnSD *= 1.4
	}
	curve := 0.0
	n := int(length/rootStep) + 1
	r.path = make([]canvas.Node, 0, n)
	for i := range n {
		r.path = append(r.path, canvas.Node{X: x, Y: y, Half: r.halfWidth(float64(i)*rootStep, length)})
		curve += -curve*rootStep/7 + turnSD*math.Sqrt(rootStep)*rnd.NormFloat64()*0.5
		curve = max(-0.6, min(0.6, curve))
		heading += curve * rootStep
		heading = p.followEdge(x, y, heading, limit)
		x, y = p.keepIn(x+rootStep*math.Cos(heading), y+rootStep*math.Sin(heading), 0.985, r.width/2+0.1)
	}
}

// begin is where a root first shows and which way it goes: a lateral at its parent, others at the plug's edge or from
// within.
func (r *Root) begin(rnd *rand.Rand, p *Plug, limit float64) (x, y, heading float64, ok bool) {
	if r.parent != nil {
		i := int(r.at / rootStep)
		if i+1 >= len(r.parent.path) {
			return 0, 0, 0, false
		}
		a, b := r.parent.path[i], r.parent.path[i+1]
		side := math.Copysign(num.Between(rnd, 0.7, 1.4), rnd.Float64()-0.5)
		return a.X, a.Y, math.Atan2(b.Y-a.Y, b.X-a.X) + side, true
	}
	angle := num.Between(rnd, -math.Pi, math.Pi)
	sin, cos := math.Sincos(angle)
	if rnd.Float64() < 0.55 {
		d := p.reach(angle) * min(limit, 0.95)
		return p.X + d*cos, p.Y + d*sin, angle + math.Pi + num.Between(rnd, -1.35, 1.35), true
	}
	d := p.reach(angle) * 0.75 * math.Sqrt(rnd.Float64())
	return p.X + d*cos, p.Y + d*sin, num.Between(rnd, -math.Pi, math.Pi), true
}

// halfWidth tapers toward the tip and rounds it.
func (r *Root) halfWidth(s, length float64) float64 {
	left := length - s
	return r.width / 2 * (0.6 + 0.4*min(1, left/25)) * math.Sqrt(min(1, 0.25+left/1.2))
}

// followEdge bends a heading toward the way along the edge where the root is beyond the limit.
func (p *Plug) followEdge(x, y, heading, limit float64) float64 {
	dx, dy := x-p.X, y-p.Y
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
func (p *Plug) keepIn(x, y, share, margin float64) (float64, float64) {
	dx, dy := x-p.X, y-p.Y
	d := math.Hypot(dx, dy)
	if most := p.reach(math.Atan2(dy, dx))*share - margin; d > most && most > 0 {
		return p.X + dx*most/d, p.Y + dy*most/d
	}
	return x, y
}

// discolour turns the given share of the roots' length brown, whole roots before patches, and gives every node its tone.
func discolour(roots []*Root, share float64) {
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
			tone := max(0, min(BrowningAt-1, r.tone+wave))
			if key < limit {
				tone = max(BrowningAt, min(255, BrowningAt+20+r.tone+wave))
			}
			r.path[i].Tone = uint8(tone)
		}
	}
}

// brownKey orders nodes by who browns first.
func (r *Root) brownKey(i int) float64 { return r.brownness + 0.18*r.wander(i, 9) }

// wander is slow noise along the root, −1 to 1, that changes over the given mm.
func (r *Root) wander(i int, over float64) float64 {
	s := float64(i) * rootStep / over
	k := math.Floor(s)
	at := func(k float64) float64 {
		return float64(num.Mix(r.seed^num.Mix(uint64(k)+uint64(over)<<32))>>11)/(1<<52) - 1
	}
	a, b := at(k), at(k+1)
	return a + (b-a)*num.Smooth(s-k)
}

// PaintRoots draws roots on the medium, lowest first.
func PaintRoots(c *canvas.Canvas, roots []*Root) {
	c.WithArc()
	light := canvas.StrokeLight{Flank: 0.78, Slope: 0.10, X: canvas.FromUpperLeft[0], Y: canvas.FromUpperLeft[1]}
	for i, r := range roots {
		c.Stroke(r.path, rootStep, i+2, light)
	}
}

// visibleLength walks the root's centre line and sums where the root itself is on top.
func (r *Root) visibleLength(c *canvas.Canvas, owner int) (length float64) {
	r.EachVisible(c, owner, func(_ int, mm float64) { length += mm })
	return length
}

// EachVisible walks the root's centre line and calls see with each texel where the root itself is on top, and the mm walked there.
func (r *Root) EachVisible(c *canvas.Canvas, owner int, see func(at int, mm float64)) {
	for i := 0; i+1 < len(r.path); i++ {
		a, b := r.path[i], r.path[i+1]
		step := math.Hypot(b.X-a.X, b.Y-a.Y)
		n := int(math.Ceil(step / walkStep))
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			at := c.Index(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t)
			if at >= 0 && c.T[at].Owner() == owner && math.Abs(float64(c.Arc[at])/100-(float64(i)+t)*rootStep) < 1.5 {
				see(at, step/float64(n))
			}
		}
	}
}

// RootShadow is the contact shadow roots throw on medium and on lower roots.
var RootShadow = canvas.Shadow{Taps: [][2]float64{{-0.06, -0.09}, {-0.14, -0.19}}, Share: 0.72}

// Seen is what can be seen of a plug's roots: mm² of the plug, of its roots and of the brown ones among them, and mm of centre line.
type Seen struct{ PlugMM2, RootMM2, BrownMM2, LengthMM float64 }

// CountRoots reads it off a plug's canvas; the plug has so many texels.
func CountRoots(c *canvas.Canvas, plugTexels int, roots []*Root) Seen {
	var area, brown int
	for _, x := range c.T {
		if x.Owner() >= 2 && x.Owner() < len(roots)+2 { // beyond are the mirrors of drops
			area++
			if x.Tone() >= BrowningAt {
				brown++
			}
		}
	}
	n := Seen{PlugMM2: float64(plugTexels) * c.TexelMM2(), RootMM2: float64(area) * c.TexelMM2(), BrownMM2: float64(brown) * c.TexelMM2()}
	for i, r := range roots {
		n.LengthMM += r.visibleLength(c, i+2)
	}
	return n
}
