package ground

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
	"traygauge/vision/synth/herbarium/things"
)

// Litter draws what lies on the medium and the tray: fibres, bark, dry debris, petals, and liverwort.
func Litter(d num.Dice, t *Tray, side int) []things.Thing {
	var out []things.Thing
	area := 0.01 * float64(side) / t.PerMM * float64(side) / t.PerMM // square cm
	for range count(d, area*t.medium.fibres) {
		out = append(out, t.fibre(d, side))
	}
	for range count(d, area*t.medium.chips) {
		out = append(out, t.chip(d, side))
	}
	if d.Chance(0.08) {
		for range 1 + d.IntN(30) {
			out = append(out, t.debris(d, side))
		}
	}
	if d.Chance(0.1) {
		for range 4 + d.IntN(90) {
			out = append(out, t.straw(d, side))
		}
	}
	if d.Chance(0.04) {
		out = append(out, t.petals(d, side)...)
	}
	if d.Chance(0.04) {
		out = append(out, t.liverworts(d, side)...)
	}
	return out
}

// count draws a whole number about v.
func count(d num.Dice, v float64) int { return int(v + d.Float64()) }

func (t *Tray) fibre(d num.Dice, side int) things.Thing {
	p, z := t.OnMedium(d, side)
	own := t.medium.fibre
	tone := float32(d.Between(0.35, 1.15))
	return things.Thing{
		Outline: things.Bent(d, p, d.Angle(), d.Wide(1.5, 9)*t.PerMM, d.Wide(0.12, 0.4)*t.PerMM), Z: z + 0.4, Own: num.Scaled(own, tone),
		Other: num.Scaled(own, 0.7*tone), Plot: num.PlotOf(d, num.PerWave, 1.5), Flat: true, Rough: 0.4,
	}
}

func (t *Tray) chip(d num.Dice, side int) things.Thing {
	p, z := t.OnMedium(d, side)
	size, way := d.Wide(0.8, 4)*t.PerMM, d.Angle()
	long := d.Between(1, 2.6)
	turn := num.Heading(way)
	knots := d.Angle()
	g := num.Rounded(num.Point{}, 9, func(a float64) float64 { return size / 2 * (1 + 0.2*math.Sin(2*a+knots) + d.Around(0, 0.12)) })
	for i, q := range g {
		g[i] = p.Plus(turn.Times(q.X * long)).Plus(turn.Left().Times(q.Y))
	}
	own := num.LCH{L: 27, C: 12, H: 58}.Scattered(d, 8, 4, 8)
	return things.Thing{
		Outline: g, Z: z + d.Between(0.4, 1.5), Own: own.Light(), Other: num.LCH{L: own.L * 0.6, C: own.C * 0.8, H: own.H}.Light(),
		Plot: num.PlotOf(d, num.PerWave, d.Wide(0.6, 2)), Streak: d.Between(1, 4), Way: way, Dome: d.Between(0.05, 0.4), Domed: 0.6, Rough: 0.4, Flat: true,
	}
}

// debris is a dry piece of straw, root or leaf that belongs to no plant here.
func (t *Tray) debris(d num.Dice, side int) things.Thing {
	p, z := t.OnMedium(d, side)
	own := num.LCH{L: 58, C: 22, H: 76}.Scattered(d, 13, 7, 8)
	way := d.Angle()
	g := things.Bent(d, p, way, d.Wide(2, 16)*t.PerMM, d.Wide(0.3, 2.5)*t.PerMM)
	return things.Thing{
		Outline: g, Z: z + d.Between(0.3, 2), Own: own.Light(), Other: num.LCH{L: own.L * 0.7, C: own.C, H: own.H - 5}.Light(),
		Plot: num.PlotOf(d, num.PerWave, 1.2), Streak: 5, Way: way, Dome: 0.15, Domed: 0.7, Rough: 0.3, Gloss: 0.03,
	}
}

// straw is a dry stalk or blade that lies flat, on webs too.
func (t *Tray) straw(d num.Dice, side int) things.Thing {
	p, way := num.At(d.Between(0, float64(side)), d.Between(0, float64(side))), d.Angle()
	own := num.LCH{L: d.Between(46, 86), C: d.Between(10, 30), H: d.Between(68, 92)}
	g := things.Bent(d, p, way, d.Wide(5, 50)*t.PerMM, d.Wide(0.3, 2)*t.PerMM)
	return things.Thing{
		Outline: g, Z: d.Between(0.3, 2), Own: own.Light(), Other: num.LCH{L: own.L * 0.8, C: own.C, H: own.H - 4}.Light(),
		Plot: num.PlotOf(d, num.PerWave, 1.2), Streak: 8, Way: way, Dome: 0.2, Domed: 0.6, Rough: 0.3, Gloss: 0.04, Flat: d.Chance(0.7),
	}
}

func (t *Tray) petals(d num.Dice, side int) []things.Thing {
	own := num.LCH{L: d.Between(70, 92), C: d.Some(0.7, 10, 60), H: d.Between(-60, 95)}
	var out []things.Thing
	for range 2 + d.IntN(14) {
		p := num.At(d.Between(0, float64(side)), d.Between(0, float64(side)))
		turn, size := num.Heading(d.Angle()), d.Wide(3, 9)*t.PerMM
		g := shape.Contour{Long: size, Wide: size * d.Between(0.5, 0.9), Base: d.Between(0.6, 1.2), Tip: d.Between(0.35, 0.5), Uneven: 0.15}.Ring(d, 14)
		for i, q := range g {
			g[i] = p.Plus(turn.Times(q.X)).Plus(turn.Left().Times(q.Y))
		}
		one := own.Scattered(d, 3, 4, 4)
		out = append(out, things.Thing{
			Outline: g.Facing(false), Z: d.Wide(0.5, 12), Own: one.Light(), Other: num.LCH{L: one.L * 0.9, C: one.C * 1.1, H: one.H}.Light(),
			Plot: num.PlotOf(d, num.PerWave, 2), Streak: 3, Dome: d.Between(-0.6, 0.6), Domed: size / t.PerMM / 3, Rough: 0.4, Gloss: 0.03,
		})
	}
	return out
}

// liverworts are flat green lobes on the medium: no leaves.
func (t *Tray) liverworts(d num.Dice, side int) []things.Thing {
	var out []things.Thing
	own := num.LCH{L: 42, C: 32, H: 124}.Scattered(d, 7, 6, 6)
	for range 2 + d.IntN(25) {
		p, z := t.OnMedium(d, side)
		size := d.Wide(1.5, 6) * t.PerMM
		for range 2 + d.IntN(4) {
			k := shape.Hand{Long: size * d.Between(0.7, 1.2), Lobes: 3, Spread: 0.7, Deep: 0.25, Blunt: 1.5}
			turn := num.Heading(d.Angle())
			g := k.Ring(d, 16)
			for i, q := range g {
				g[i] = p.Plus(turn.Times(q.X)).Plus(turn.Left().Times(q.Y))
			}
			one := own.Scattered(d, 3, 3, 2)
			out = append(out, things.Thing{
				Outline: g.Facing(false), Z: z + d.Between(0.2, 0.9), Own: one.Light(), Other: num.LCH{L: one.L * 0.8, C: one.C, H: one.H}.Light(),
				Plot: num.PlotOf(d, num.PerWave, 0.6), Dome: -0.3, Domed: 1.2, Gloss: 0.1, Rough: 0.3, Flat: true,
			})
		}
	}
	return out
}
