package lighting

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Mirrored is the gloss of a surface with a normal, seen from straight above: the lamp's image, spread by the roughness, and the
// sky's. Direct and sky are the light of each on the surface; base is the mirror-like reflectance head-on. The lamp's lobe is that
// of Trowbridge and Reitz (1975), Fresnel's factor Schlick's (1994). Paper in the same light sends back 1.
func Mirrored(n num.Vec, l *Lamp, direct, sky, base, rough float64) float64 {
	if base <= 0 {
		return 0
	}
	grazing := 1 - num.Clamp(n.Z, 0, 1)
	grazing *= grazing
	sum := (base + (1-base)*0.5*grazing*grazing*min(1, base/0.04)) * sky
	if direct > 0.001 {
		wide := rough*rough + 0.25*l.Spread*l.Spread + 0.0004
		k := n.Dot(l.half)
		q := k*k*(wide-1) + 1
		facing := max(0.08, n.Dot(l.To))
		lobe := wide / (q * q * 4 * max(0.25, n.Z))
		sum += base * lobe * direct / facing
	}
	return min(sum, 4)
}

// Seen returns the light that a spot sends up, and what the spot is like.
func Seen(s *surface.Spot, c surface.Coat, l *Lamp, sh *Shadows, turn float64) (num.RGB, surface.Look) {
	n, above, below := s.N, s.Above, s.Below
	s.Place.Under = n.Z < 0
	if s.Place.Under {
		n, above, below = n.Times(-1), below, above
	}
	v := c.Look(s.Place)
	left := n.Cross(s.Along)
	bent := n.Minus(s.Along.Times(v.TiltA)).Minus(left.Times(v.TiltB)).Unit()
	if bent.Z < 0.03 {
		bent = n
	}
	front, back := bent.Dot(l.To)/l.To.Z, 0.0
	if front < 0 {
		front, back = 0, -n.Dot(l.To)/l.To.Z
	}
	sees := 0.0
	if l.Direct > 0.001 {
		sees = sh.Lit(s.P, s.Organ, turn) * l.Direct
	}
	sky := (1 - l.Direct) * above * (1 + 0.5*(bent.Z-n.Z))
	direct := sees * min(front, 2.5)
	light := v.Own.Times(direct + sky)
	light = light.Plus(v.Through.Times(sees*min(back, 2) + (1-l.Direct)*below*0.6))
	light = light.Plus(num.RGB{R: 0.10, G: 0.15, B: 0.035}.By(v.Own).Times(max(0, 1-above) * 0.5)) // light from leaf to leaf
	if v.Dust > 0 {
		light = light.To(num.RGB{R: 0.30, G: 0.25, B: 0.18}.Times(direct+sky), v.Dust)
	}
	light = light.Plus(glossOf(v, n, bent, l, sees, sky))
	if v.Lens.Inside > 0 || v.Lens.Beside > 0 {
		light = wetted(s, v, light, n, left, l, sees, sky)
	}
	return light.Times(l.Field(s.P.X, s.P.Y)), v
}

// glossOf is what the skin mirrors, and the light that hairs or bloom catch.
func glossOf(v surface.Look, n, bent num.Vec, l *Lamp, sees, sky float64) num.RGB {
	facing := max(0, bent.Dot(l.To)/l.To.Z)
	g := Mirrored(bent, l, sees*facing, sky, 0.04*v.Gloss, v.Rough)
	if v.Fuzz > 0 {
		edge := 1 - n.Z
		g += v.Fuzz * (0.03 + 0.3*edge*edge) * (sees*min(1, facing+0.3) + sky)
	}
	return num.Grey(g)
}

// wetted is the light of a spot with a drop on it or beside it.
func wetted(s *surface.Spot, v surface.Look, light num.RGB, n, left num.Vec, l *Lamp, sees, sky float64) num.RGB {
	light = light.Times(v.Lens.Focus(l.To.Dot(s.Along), l.To.Dot(left)))
	if v.Lens.Inside == 0 {
		return light
	}
	dome := n.Plus(s.Along.Times(0.9 * v.Lens.A)).Plus(left.Times(0.9 * v.Lens.B)).Unit()
	facing := max(0, dome.Dot(l.To)/l.To.Z)
	return light.Plus(num.Grey(v.Lens.Inside * Mirrored(dome, l, sees*facing, sky*0.7, 0.03, 0.09)))
}

// Away is a turn of the rosette for a texel, the same in every drawing.
func Away(x, y int) float64 {
	k := 0.06711056*float64(x) + 0.00583715*float64(y) // interleaved gradient noise (Jimenez 2014)
	k = 52.9829189 * (k - math.Floor(k))
	return k - math.Floor(k)
}
