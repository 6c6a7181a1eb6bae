package roots

import "traygauge/vision/synth/brush/num"

// habit is how the roots of a plug grow. Curvatures and turns are in radians per mm, lengths in mm.
type habit struct {
	from     origin
	length   [2]float64 // main roots, shortest and longest
	width    [2]float64 // main roots
	lasting  float64    // length over which a bend lasts
	wander   float64    // deviation of the curvature
	wiggle   float64    // deviation of the curvature of the small bends that crumbs in the way give
	bias     float64    // curvature that is always there, to either side
	rim      float64    // turn that keeps roots along the rim
	rimReach float64    // how far from the rim that is felt
	overRim  bool       // whether roots grow on over the rim
	pull     float64    // turn toward way
	way      num.Vec
	outward  float64 // turn away from the middle
	shun     float64 // turn away from other roots
	follow   float64 // turn along other roots
	strand   int     // roots side by side in a bundle

	orders   int        // orders of laterals
	perMM    float64    // laterals per mm of the parent
	regular  bool       // evenly spaced to alternating sides
	angle    float64    // from the parent's direction, radians
	lateral  [2]float64 // length of first-order laterals; the next order's are shorter
	thinner  float64    // ratio of a lateral's width to its parent's
	thinnest float64    // width below which no lateral goes
}

// origin is where main roots come from.
type origin int

const (
	anywhere origin = iota // out of the medium
	rimside                // along the rim
	centre                 // from around the middle
	onePoint               // from one place
)

// newHabit draws a way of growing.
func newHabit(d num.Dice, ordinary bool) *habit {
	kind := num.Of(d, []num.Weighted[func(num.Dice) *habit]{
		{Weight: 4, Thing: wandering}, {Weight: 3.5, Thing: circling}, {Weight: 1, Thing: radiating}, {Weight: 0.5,
			Thing: straightish}, {Weight: 1, Thing: curled}, {Weight: 3, Thing: fibrous}, {Weight: 0.8, Thing: thickset},
		{Weight: 0.8, Thing: herringbone}, {Weight: 0.6, Thing: fan}, {Weight: 1, Thing: bundled},
	})
	h := kind(d)
	h.common(d, ordinary)
	return h
}

// common draws what all habits share.
func (h *habit) common(d num.Dice, ordinary bool) {
	if h.width[0] == 0 {
		w := d.Ratio(0.22, 1.1)
		if ordinary {
			w = d.Ratio(0.25, 0.8)
		}
		h.width = [2]float64{float64(w * d.Between(0.5, 1)), float64(w * d.Between(1, 1.5))}
	}
	h.thinnest = d.Ratio(0.07, 0.28)
	h.wiggle = d.Ratio(0.03, 0.9)
	if h.strand > 0 {
		h.wiggle *= 0.4
	}
	h.shun += d.Between(0, 0.25)
	if h.lasting == 0 {
		h.lasting = d.Ratio(0.8, 8)
	}
	h.overRim = h.overRim || d.Chance(0.25)
	if h.rim == 0 && d.Chance(0.6) {
		h.rim, h.rimReach = d.Between(0.2, 1.5), d.Between(0.6, 4)
	}
	if d.Chance(0.3) {
		h.pull, h.way = d.Between(0.01, 0.12), d.Direction()
	}
}

func wandering(d num.Dice) *habit {
	return &habit{from: origin(d.IntN(2)), length: [2]float64{8, d.Ratio(20, 120)},
		wander: d.Ratio(0.05, 0.4),
		orders: d.IntN(3), perMM: d.Ratio(0.04, 0.3), angle: d.Between(0.6, 1.4), lateral: [2]float64{1.5, d.Ratio(4, 30)},
		thinner: d.Between(0.3, 0.75)}
}

func circling(d num.Dice) *habit {
	return &habit{from: rimside, length: [2]float64{15, d.Ratio(30, 160)}, wander: d.Ratio(0.02, 0.2), rim: d.Between(0.6, 3),
		rimReach: d.Ratio(1, 7), orders: d.IntN(3), perMM: d.Ratio(0.03, 0.25), angle: d.Between(0.5, 1.3),
		lateral: [2]float64{1.5, d.Ratio(4, 30)}, thinner: d.Between(0.3, 0.7), follow: d.Between(0, 0.3)}
}

func radiating(d num.Dice) *habit {
	return &habit{from: centre, length: [2]float64{8, d.Ratio(16, 60)}, wander: d.Ratio(0.03, 0.25), outward: d.Between(0.02, 0.4),
		orders: d.IntN(3), perMM: d.Ratio(0.05, 0.4), angle: d.Between(0.6, 1.2), lateral: [2]float64{1.5, d.Ratio(4, 20)},
		thinner: d.Between(0.3, 0.7)}
}

func straightish(d num.Dice) *habit {
	return &habit{from: origin(d.IntN(3)), length: [2]float64{8, d.Ratio(15, 45)},
		wander: d.Ratio(0.006, 0.05), lasting: d.Between(5, 20),
		overRim: d.Chance(0.6), orders: d.IntN(2), perMM: d.Ratio(0.03, 0.3), angle: d.Between(0.6, 1.5),
		lateral: [2]float64{1, d.Ratio(3, 15)}, thinner: d.Between(0.4, 1)}
}

func curled(d num.Dice) *habit {
	return &habit{from: origin(d.IntN(2)), length: [2]float64{6, d.Ratio(15, 70)},
		wander: d.Ratio(0.1, 0.5), bias: d.Ratio(0.08, 0.7),
		orders: d.IntN(2), perMM: d.Ratio(0.03, 0.2), angle: d.Between(0.6, 1.4), lateral: [2]float64{1, d.Ratio(2, 10)},
		thinner: d.Between(0.4, 0.9)}
}

func fibrous(d num.Dice) *habit {
	w := d.Ratio(0.12, 0.45)
	return &habit{from: origin(d.IntN(4)), length: [2]float64{8, d.Ratio(15, 60)}, width: [2]float64{0.6 * w, w},
		wander: d.Ratio(0.06, 0.4),
		orders: d.Whole(1, 3), perMM: d.Ratio(0.2, 1), angle: d.Between(0.6, 1.4), lateral: [2]float64{1.5, d.Ratio(4, 25)},
		thinner: d.Between(0.35, 0.75)}
}

func thickset(d num.Dice) *habit {
	w := d.Ratio(0.7, 2.2)
	return &habit{from: origin(d.IntN(3)), length: [2]float64{5, d.Ratio(12, 60)}, width: [2]float64{0.6 * w, w},
		wander:  d.Ratio(0.04, 0.25),
		lasting: d.Between(3, 10), orders: d.IntN(2), perMM: d.Ratio(0.02, 0.15), angle: d.Between(0.7, 1.4),
		lateral: [2]float64{1, d.Ratio(3, 15)}, thinner: d.Between(0.15, 0.5)}
}

func herringbone(d num.Dice) *habit {
	return &habit{from: origin(d.IntN(3)), length: [2]float64{10, d.Ratio(18, 70)},
		wander: d.Ratio(0.04, 0.25), lasting: d.Between(2, 8),
		orders: d.Whole(1, 2), perMM: d.Ratio(0.2, 1), regular: true, angle: d.Between(0.7, 1.4), lateral: [2]float64{2, d.Ratio(3, 16)},
		thinner: d.Between(0.18, 0.5)}
}

func fan(d num.Dice) *habit {
	w := d.Ratio(0.08, 0.4)
	return &habit{from: onePoint, length: [2]float64{8, d.Ratio(14, 40)}, width: [2]float64{0.6 * w, w}, wander: d.Ratio(0.05, 0.3),
		orders: d.IntN(2), perMM: d.Ratio(0.1, 0.4), angle: d.Between(0.4, 1), lateral: [2]float64{2, d.Ratio(4, 14)},
		thinner: d.Between(0.4, 0.9)}
}

func bundled(d num.Dice) *habit {
	w := d.Ratio(0.12, 0.6)
	return &habit{from: origin(d.IntN(2)), length: [2]float64{12, d.Ratio(25, 90)}, width: [2]float64{0.7 * w, w},
		wander: d.Ratio(0.03, 0.2),
		strand: d.Whole(3, 12), follow: d.Between(0.1, 0.6), orders: d.IntN(2), perMM: d.Ratio(0.03, 0.2), angle: d.Between(0.5, 1.2),
		lateral: [2]float64{1, d.Ratio(2, 10)}, thinner: d.Between(0.4, 0.8)}
}
