package vision

import (
	"math"
	"slices"
)

// sheen is how light the crests of white roots usually are over the photo's ink, by the width that they are seen in. The ink is
// the mean over a root's width; a root is round, its flanks lie in its own shade, and the more of them the blur mixes in, the
// less its crest stands out. Roots of one width differ among each other by their own lightness only.
type sheen [sheenBins]float32

const (
	sheenBins  = 20
	sheenBinPx = 0.5
	sheenLeast = 60 // crests in a bin for it to speak
)

func sheenBin(seenPx float32) int { return min(sheenBins-1, int(seenPx/sheenBinPx)) }

// sheenOf takes the medians over all white roots that are wide enough to tell; a width that too few have is like the next
// narrower one, and 1 where there is none.
func sheenOf(plugs []*rootCell) (s sheen) {
	var v [sheenBins][]float32
	for _, c := range plugs {
		for _, l := range c.lines.levels {
			if l.white {
				v[sheenBin(l.seenPx)] = append(v[sheenBin(l.seenPx)], l.value)
			}
		}
	}
	last := float32(1)
	for k := range s {
		if len(v[k]) >= sheenLeast {
			last = float32(quantile(v[k], 0.5))
		}
		s[k] = last
	}
	return s
}

// most is the greatest share that a pixel of a root of the photo's ink can show.
func (s *sheen) most() float32 { return max(1, slices.Max(s[:])) }

// rootShade is how the roots' lightness changes over the tray once more, after the webs have evened it: webs stand higher than
// plug bottoms, and lie in other shadows. What is left of the lamp's shade shows in all roots alike, and a tilted plane over
// the tray is as much as it can be.
func (s *sheen) rootShade(plugs []*rootCell) {
	var at [][2]float64
	var light []float64
	for _, c := range plugs {
		var v []float32
		for _, l := range c.lines.levels {
			if l.white {
				v = append(v, l.value/s[sheenBin(l.seenPx)])
			}
		}
		if len(v) >= sheenLeast {
			at, light = append(at, [2]float64{c.u, c.v}), append(light, quantile(v, 0.5))
		}
	}
	h, ok := fitShade(at, light)
	if !ok {
		return
	}
	u, v := 0.0, 0.0
	for _, p := range at {
		u, v = u+p[0]/float64(len(at)), v+p[1]/float64(len(at))
	}
	for _, c := range plugs {
		c.shine = float32(math.Exp(h.alongU*(c.u-u) + h.alongV*(c.v-v)))
	}
}

// Reach in mm of what is taken from around a pixel: a root's own level, and the medium between the roots.
const (
	levelReachMM  = 0.7
	mediumReachMM = 1.2
)

// priorMM2 is how much medium between the roots counts as much as the plug's own mean.
const priorMM2 = 2.0

// addUp adds up the root on the support.
func (c *rootCell) addUp(pl *Plane, k ink, gloss *sheen) {
	share := c.unmix(k)
	defer share.Close()
	ground, level := c.groundOf(share), c.levelsAround(gloss)
	p, l := c.p, c.lines
	c.plug.Root = Share{p.rect, make([]uint8, len(l.support))}
	c.plug.Brown = Share{p.rect, make([]uint8, len(l.support))}
	area := make([]float32, p.w)
	most := gloss.most()
	prior := float32(priorMM2 * c.pxMM * c.pxMM / 2)
	var sum, dis, wide float64
	for y := range p.h {
		p.rowAreas(pl, y, area)
		for x := range p.w {
			i := y*p.w + x
			if !l.support[i] {
				continue
			}
			all, brown := share.all.v[i], share.brown.v[i]
			part := float32(0)
			if all > 0 {
				part = min(1, max(0, brown/all))
			}
			t := ground.at(x, y)
			g := ground.sum[t] / (ground.n[t] + prior)
			a := (all - g) / (1 - g)
			if t := level.at(x, y); level.n[t] > 0 && part > 0.5 {
				a /= level.sum[t] / level.n[t]
			}
			a = min(most, a/c.shine)
			share.all.v[i] = a
			sum += float64(a * area[x])
			dis += float64(a * part * area[x])
			wide += float64(area[x])
			a = min(1, max(0, a))
			c.plug.Root.A[i], c.plug.Brown.A[i] = uint8(a*255+0.5), uint8(a*part*255+0.5)
		}
	}
	c.plug.RootMM2, c.plug.BrownMM2 = math.Max(0, sum), math.Max(0, dis)
	c.plug.RootUMM2 = c.doubtMM2(k, sum-dis, dis, wide)
	c.plug.LengthMM = c.lengthMM(c.plug.RootMM2 * c.pxMM * c.pxMM)
}

// groundOf is the share that what lies between the roots seems to have: medium is lighter here and darker there.
func (c *rootCell) groundOf(share shares) *tiles {
	p := c.p
	t := newTiles(p.w, p.h, int(mediumReachMM*c.pxMM+0.5))
	near := dilate(dilate(c.lines.support, p.w, p.h), p.w, p.h)
	for y := 0; y < p.h; y++ {
		for x := y & 1; x < p.w; x += 2 {
			if i := y*p.w + x; p.inside[i] && !near[i] {
				t.add(x, y, share.all.v[i])
			}
		}
	}
	return t.around()
}

// levelsAround is how much lighter or darker the roots near by are than the photo's ink.
func (c *rootCell) levelsAround(gloss *sheen) *tiles {
	p := c.p
	t := newTiles(p.w, p.h, int(levelReachMM*c.pxMM+0.5))
	for _, l := range c.lines.levels {
		t.add(int(l.i)%p.w, int(l.i)/p.w, min(2, max(0.25, l.value/gloss[sheenBin(l.seenPx)]/c.shine)))
	}
	return t.around()
}
