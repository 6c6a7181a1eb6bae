package herbarium

import "math"

// litter draws what lies on the medium and the tray: fibres, bark, dry debris, petals, and liverwort.
func litter(d dice, t *tray, side int) []thing {
	var out []thing
	area := 0.01 * float64(side) / t.perMM * float64(side) / t.perMM // square cm
	for range count(d, area*t.medium.fibres) {
		out = append(out, t.fibre(d, side))
	}
	for range count(d, area*t.medium.chips) {
		out = append(out, t.chip(d, side))
	}
	if d.chance(0.08) {
		for range 1 + d.IntN(30) {
			out = append(out, t.debris(d, side))
		}
	}
	if d.chance(0.1) {
		for range 4 + d.IntN(90) {
			out = append(out, t.straw(d, side))
		}
	}
	if d.chance(0.04) {
		out = append(out, t.petals(d, side)...)
	}
	if d.chance(0.04) {
		out = append(out, t.liverworts(d, side)...)
	}
	return out
}

// count draws a whole number about v.
func count(d dice, v float64) int { return int(v + d.Float64()) }

// onMedium draws a place on a cell's medium, in texels, and its height in mm.
func (t *tray) onMedium(d dice, side int) (point, float64) {
	var p point
	for range 12 {
		p = point{d.between(0, float64(side)), d.between(0, float64(side))}
		if at, in := t.opening(p); in > 1 && !t.kind(at).bare && t.inward(p) > 0 {
			return p, t.mediumAt(at)
		}
	}
	return point{-1e4, -1e4}, 0
}

func (t *tray) fibre(d dice, side int) thing {
	p, z := t.onMedium(d, side)
	own := t.medium.fibre
	tone := float32(d.between(0.35, 1.15))
	return thing{
		outline: bent(d, p, d.angle(), d.wide(1.5, 9)*t.perMM, d.wide(0.12, 0.4)*t.perMM), z: z + 0.4, own: scaled(own, tone),
		other: scaled(own, 0.7*tone), plot: plotOf(d, perWave, 1.5), flat: true, rough: 0.4,
	}
}

func (t *tray) chip(d dice, side int) thing {
	p, z := t.onMedium(d, side)
	size, way := d.wide(0.8, 4)*t.perMM, d.angle()
	long := d.between(1, 2.6)
	turn := heading(way)
	knots := d.angle()
	g := rounded(point{}, 9, func(a float64) float64 { return size / 2 * (1 + 0.2*math.Sin(2*a+knots) + d.around(0, 0.12)) })
	for i, q := range g {
		g[i] = p.plus(turn.times(q.x * long)).plus(turn.left().times(q.y))
	}
	own := lch{27, 12, 58}.scattered(d, 8, 4, 8)
	return thing{
		outline: g, z: z + d.between(0.4, 1.5), own: own.light(), other: lch{own.l * 0.6, own.c * 0.8, own.h}.light(),
		plot: plotOf(d, perWave, d.wide(0.6, 2)), streak: d.between(1, 4), way: way, dome: d.between(0.05, 0.4), domed: 0.6, rough: 0.4, flat: true,
	}
}

// debris is a dry piece of straw, root or leaf that belongs to no plant here.
func (t *tray) debris(d dice, side int) thing {
	p, z := t.onMedium(d, side)
	own := lch{58, 22, 76}.scattered(d, 13, 7, 8)
	way := d.angle()
	g := bent(d, p, way, d.wide(2, 16)*t.perMM, d.wide(0.3, 2.5)*t.perMM)
	return thing{
		outline: g, z: z + d.between(0.3, 2), own: own.light(), other: lch{own.l * 0.7, own.c, own.h - 5}.light(),
		plot: plotOf(d, perWave, 1.2), streak: 5, way: way, dome: 0.15, domed: 0.7, rough: 0.3, gloss: 0.03,
	}
}

// straw is a dry stalk or blade that lies flat, on webs too.
func (t *tray) straw(d dice, side int) thing {
	p, way := point{d.between(0, float64(side)), d.between(0, float64(side))}, d.angle()
	own := lch{d.between(46, 86), d.between(10, 30), d.between(68, 92)}
	g := bent(d, p, way, d.wide(5, 50)*t.perMM, d.wide(0.3, 2)*t.perMM)
	return thing{
		outline: g, z: d.between(0.3, 2), own: own.light(), other: lch{own.l * 0.8, own.c, own.h - 4}.light(),
		plot: plotOf(d, perWave, 1.2), streak: 8, way: way, dome: 0.2, domed: 0.6, rough: 0.3, gloss: 0.04, flat: d.chance(0.7),
	}
}

func (t *tray) petals(d dice, side int) []thing {
	own := lch{d.between(70, 92), d.some(0.7, 10, 60), d.between(-60, 95)}
	var out []thing
	for range 2 + d.IntN(14) {
		p := point{d.between(0, float64(side)), d.between(0, float64(side))}
		turn, size := heading(d.angle()), d.wide(3, 9)*t.perMM
		g := contour{size, size * d.between(0.5, 0.9), d.between(0.6, 1.2), d.between(0.35, 0.5), 0.15}.ring(d, 14)
		for i, q := range g {
			g[i] = p.plus(turn.times(q.x)).plus(turn.left().times(q.y))
		}
		one := own.scattered(d, 3, 4, 4)
		out = append(out, thing{
			outline: g.facing(false), z: d.wide(0.5, 12), own: one.light(), other: lch{one.l * 0.9, one.c * 1.1, one.h}.light(),
			plot: plotOf(d, perWave, 2), streak: 3, dome: d.between(-0.6, 0.6), domed: size / t.perMM / 3, rough: 0.4, gloss: 0.03,
		})
	}
	return out
}

// liverworts are flat green lobes on the medium: no leaves.
func (t *tray) liverworts(d dice, side int) []thing {
	var out []thing
	own := lch{42, 32, 124}.scattered(d, 7, 6, 6)
	for range 2 + d.IntN(25) {
		p, z := t.onMedium(d, side)
		size := d.wide(1.5, 6) * t.perMM
		for range 2 + d.IntN(4) {
			k := hand{long: size * d.between(0.7, 1.2), lobes: 3, spread: 0.7, deep: 0.25, blunt: 1.5}
			turn := heading(d.angle())
			g := k.ring(d, 16)
			for i, q := range g {
				g[i] = p.plus(turn.times(q.x)).plus(turn.left().times(q.y))
			}
			one := own.scattered(d, 3, 3, 2)
			out = append(out, thing{
				outline: g.facing(false), z: z + d.between(0.2, 0.9), own: one.light(), other: lch{one.l * 0.8, one.c, one.h}.light(),
				plot: plotOf(d, perWave, 0.6), dome: -0.3, domed: 1.2, gloss: 0.1, rough: 0.3, flat: true,
			})
		}
	}
	return out
}
