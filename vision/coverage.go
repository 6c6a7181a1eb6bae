package vision

// shares is how much of each pixel of a patch is root: all of it, and of that the brown part. They are not held to 0 and 1.
type shares struct{ all, brown *raster }

func (s shares) Close() {
	s.all.Close()
	s.brown.Close()
}

// unmix tells for each pixel p inside the outline how much of it is root, in linear light, where shares add up: it solves
//
//	p − m = aw·(white − m) + ab·(brown − m)
//
// by least squares, m the plug's medium, each of aw and ab not below 0 where the other is used. Both are linear in p but for
// that, and so is each alone. The caller closes what it gets.
func (c *rootCell) unmix(k ink) shares {
	p := c.p
	out := shares{newRaster(p.w, p.h), newRaster(p.w, p.h)}
	w := k.white.minus(c.medium)
	onlyWhite := c.along(w.times(1 / max(1e-9, w.dot(w))))
	b := k.brown.minus(c.medium)
	ww, bb, wb := w.dot(w), b.dot(b), w.dot(b)
	det := ww*bb - wb*wb
	if !k.hasBrown || det <= 1e-9 {
		c.eachInside(func(i int, codes []uint8, at int) { out.all.v[i] = onlyWhite.at(codes, at) })
		return out
	}
	white := c.along(w.times(bb / det).minus(b.times(wb / det)))
	brown := c.along(b.times(ww / det).minus(w.times(wb / det)))
	onlyBrown := c.along(b.times(1 / bb))
	c.eachInside(func(i int, codes []uint8, at int) {
		aw, ab := white.at(codes, at), brown.at(codes, at)
		switch {
		case ab < 0:
			aw, ab = onlyWhite.at(codes, at), 0
		case aw < 0:
			aw, ab = 0, onlyBrown.at(codes, at)
		}
		out.all.v[i], out.brown.v[i] = aw+ab, ab
	})
	return out
}

// along is the function v·(light − medium).
func (c *rootCell) along(v RGB) *mixer { return newMixer(v, c.gain, -v.dot(c.medium)) }

// eachInside calls do for each pixel inside the outline with its index in the patch and its codes at an offset.
func (c *rootCell) eachInside(do func(i int, codes []uint8, at int)) {
	p := c.p
	for y := range p.h {
		codes := p.row(c.photo, y)
		for x := range p.w {
			if i := y*p.w + x; p.inside[i] {
				do(i, codes, 3*x)
			}
		}
	}
}
