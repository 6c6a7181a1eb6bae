package foliage

import "math"

// mirrored is the gloss of a surface with a normal, seen from straight above: the lamp's image, spread by the roughness, and the
// sky's. Direct and sky are the light of each on the surface; base is the mirror-like reflectance head-on. The lamp's lobe is that
// of Trowbridge and Reitz (1975), Fresnel's factor Schlick's (1994). Paper in the same light sends back 1.
func mirrored(n vec, l *lamp, direct, sky, base, rough float64) float64 {
	if base <= 0 {
		return 0
	}
	grazing := 1 - clamp(n.z, 0, 1)
	grazing *= grazing
	sum := (base + (1-base)*0.5*grazing*grazing*min(1, base/0.04)) * sky
	if direct > 0.001 {
		wide := rough*rough + 0.25*l.spread*l.spread + 0.0004
		k := n.dot(l.half)
		q := k*k*(wide-1) + 1
		facing := max(0.08, n.dot(l.to))
		lobe := wide / (q * q * 4 * max(0.25, n.z))
		sum += base * lobe * direct / facing
	}
	return min(sum, 4)
}

// spot is a place on a surface above the ground, with what its face's corners have there.
type spot struct {
	p            vec
	n, along     vec // unit vectors
	above, below float64
	place        place
	organ        int32
}

// seen returns the light that the spot sends up, and what the spot is like.
func (s *spot) seen(c coat, l *lamp, sh *shadows, turn float64) (rgb, look) {
	n, above, below := s.n, s.above, s.below
	s.place.under = n.z < 0
	if s.place.under {
		n, above, below = n.times(-1), below, above
	}
	v := c.look(s.place)
	left := n.cross(s.along)
	bent := n.minus(s.along.times(v.tiltA)).minus(left.times(v.tiltB)).unit()
	if bent.z < 0.03 {
		bent = n
	}
	front, back := bent.dot(l.to)/l.to.z, 0.0
	if front < 0 {
		front, back = 0, -n.dot(l.to)/l.to.z
	}
	sees := 0.0
	if l.direct > 0.001 {
		sees = sh.lit(s.p, s.organ, turn) * l.direct
	}
	sky := (1 - l.direct) * above * (1 + 0.5*(bent.z-n.z))
	direct := sees * min(front, 2.5)
	light := v.own.times(direct + sky)
	light = light.plus(v.through.times(sees*min(back, 2) + (1-l.direct)*below*0.6))
	light = light.plus(rgb{0.10, 0.15, 0.035}.by(v.own).times(max(0, 1-above) * 0.5)) // light from leaf to leaf
	if v.dust > 0 {
		light = light.to(rgb{0.30, 0.25, 0.18}.times(direct+sky), v.dust)
	}
	light = light.plus(s.gloss(v, n, bent, left, l, sees, sky))
	if v.lens.inside > 0 || v.lens.beside > 0 {
		light = s.wet(v, light, n, left, l, sees, sky)
	}
	return light.times(l.field(s.p.x, s.p.y)), v
}

// gloss is what the skin mirrors, and the light that hairs or bloom catch.
func (s *spot) gloss(v look, n, bent, left vec, l *lamp, sees, sky float64) rgb {
	facing := max(0, bent.dot(l.to)/l.to.z)
	g := mirrored(bent, l, sees*facing, sky, 0.04*v.gloss, v.rough)
	if v.fuzz > 0 {
		edge := 1 - n.z
		g += v.fuzz * (0.03 + 0.3*edge*edge) * (sees*min(1, facing+0.3) + sky)
	}
	return grey(g)
}

// wet is the light of a spot with a drop on it or beside it.
func (s *spot) wet(v look, light rgb, n, left vec, l *lamp, sees, sky float64) rgb {
	light = light.times(v.lens.focus(l.to.dot(s.along), l.to.dot(left)))
	if v.lens.inside == 0 {
		return light
	}
	dome := n.plus(s.along.times(0.9 * v.lens.a)).plus(left.times(0.9 * v.lens.b)).unit()
	facing := max(0, dome.dot(l.to)/l.to.z)
	return light.plus(grey(v.lens.inside * mirrored(dome, l, sees*facing, sky*0.7, 0.03, 0.09)))
}

// away is a turn of the rosette for a texel, the same in every drawing.
func away(x, y int) float64 {
	k := 0.06711056*float64(x) + 0.00583715*float64(y) // interleaved gradient noise (Jimenez 2014)
	k = 52.9829189 * (k - math.Floor(k))
	return k - math.Floor(k)
}
