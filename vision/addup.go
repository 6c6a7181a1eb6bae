package vision

import "math"

// leastTelling is how many places along roots have to tell something for it to be taken as told.
const leastTelling = 60

// shadePrior is the weight of "the webs have evened the light" against the plugs' roots. Plugs differ by a tenth in how light their
// roots are, the light left over a tray by a twentieth (common practice, no source): one over the squares is 4 to 1 in a plug's
// favour at the tray's rim, and three times less so over the tray.
const shadePrior = 12

// rootShade is how the roots' lightness changes over the tray once more, after the webs have evened it: webs stand higher than
// plug bottoms, and lie in other shadows. What is left of the lamp's shade shows in all roots alike, and a tilted plane over
// the tray is as much as it can be.
func rootShade(plugs []*rootCell) {
	var seen []sighting
	for _, c := range plugs {
		var v []float32
		for _, l := range c.lines.levels {
			if l.white && c.p.ring[l.i] == 0 {
				v = append(v, l.mean)
			}
		}
		if len(v) >= leastTelling {
			seen = append(seen, sighting{c.u, c.v, quantile(v, 0.5)})
		}
	}
	h, ok := fitShade(seen, shadePrior)
	if !ok {
		return
	}
	mean := 0.0
	for _, p := range seen {
		mean += (h.alongU*p.u + h.alongV*p.v) / float64(len(seen))
	}
	for _, c := range plugs {
		c.shine = float32(math.Exp(h.alongU*c.u + h.alongV*c.v - mean))
	}
}

// rimShade is how light roots are in a plug's rings, over how light they are within: by the medians of all the photo's white
// roots that are wide enough to tell; 1 where too few do.
func rimShade(plugs []*rootCell) (f [3]float32) {
	var v [3][]float32
	for _, c := range plugs {
		for _, l := range c.lines.levels {
			if l.white {
				ring := c.p.ring[l.i]
				v[ring] = append(v[ring], l.mean/c.shine)
			}
		}
	}
	f = [3]float32{1, 1, 1}
	if len(v[0]) < leastTelling {
		return f
	}
	within := quantile(v[0], 0.5)
	for k := 1; k < 3; k++ {
		if len(v[k]) >= leastTelling {
			f[k] = float32(min(1, max(0.5, quantile(v[k], 0.5)/within)))
		}
	}
	return f
}

// Reach in mm of what is taken from around a pixel: a root's own level, and the medium between the roots.
const (
	levelReachMM  = 0.7
	mediumReachMM = 1.2
)

// priorMM2 is how much medium between the roots counts as much as the plug's own mean.
const priorMM2 = 2.0

// addUp adds up the root on the support.
func (c *rootCell) addUp(pl *Plane, k ink, rims [3]float32) {
	share := c.unmix(k) // once more: to keep every plug's since findRoots would hold 8 bytes for each of their pixels
	defer share.Close()
	ground, level := c.groundOf(share), c.levelsAround(rims)
	p, l := c.p, c.lines
	c.plug.Root = Share{p.rect, make([]uint8, len(l.support))}
	c.plug.Brown = Share{p.rect, make([]uint8, len(l.support))}
	area := make([]float32, p.w)
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
			a = min(1, a/(c.shine*rims[p.ring[i]]))
			share.all.v[i] = a
			sum += float64(a * area[x])
			dis += float64(a * part * area[x])
			wide += float64(area[x])
			a = max(0, a)
			c.plug.Root.A[i], c.plug.Brown.A[i] = uint8(a*255+0.5), uint8(a*part*255+0.5)
		}
	}
	c.plug.RootMM2, c.plug.BrownMM2 = math.Max(0, sum), math.Max(0, dis)
	c.plug.RootDoubt = c.doubt(k, max(0, sum-dis), dis, wide, c.smallPieces(share.all.v)/sq(c.pxMM))
	c.plug.LengthMM, c.plug.CrowdMM = c.lengthMM(c.plug.RootMM2 * c.pxMM * c.pxMM)
}

// groundOf is the share that what lies between the roots seems to have: medium is lighter here and darker there.
func (c *rootCell) groundOf(share shares) *tiles {
	p := c.p
	t := newTiles(p.w, p.h, int(mediumReachMM*c.pxMM+0.5))
	near := dilate(dilate(c.lines.support, p.w, p.h), p.w, p.h)
	for y := 0; y < p.h; y++ {
		for x := y & 1; x < p.w; x += 2 {
			if i := y*p.w + x; p.inside[i] && !near[i] && !c.isRound(i) {
				t.add(x, y, share.all.v[i])
			}
		}
	}
	return t.around()
}

// levelsAround is how much lighter or darker the roots near by are than the photo's ink.
func (c *rootCell) levelsAround(rims [3]float32) *tiles {
	p := c.p
	t := newTiles(p.w, p.h, int(levelReachMM*c.pxMM+0.5))
	for _, l := range c.lines.levels {
		t.add(int(l.i)%p.w, int(l.i)/p.w, min(2, max(0.25, l.mean/(c.shine*rims[p.ring[l.i]]))))
	}
	return t.around()
}
