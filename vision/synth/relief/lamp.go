package relief

// lamp is the one lamp of a drawing and the sky around it. Together they light paper in the plug's plane with 1.
type lamp struct {
	x, y, z  float32 // unit vector toward the lamp
	halfX    float32 // unit vector halfway between the lamp and the eye, which is far above
	halfY    float32
	halfZ    float32
	direct   rgb     // light from the lamp on paper in the plane
	sky      rgb     // light from everywhere else
	soft     float32 // the lamp's own half width, as a slope: 0.01 for the sun, 0.5 for a window
	sharp    int     // the largest polish that shows: a mirror's spot is no smaller than the lamp
	hollow   float32 // how strongly hollows darken
	gradient rgb     // change of light per mm to the right (r) and downward (g)
}

func newLamp(d dice) lamp {
	var l lamp
	l.aim(d)
	share, soft := l.kind(d)
	l.soft = soft
	l.sharp = max(3, int(log2(8/float32(soft*soft))+0.5)) // of a spot whose half width is half the lamp's
	l.sharp = min(l.sharp, len(spotEdge)-1)
	warm := float32(0.05 * d.Float32()) // the lamp is a little warmer than the sky
	warm = float32(warm * (1 - share))
	l.direct = rgb{1 + warm, 1, 1 - warm}.times(share)
	l.sky = rgb{1 - l.direct.r, 1 - l.direct.g, 1 - l.direct.b}
	l.hollow = d.scaled(0.5, 1.4)
	if d.chance(0.5) {
		x, y := d.facing()
		slope := d.between(0, 0.18) / width // up to 1.3 : 1 from corner to corner
		l.gradient = rgb{x * slope, y * slope, 0}
	}
	return l
}

// aim sets the lamp's direction: mostly from rather high up.
func (l *lamp) aim(d dice) {
	high := d.between(25, 85)
	if d.chance(0.6) {
		high = d.between(45, 80)
	}
	sin, cos := sinCos(high / 360)
	x, y := d.facing()
	l.x, l.y, l.z = x*cos, y*cos, sin
	n := sqrt(dot3(l.x, l.y, l.z+1, l.x, l.y, l.z+1))
	l.halfX, l.halfY, l.halfZ = l.x/n, l.y/n, (l.z+1)/n
}

// kind returns the lamp's share of the light and its softness.
func (l *lamp) kind(d dice) (share, soft float32) {
	switch d.pick(0.25, 0.4, 0.35) {
	case 0: // sun or flash
		return d.between(0.65, 0.92), d.between(0.01, 0.06)
	case 1: // lamps and windows
		return d.between(0.4, 0.75), d.between(0.1, 0.4)
	}
	return d.between(0.08, 0.4), d.between(0.3, 0.7) // dull sky
}

// slope is a surface's unit normal.
type slope struct{ x, y, z float32 }

// normal is the unit normal of a surface that rises by zx and zy mm per mm.
func normal(zx, zy float32) slope {
	n := 1 / sqrt(1+dot(zx, zy, zx, zy))
	return slope{-zx * n, -zy * n, n}
}

// matt is the light that a matt surface of the given normal sends back: lamp, as far as it is not in shadow, and sky, as far as it
// sees that from a hollow so deep. Of the sky's light in a hollow that sees the share open = 1/(1 + deep) of it, walls of a pale own
// colour send the rest to and fro: open/(1 - (1 - open)·own) = 1/(1 + deep·(1 - own)).
func (l *lamp) matt(own rgb, n slope, wrap, sun, deep float32) rgb {
	facing := float32(max(0, dot3(n.x, n.y, n.z, l.x, l.y, l.z)+wrap) / (l.z + wrap) * sun)
	above := float32((0.5 + float32(0.5*n.z)) / (1 + float32(deep*(1-min(own.g, 0.9)))))
	return rgb{
		own.r * (float32(l.direct.r*facing) + float32(l.sky.r*above)),
		own.g * (float32(l.direct.g*facing) + float32(l.sky.g*above)),
		own.b * (float32(l.direct.b*facing) + float32(l.sky.b*above)),
	}
}

// mirror is the light of the lamp and of the sky mirrored by a glossy surface (Blinn, "Models of light reflection for computer
// synthesized pictures", 1977, scaled so that a polished surface is brighter in a smaller spot). The sky is brighter above and on the
// lamp's side than at the horizon.
func (l *lamp) mirror(n slope, gloss float32, polish int, sun, deep float32) float32 {
	grazing := 1 - n.z
	up, toward := float32(2*n.z*n.z)-1, float32(2*n.z*dot(n.x, n.y, l.x, l.y))
	bright := max(0.1, 0.35+float32(0.65*up)+float32(0.9*toward))
	light := float32((gloss + float32(0.4*grazing*grazing*grazing*min(1, gloss*20))) * bright * l.sky.g / (1 + deep))
	c := dot3(n.x, n.y, n.z, l.halfX, l.halfY, l.halfZ)
	polish = min(polish, l.sharp)
	if c < spotEdge[polish] {
		return light
	}
	for range polish {
		c *= c
	}
	peak := (float32(int(1)<<polish) + 8) / 4
	return light + min(4, float32(gloss*peak*c*sun*l.direct.g/l.z))
}

// spotEdge is, for each polish, the cosine below which the lamp's spot has faded to 0.0001.
var spotEdge = func() (edge [11]float32) {
	for i := range edge {
		edge[i] = exp2(log2(1e-4) / float32(int(1)<<i))
	}
	return edge
}()
