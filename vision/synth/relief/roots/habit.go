package roots

import "traygauge/vision/synth/relief/num"

// habit is how one kind of root of a drawing grows.
type habit struct {
	gait
	start   start
	thick   float32    // mm, the greatest width of a root of its own
	vary    float32    // doublings by which the widths of roots differ
	taper   float32    // share of its width that it has left at its tip
	long    [2]float32 // mm
	fan     int        // roots that start from one place
	spread  float32    // turns over which a fan opens
	bundle  int        // roots that run side by side
	twigs   twigs      //
	orders  int        // orders of laterals
	blunt   float32    // share cut off or broken
	swollen float32    // share with a swollen tip
	nodules float32    // share with nodules
	knobbly float32    // share by which widths vary along a root
	sunk    float32    // share of a root's height that lies in the medium
	dives   float32    // dives into the medium a mm
}

// twigs is how laterals stand on a root.
type twigs struct {
	every   float32 // mm from one to the next
	regular bool    // whether they stand evenly, on both sides in turn
	angle   float32 // turns from the parent's direction
	ratio   float32 // their width as a share of the parent's
	long    float32 // mm at the base of the parent
	wander  float32 // radians per mm
}

type start int

const (
	anywhere start = iota
	onRim
	inMiddle
	acrossFromRim
)

// newHabit draws a habit for roots of the given greatest and least width in mm.
func newHabit(d num.Dice, thick, thin float32) habit {
	h := habit{thick: thick, vary: d.Between(0.1, 0.6), taper: d.Between(0.3, 1), long: [2]float32{8, 50}, fan: 1, bundle: 1,
		blunt: 0.15 * d.Float32(), knobbly: d.Between(0, 0.12), dives: d.Scaled(0.004, 0.08)}
	h.gait = gait{wander: d.Scaled(0.03, 0.25), memory: d.Scaled(1, 6), rim: d.Between(0.3, 2)}
	h.sunk = d.Between(0, 0.35)
	h.shape(d)
	stiff := min(1, 0.4/thick) // thick roots bend less
	h.wander *= stiff
	h.curl *= stiff
	h.tremble = d.Scaled(0.02, 0.25) * stiff
	if d.Chance(0.75) {
		h.branch(d, thin)
	}
	if d.Chance(0.15) {
		h.wave, h.waves = d.Scaled(0.1, 0.8), d.Scaled(0.15, 1)
	}
	if d.Chance(0.1) {
		h.swollen = d.Float32()
	}
	if d.Chance(0.04) {
		h.nodules = d.Between(0.1, 0.8)
	}
	h.loose = d.Chance(0.08)
	return h
}

// shape draws what is most striking about a habit.
func (h *habit) shape(d num.Dice) {
	switch d.Pick(0.3, 0.26, 0.08, 0.08, 0.08, 0.07, 0.07, 0.06) {
	case 0: // wandering
	case 1: // circling the rim
		h.start, h.hug, h.rim, h.long = onRim, d.Between(0.2, 0.8), d.Between(0.3, 5), [2]float32{20, 110}
		h.wander *= 0.6
	case 2: // radiating
		h.start, h.long = inMiddle, [2]float32{6, 30}
	case 3: // straight across
		h.start, h.wander, h.long = acrossFromRim, d.Scaled(0.004, 0.05), [2]float32{10, 40}
	case 4: // curled
		h.wander, h.memory, h.curl = d.Between(0.2, 0.6), d.Scaled(2, 8), 0.2*d.Bell()
	case 5: // fans
		h.start, h.fan, h.spread, h.long = anywhere, d.Count(4, 14), d.Between(0.05, 0.35), [2]float32{4, 18}
	case 6: // bundles
		h.bundle, h.long = d.Count(2, 6), [2]float32{15, 70}
		h.start = start(d.IntN(2))
	case 7: // down from the rim to the middle
		h.start = acrossFromRim
	}
}

// branch draws how laterals stand.
func (h *habit) branch(d num.Dice, thin float32) {
	h.orders = 1 + d.Pick(0.5, 0.35, 0.15)
	h.twigs = twigs{every: d.Scaled(0.6, 7), angle: d.Between(0.1, 0.25), ratio: num.Clamp(d.Between(0.7, 1.2)*thin/h.thick, 0.1, 0.85),
		long: d.Scaled(2.5, 25), wander: d.Scaled(0.05, 0.5)}
	if d.Chance(0.25) { // herring-bone
		h.twigs.regular, h.twigs.angle, h.twigs.wander = true, d.Between(0.15, 0.25), d.Scaled(0.02, 0.15)
		h.twigs.every = d.Scaled(0.6, 3)
	}
}

// Stand is how many roots a drawing has, as limits that growing keeps.
type Stand struct {
	long  float32 // mm in all
	cover float32 // mm² of roots, one over the other, a mm² of plug
}

// NewStand draws the limits for so many mm² of plugs: from bare to a mat.
func NewStand(d num.Dice, area float32) Stand {
	scale := area / 908 // mm² of a plug 34 mm wide
	switch d.Pick(0.08, 0.18, 0.34, 0.22, 0.18) {
	case 1: // few
		return Stand{scale * d.Scaled(15, 300), 0.25}
	case 2: // ordinary
		return Stand{scale * d.Between(300, 1400), d.Between(0.2, 0.7)}
	case 3: // dense
		return Stand{scale * d.Between(1400, 4500), d.Between(0.5, 1.2)}
	case 4: // mat
		return Stand{scale * 9000, d.Between(1.2, 2.3)}
	}
	return Stand{}
}
