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
	brown := k.hasBrown && det > 1e-9
	var both [2]*mixer
	var onlyBrown *mixer
	if brown {
		both[0] = c.along(w.times(bb / det).minus(b.times(wb / det)))
		both[1] = c.along(b.times(ww / det).minus(w.times(wb / det)))
		onlyBrown = c.along(b.times(1 / bb))
	}
	for y := range p.h {
		codes, inside := p.row(c.photo, y), p.inside[y*p.w:(y+1)*p.w]
		all, brownAll := out.all.v[y*p.w:(y+1)*p.w], out.brown.v[y*p.w:(y+1)*p.w]
		for x, in := range inside {
			if !in {
				continue
			}
			if !brown {
				all[x] = onlyWhite.at(codes, 3*x)
				continue
			}
			aw, ab := both[0].at(codes, 3*x), both[1].at(codes, 3*x)
			switch {
			case ab < 0:
				aw, ab = onlyWhite.at(codes, 3*x), 0
			case aw < 0:
				aw, ab = 0, onlyBrown.at(codes, 3*x)
			}
			all[x], brownAll[x] = aw+ab, ab
		}
	}
	return out
}

// along is the function v·(light − medium).
func (c *rootCell) along(v RGB) *mixer { return newMixer(v, c.gain, -v.dot(c.medium)) }
