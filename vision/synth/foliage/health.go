package foliage

// health is what ails the plants of a drawing.
type health struct {
	full, bleached lab
	yellow         yellowing // degrees where a plant suffers fully
	oldFirst       float64   // 1: old leaves yellow first; 0 all alike
	hit            float64   // share of plants that suffer
	much           float64   // how badly, as a degree
	faint          float64   // degree of paleness of all plants

	dying   death
	dies    float64 // share of leaves with dead tissue
	deadOld float64 // share of oldest leaves that are dead all through
}

func drawHealth(d dice) health {
	var h health
	h.full = lch(d.between(54, 82), d.between(30, 72), d.between(80, 104))
	h.bleached = lch(d.between(80, 90), d.between(10, 30), d.between(88, 102))
	h.dying.colour, h.dying.second = drawDead(d), drawDead(d)
	h.yellow.reach, h.yellow.share = d.scaled(0.25, 2.2), d.between(0.2, 0.7)
	if d.chance(0.66) {
		h.drawYellow(d)
	}
	if d.chance(0.48) {
		h.drawDeath(d)
	}
	return h
}

func (h *health) drawYellow(d dice) {
	h.hit, h.much, h.oldFirst = d.between(0.2, 1), d.between(0.2, 2), d.between(0.3, 1)
	if d.chance(0.25) {
		h.oldFirst = 0
	}
	y := &h.yellow
	if d.chance(0.6) {
		y.broken = d.between(0.2, 1)
	}
	if d.chance(0.5) {
		y.outward = d.between(0.2, 1)
	}
	for range d.whole(1, 3) {
		k := d.between(0.4, 1)
		switch d.pick(0.2, 0.3, 0.16, 0.1, 0.05, 0.09, 0.07, 0.03) {
		case 0:
			y.whole = k
		case 1:
			y.between = 1.4 * k
		case 2:
			y.edge = 1.2 * k
		case 3:
			y.tip = 1.2 * k
		case 4:
			y.foot = k
		case 5:
			y.patch = k
		case 6:
			y.mottle = k
		default:
			y.along = k
		}
	}
	if d.chance(0.2) {
		h.faint = d.between(0.1, 0.6)
	}
}

func (h *health) drawDeath(d dice) {
	h.dies, h.dying.fray = d.between(0.1, 0.8), d.between(0, 1.2)
	h.dying.halo, h.dying.wide = d.between(0, 1.3), d.scaled(0.6, 9)
	for range d.whole(1, 2) {
		switch d.pick(0.38, 0.28, 0.22, 0.12) {
		case 0:
			h.dying.tip = d.scaled(0.03, 0.5)
		case 1:
			h.dying.edge = d.scaled(0.04, 0.35)
		case 2:
			h.dying.spots, h.dying.size = d.between(0.15, 0.75), d.scaled(0.8, 5)
		}
	}
	if d.chance(0.4) {
		h.deadOld = d.between(0.1, 0.7)
	}
}

// drawDead draws a colour of dead tissue: straw, tan, brown or black.
func drawDead(d dice) lab {
	switch d.pick(0.3, 0.3, 0.28, 0.12) {
	case 0:
		return lch(d.between(62, 84), d.between(12, 30), d.between(74, 90))
	case 1:
		return lch(d.between(42, 62), d.between(16, 38), d.between(58, 80))
	case 2:
		return lch(d.between(22, 46), d.between(10, 36), d.between(45, 72))
	}
	return lch(d.between(9, 22), d.between(2, 9), d.between(40, 80))
}

// ail gives a leaf of a plant its yellowing and its dead tissue. Suffers is how badly the plant does, 0 to 1; age is 0 for the
// youngest leaf to 1 for the oldest.
func (h *health) ail(d dice, s *skin, suffers, age float64) {
	s.sick = yellowing{full: h.full.shifted(3*d.bell(), 2*d.bell()), bleached: h.bleached, reach: h.yellow.reach,
		share: h.yellow.share, broken: h.yellow.broken, outward: h.yellow.outward}
	much := suffers * h.much * mixed(1, ramp(0.15, 1, age), h.oldFirst) * d.between(0.6, 1.2)
	y, n := &s.sick, h.yellow
	y.whole = n.whole*much + h.faint*d.between(0.8, 1.2)
	y.between, y.edge, y.tip, y.foot = n.between*much, n.edge*much, n.tip*much, n.foot*much
	y.patch, y.mottle, y.along = n.patch*much, n.mottle*much, n.along*much
	s.dying = death{colour: h.dying.colour, second: h.dying.second}
	if h.dies > 0 && d.chance(h.dies*mixed(0.35, 1, age)) {
		k := d.between(0.3, 1.3) * mixed(0.6, 1, age)
		n := h.dying
		n.tip, n.edge, n.spots = n.tip*k, n.edge*k, n.spots*k
		s.dying = n
	}
	s.dying.whole = h.deadOld > 0 && age > 0.75 && d.chance(h.deadOld)
}
