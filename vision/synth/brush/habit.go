package brush

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
	way      vec
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
func newHabit(d dice, ordinary bool) *habit {
	kind := of(d, []weighted[func(dice) *habit]{
		{4, wandering}, {3.5, circling}, {1, radiating}, {0.5, straightish}, {1, curled}, {3, fibrous}, {0.8, thickset},
		{0.8, herringbone}, {0.6, fan}, {1, bundled},
	})
	h := kind(d)
	h.common(d, ordinary)
	return h
}

// common draws what all habits share.
func (h *habit) common(d dice, ordinary bool) {
	if h.width[0] == 0 {
		w := d.ratio(0.22, 1.1)
		if ordinary {
			w = d.ratio(0.25, 0.8)
		}
		h.width = [2]float64{float64(w * d.between(0.5, 1)), float64(w * d.between(1, 1.5))}
	}
	h.thinnest = d.ratio(0.07, 0.28)
	h.wiggle = d.ratio(0.03, 0.9)
	if h.strand > 0 {
		h.wiggle *= 0.4
	}
	h.shun += d.between(0, 0.25)
	if h.lasting == 0 {
		h.lasting = d.ratio(0.8, 8)
	}
	h.overRim = h.overRim || d.chance(0.25)
	if h.rim == 0 && d.chance(0.6) {
		h.rim, h.rimReach = d.between(0.2, 1.5), d.between(0.6, 4)
	}
	if d.chance(0.3) {
		h.pull, h.way = d.between(0.01, 0.12), d.direction()
	}
}

func wandering(d dice) *habit {
	return &habit{from: origin(d.IntN(2)), length: [2]float64{8, d.ratio(20, 120)},
		wander: d.ratio(0.05, 0.4),
		orders: d.IntN(3), perMM: d.ratio(0.04, 0.3), angle: d.between(0.6, 1.4), lateral: [2]float64{1.5, d.ratio(4, 30)},
		thinner: d.between(0.3, 0.75)}
}

func circling(d dice) *habit {
	return &habit{from: rimside, length: [2]float64{15, d.ratio(30, 160)}, wander: d.ratio(0.02, 0.2), rim: d.between(0.6, 3),
		rimReach: d.ratio(1, 7), orders: d.IntN(3), perMM: d.ratio(0.03, 0.25), angle: d.between(0.5, 1.3),
		lateral: [2]float64{1.5, d.ratio(4, 30)}, thinner: d.between(0.3, 0.7), follow: d.between(0, 0.3)}
}

func radiating(d dice) *habit {
	return &habit{from: centre, length: [2]float64{8, d.ratio(16, 60)}, wander: d.ratio(0.03, 0.25), outward: d.between(0.02, 0.4),
		orders: d.IntN(3), perMM: d.ratio(0.05, 0.4), angle: d.between(0.6, 1.2), lateral: [2]float64{1.5, d.ratio(4, 20)},
		thinner: d.between(0.3, 0.7)}
}

func straightish(d dice) *habit {
	return &habit{from: origin(d.IntN(3)), length: [2]float64{8, d.ratio(15, 45)},
		wander: d.ratio(0.006, 0.05), lasting: d.between(5, 20),
		overRim: d.chance(0.6), orders: d.IntN(2), perMM: d.ratio(0.03, 0.3), angle: d.between(0.6, 1.5),
		lateral: [2]float64{1, d.ratio(3, 15)}, thinner: d.between(0.4, 1)}
}

func curled(d dice) *habit {
	return &habit{from: origin(d.IntN(2)), length: [2]float64{6, d.ratio(15, 70)},
		wander: d.ratio(0.1, 0.5), bias: d.ratio(0.08, 0.7),
		orders: d.IntN(2), perMM: d.ratio(0.03, 0.2), angle: d.between(0.6, 1.4), lateral: [2]float64{1, d.ratio(2, 10)},
		thinner: d.between(0.4, 0.9)}
}

func fibrous(d dice) *habit {
	w := d.ratio(0.12, 0.45)
	return &habit{from: origin(d.IntN(4)), length: [2]float64{8, d.ratio(15, 60)}, width: [2]float64{0.6 * w, w},
		wander: d.ratio(0.06, 0.4),
		orders: d.whole(1, 3), perMM: d.ratio(0.2, 1), angle: d.between(0.6, 1.4), lateral: [2]float64{1.5, d.ratio(4, 25)},
		thinner: d.between(0.35, 0.75)}
}

func thickset(d dice) *habit {
	w := d.ratio(0.7, 2.2)
	return &habit{from: origin(d.IntN(3)), length: [2]float64{5, d.ratio(12, 60)}, width: [2]float64{0.6 * w, w},
		wander:  d.ratio(0.04, 0.25),
		lasting: d.between(3, 10), orders: d.IntN(2), perMM: d.ratio(0.02, 0.15), angle: d.between(0.7, 1.4),
		lateral: [2]float64{1, d.ratio(3, 15)}, thinner: d.between(0.15, 0.5)}
}

func herringbone(d dice) *habit {
	return &habit{from: origin(d.IntN(3)), length: [2]float64{10, d.ratio(18, 70)},
		wander: d.ratio(0.04, 0.25), lasting: d.between(2, 8),
		orders: d.whole(1, 2), perMM: d.ratio(0.2, 1), regular: true, angle: d.between(0.7, 1.4), lateral: [2]float64{2, d.ratio(3, 16)},
		thinner: d.between(0.18, 0.5)}
}

func fan(d dice) *habit {
	w := d.ratio(0.08, 0.4)
	return &habit{from: onePoint, length: [2]float64{8, d.ratio(14, 40)}, width: [2]float64{0.6 * w, w}, wander: d.ratio(0.05, 0.3),
		orders: d.IntN(2), perMM: d.ratio(0.1, 0.4), angle: d.between(0.4, 1), lateral: [2]float64{2, d.ratio(4, 14)},
		thinner: d.between(0.4, 0.9)}
}

func bundled(d dice) *habit {
	w := d.ratio(0.12, 0.6)
	return &habit{from: origin(d.IntN(2)), length: [2]float64{12, d.ratio(25, 90)}, width: [2]float64{0.7 * w, w},
		wander: d.ratio(0.03, 0.2),
		strand: d.whole(3, 12), follow: d.between(0.1, 0.6), orders: d.IntN(2), perMM: d.ratio(0.03, 0.2), angle: d.between(0.5, 1.2),
		lateral: [2]float64{1, d.ratio(2, 10)}, thinner: d.between(0.4, 0.8)}
}
