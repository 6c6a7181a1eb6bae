package skin

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
)

// fade is how far a leaf has yellowed, and where: each number is the degree there, 0 for healthy to 1 for bleached.
type fade struct {
	whole   float64
	between float64 // between the side veins
	along   float64 // along the veins
	edge    float64
	reach   float64 // mm inward that the edge's yellow goes
	tip     float64
	down    float64 // share of the length that the tip's yellow goes
	patch   float64
	bar     float64 // how high the noise must be for a patch
	uneven  float64
	broken  float64  // how far the yellow between the veins is broken up
	from    float64  // mm inward from which there is less and less of it; 0 for all alike
	clear   float64  // how near to a vein it goes, as a share of the way to the next
	plot    num.Plot // of patches
}

// at returns the degree at a spot: t the share of the length, inward mm from the edge, wander and rich noises of about ±1.
func (f *fade) at(t, inward float64, v *shape.Veined, x, y, wander, rich float64) float64 {
	sum := f.whole + f.uneven*rich
	if f.between > 0 {
		k := f.between * num.Ease(0.4*f.clear-0.1, f.clear+0.15, v.Between+0.15*wander+0.25*rich) * num.Ease(-0.1, 0.5, v.Mid)
		if f.from > 0 {
			k *= 1 - num.Ease(f.from, 3*f.from, inward)
		}
		if f.broken > 0 {
			k *= num.Mix(1, 1.2*num.Ease(-0.4, 0.6, float64(num.Tables().Soft.At(f.plot.On(1.7*x, 1.7*y)))), f.broken)
		}
		sum += k
	}
	if f.along > 0 {
		sum += f.along * (1 - num.Ease(0, 0.9, min(v.Between, v.Mid)+0.2*wander))
	}
	if f.edge > 0 {
		sum += f.edge * (1 - num.Ease(0, 1, inward/f.reach+0.35*rich))
	}
	if f.tip > 0 {
		sum += f.tip * num.Ease(1-f.down, 1, t+0.12*wander)
	}
	if f.patch > 0 {
		sum += f.patch * num.Ease(f.bar, f.bar+0.35, f.plot.In(&num.Tables().Rich, x, y))
	}
	return num.Clamp(sum, 0, 1)
}

// fading draws how leaves yellow: one or two ways together.
func fading(d num.Dice) fade {
	f := fade{
		reach: d.Wide(0.8, 7), down: d.Between(0.3, 0.9), bar: d.Between(-0.4, 0.5), uneven: d.Between(0, 0.14),
		plot: num.PlotOf(d, num.PerWave, d.Wide(1.5, 14)), clear: d.Between(0.12, 0.7), broken: d.Some(0.5, 0.2, 1), from: d.Some(0.3, 1.5, 8),
	}
	for range 1 + d.Pick(0.5, 0.35, 0.15) {
		degree := d.Between(0.15, 1)
		switch d.Pick(0.22, 0.34, 0.05, 0.17, 0.1, 0.12) {
		case 0:
			f.whole = degree
		case 1:
			f.between = degree
		case 2:
			f.along = degree
		case 3:
			f.edge = degree
		case 4:
			f.tip = degree
		case 5:
			f.patch = degree
		}
	}
	return f
}

// times returns the fade made stronger or weaker.
func (f fade) times(k float64) fade {
	for _, v := range []*float64{&f.whole, &f.between, &f.along, &f.edge, &f.tip, &f.patch} {
		*v = min(1, *v*k)
	}
	f.uneven *= min(1, 2*k)
	return f
}

// decay is what of a leaf is dead.
type decay struct {
	whole  bool
	tip    float64  // share of the length
	edge   float64  // mm inward
	spots  float64  // share of the spots' cells that have one
	spotty float64  // mm from spot to spot
	plot   num.Plot // of spots
	halo   float64  // degree of yellow round what is dead
	wide   float64  // mm that it reaches
}

func (k *decay) none() bool { return !k.whole && k.tip == 0 && k.edge == 0 && k.spots == 0 }

// at returns the dead share at a spot, how deep in dead tissue it lies (0 on its edge, 1 well within), and the yellow around.
func (k *decay) at(s, long, inward, x, y, wander, rich float64) (dead, deep, yellow float64) {
	const soft = 0.35 // mm from living to dead
	if k.whole {
		return 1, num.Clamp(0.75+0.25*wander, 0, 1), 0
	}
	in := -1e3 // mm within dead tissue
	if k.tip > 0 {
		in = max(in, s-long*(1-k.tip)+1.2*wander+0.5*rich)
	}
	if k.edge > 0 {
		in = max(in, k.edge*(0.35+0.9*wander+0.4*rich)-inward)
	}
	if k.spots > 0 {
		u, v := k.plot.On(x, y)
		if far, _, kind := num.Tables().Cells.At(u, v); kind < k.spots {
			in = max(in, k.spotty*(0.1+0.35*kind/k.spots-far+0.05*wander))
		}
	}
	return num.Clamp(0.5+in/soft, 0, 1), num.Clamp(in, 0, 1), k.halo * num.Ease(-k.wide*(1+0.5*rich), 0, in)
}

// decaying draws what of a leaf dies.
func decaying(d num.Dice) decay {
	k := decay{spotty: d.Wide(1, 8), halo: d.Some(0.75, 0.1, 1), wide: d.Wide(0.8, 9)}
	k.plot = num.PlotOf(d, num.PerCell, k.spotty)
	for range 1 + d.Pick(0.6, 0.4) {
		switch d.Pick(0.5, 0.25, 0.16, 0.09) {
		case 0:
			k.tip = d.Wide(0.03, 0.5)
		case 1:
			k.edge = d.Wide(0.4, 4)
		case 2:
			k.spots = d.Wide(0.03, 0.8)
		case 3:
			k.whole = true
		}
	}
	return k
}

// Ailment is what is amiss in a drawing's plants.
type Ailment struct {
	fades    bool
	fade     fade
	plants   float64 // share of the plants that yellow
	oldFirst float64 // 0: leaves of all ages alike, 1: the oldest alone
	degree   float64 // how far, on the whole
	dies     bool
	decay    decay
	leaves   float64 // share of the leaves that are partly dead
}

// AilmentOf draws what is amiss: in a third of the drawings nothing yellows, in nearly half nothing dies.
func AilmentOf(d num.Dice) Ailment {
	return Ailment{
		fades: d.Chance(0.66), fade: fading(d), plants: min(1, d.Between(0.2, 1.5)), oldFirst: d.Some(0.7, 0.1, 1), degree: d.Between(0.4, 2.1),
		dies: d.Chance(0.56), decay: decaying(d), leaves: d.Wide(0.06, 0.7),
	}
}

// strike draws what is amiss with one leaf: age 0 for the youngest to 1 for the oldest, ill how far its plant has yellowed.
func (a *Ailment) strike(d num.Dice, age, ill float64) (fade, decay) {
	f, k := fade{plot: num.Plot{Cos: 1}}, decay{plot: num.Plot{Cos: 1}}
	if a.fades && ill > 0 {
		old := num.Mix(1, math.Pow(age, 1.4), a.oldFirst)
		f = a.fade
		if d.Chance(0.15) {
			f = fading(d)
		}
		f = f.times(ill * old * d.Between(0.5, 1.3))
	}
	if a.dies && d.Chance(a.leaves*num.Mix(0.4, 1.6, age)) {
		k = a.decay
		if d.Chance(0.3) {
			k = decaying(d)
		}
		k.whole = k.whole && d.Chance(0.6)
		k.tip, k.edge = min(0.9, k.tip*d.Wide(0.5, 2)), k.edge*d.Wide(0.5, 2)
	}
	return f, k
}

// Ill draws how far one plant yellows.
func (a *Ailment) Ill(d num.Dice) float64 {
	if a.fades && d.Chance(a.plants) {
		return a.degree * d.Between(0.35, 1.2)
	}
	return 0
}
