package weave

import "math"

// look is what a drawing's roots have in common.
type look struct {
	white, brown     rgb
	spread           float64 // of their lightness from root to root
	fade, lamp, core float32 // light lost toward the edges, gained toward the lamp, gained or lost in the middle
	clear            float32 // share of what lies below that shines through
	gloss, glossAt   float32 // a streak of light, and where across
	speck, dirt      float32
	shadow           float32
	reach, hair      float64 // of the shadow, in widths; of root hairs, mm
	hairy            float32
	over             float32 // mm by which roots reach over a plug's rim
	browning         browning
}

// browning is how roots turn brown.
type browning struct {
	way   int
	share float64
	fade  float64 // mm
}

const (
	allWhite = iota
	wholeRoots
	stretches
	tips
	bases
	gradual
	byOrder
)

func newLook(d dice) look {
	k := look{white: d.white(), brown: d.brown(), spread: d.in(0, 0.2), fade: d.in32(0, 0.5), speck: d.in32(0, 0.15)}
	k.fade *= float32(d.maybe(0.7, 1, 1))
	k.lamp, k.core, k.clear = float32(d.maybe(0.5, 0, 0.6)), float32(d.maybe(0.35, -0.4, 0.4)), float32(d.maybe(0.25, 0.1, 0.6))
	if d.chance(0.3) {
		k.gloss, k.glossAt = d.in32(0.05, 0.6), d.in32(-0.6, 0.6)
	}
	if d.chance(0.45) {
		k.dirt = d.in32(0.02, 0.5)
	}
	if d.chance(0.8) {
		k.shadow, k.reach = d.in32(0.1, 0.8), d.in(0.2, 1.2)
	}
	if d.chance(0.18) {
		k.hair, k.hairy = d.in(0.1, 0.7), d.in32(0.05, 0.4)
	}
	k.over = d.in32(-0.1, 0.15)
	if d.chance(0.2) {
		k.over = d.in32(0, 2)
	}
	k.browning = browning{way: d.pick(0.36, 0.18, 0.12, 0.09, 0.07, 0.1, 0.08), share: d.in(0.05, 1), fade: d.log(0.05, 6)}
	return k
}

// white draws a white root's own colour, its red at most 1.2 times its green, well below the limit to brown.
func (d dice) white() rgb {
	c := d.tinted(
		tint{30, 1, 1, 0.97, 1.05, 0.88, 1.02},    // white
		tint{28, 1, 1, 1.04, 1.13, 0.6, 0.88},     // cream
		tint{16, 0.9, 0.9, 1.06, 1.2, 0.35, 0.65}, // yellowish
		tint{12, 0.9, 0.9, 1.1, 1.2, 0.8, 1},      // pinkish
		tint{14, 0.7, 0.7, 1, 1.18, 0.6, 1},       // greyish to straw
	)
	return times(c, d.in32(0.3, 0.9))
}

// brown draws a brown root's own colour, well beyond the limit.
func (d dice) brown() rgb {
	return d.tinted(
		tint{30, 0.15, 0.38, 1.42, 1.75, 0.4, 0.7}, // tan
		tint{30, 0.08, 0.3, 1.7, 2.4, 0.2, 0.45},   // orange
		tint{20, 0.05, 0.2, 1.9, 2.6, 0.4, 0.8},    // red
		tint{10, 0.06, 0.24, 1.4, 1.55, 0.6, 0.85}, // grey
		tint{10, 0.02, 0.09, 1.42, 2.1, 0.4, 0.75}, // dark
	)
}

// clearOf parts browns from a medium that would hide them.
func (k *look) clearOf(d dice, medium rgb) {
	ratio := luminance(k.brown) / luminance(medium)
	switch {
	case ratio > 1.5 || ratio < 0.55 || d.chance(0.08):
	case luminance(medium) > 0.2:
		k.brown = times(k.brown, 0.5/ratio)
	default:
		k.brown = times(k.brown, min(1.7/ratio, 0.4/luminance(k.brown)))
	}
}

// colour gives a root its own colour at each knot.
func (s *scene) colour(r *root) {
	k := &s.look
	white, brown := varied(s.dice, k.white, k.spread), varied(s.dice, k.brown, k.spread)
	white = times(white, min(1, 0.95/max(white[0], white[1])))
	long, b := r.length(), &k.browning
	taken := s.chance(b.share)
	at, half := s.in(0, long), s.log(0.5, 10)
	fade := b.fade*s.in(0.5, 1.5) + 0.02
	tone, swing := s.in(0, 6), s.in32(0, 0.1)
	along := 0.0
	for i := range r.knots {
		q := &r.knots[i]
		if i > 0 {
			along += math.Hypot(q.x-r.knots[i-1].x, q.y-r.knots[i-1].y)
		}
		aged := 0.0
		switch {
		case b.way == byOrder && (r.order > 0) == (b.share > 0.4), b.way == wholeRoots && taken:
			aged = 1
		case !taken:
		case b.way == stretches:
			aged = (half-math.Abs(along-at))/fade + 0.5
		case b.way == tips:
			aged = (half-(long-along))/fade + 0.5
		case b.way == bases:
			aged = (at-along)/fade + 0.5
		case b.way == gradual:
			aged = 1.3*along/long - 0.15
		}
		q.own = between(white, brown, min(1, max(0, aged)))
		q.own = times(q.own, 1+swing*float32(math.Sin(along*0.9+tone)+0.6*math.Sin(along*2.3+2*tone)))
	}
}

// between goes evenly in the logarithm.
func between(a, b rgb, t float64) rgb {
	if t <= 0 {
		return a
	}
	if t >= 1 {
		return b
	}
	for k := range a {
		a[k] *= float32(math.Pow(float64(b[k]/a[k]), t))
	}
	return a
}

// layRoot lays a root with its shadow and hairs, where medium and rim leave it to be seen.
func (s *scene) layRoot(r *root) {
	k := &s.look
	if k.shadow > 0 {
		s.shadeRoot(r)
	}
	if k.hairy > 0 && s.chance(0.7) {
		s.layHairs(r)
	}
	clear, dirt := k.clear*s.in32(0.4, 1), k.dirt*s.in32(0.3, 1.5)
	shift := s.IntN(side * side)
	first := s.next
	r.first = s.trace(&r.ribbon, func(i, n int, t, u float32) {
		at := i/fine/sub*side + i%fine/sub
		a, z := &r.knots[n], &r.knots[n+1]
		bury := a.bury + (z.bury-a.bury)*t
		if s.hidden(at, bury) {
			return
		}
		own := mix(a.own, z.own, t)
		nx, ny := float32(a.y-z.y), float32(z.x-a.x) // to the left
		facing := (nx*float32(s.lampX) + ny*float32(s.lampY)) / (float32(math.Hypot(float64(nx), float64(ny))) + 1e-6)
		noise := s.grain[(at+shift)%(side*side)]
		light := 1 - k.fade*u*u*u*u + k.lamp*u*facing + k.core*(0.5-u*u) + k.speck*noise
		c := times(own, max(0.15, light)*(1-0.5*min(1, bury)))
		if clear > 0 {
			c = mix(c, s.fine.light[i], clear*(0.6+0.4*u*u))
		}
		if dirt > 0 {
			if d := ease(1.6, 2.2, s.height[(at+shift)%(side*side)]+0.5*noise+2.2*dirt); d > 0 {
				c = mix(c, s.soil, 0.7*d)
			}
		}
		if k.gloss > 0 {
			if off := u - k.glossAt; off*off < 0.02 && noise > -0.3 {
				c = plus(c, rgb{1, 1, 1}, k.gloss)
			}
		}
		s.fine.light[i], s.fine.owner[i] = c, first+int32(n)
	})
}

// hidden reports whether the medium or the end of the plug hides a root at a texel.
func (s *scene) hidden(at int, bury float32) bool {
	return s.depth[at] < -s.look.over || bury > 0.02 && s.height[at] > 2.2-4.4*bury
}

// beside is a root's ribbon shifted by so many of its widths away from the lamp, and wider by so many mm each way.
func (s *scene) beside(r *root, shift, wider float64) *ribbon {
	b := &ribbon{knots: append([]knot(nil), r.knots...)}
	for i := range b.knots {
		q := &b.knots[i]
		q.x, q.y, q.r = q.x-2*q.r*shift*s.lampX, q.y-2*q.r*shift*s.lampY, q.r+wider
	}
	return b
}

// shadeRoot darkens what lies beside a root, away from the lamp.
func (s *scene) shadeRoot(r *root) {
	s.trace(s.beside(r, s.look.reach, 0.04), func(i, n int, _, u float32) {
		if bury := r.knots[n].bury; bury < 0.5 && s.depth[i/fine/sub*side+i%fine/sub] > -s.look.over {
			s.fine.light[i] = times(s.fine.light[i], 1-s.look.shadow*(1-u*u)*(1-2*bury))
		}
	})
}

// layHairs lays the faint fuzz of root hairs, which is no root.
func (s *scene) layHairs(r *root) {
	s.trace(s.beside(r, 0, s.look.hair), func(i, n int, _, u float32) {
		at := i/fine/sub*side + i%fine/sub
		if s.hidden(at, r.knots[n].bury) {
			return
		}
		if share := s.look.hairy * (1 - u*u) * clamp01(0.5+0.6*s.grain[at]); share > 0 {
			s.fine.light[i] = mix(s.fine.light[i], r.knots[n].own, share)
		}
	})
}
