package skin

import "traygauge/vision/synth/foliage/num"

// Health is what ails the plants of a drawing.
type Health struct {
	full, bleached num.Lab
	yellow         yellowing // degrees where a plant suffers fully
	oldFirst       float64   // 1: old leaves yellow first; 0 all alike
	hit            float64   // share of plants that suffer
	much           float64   // how badly, as a degree
	faint          float64   // degree of paleness of all plants

	dying   death
	dies    float64 // share of leaves with dead tissue
	deadOld float64 // share of oldest leaves that are dead all through
}

// DrawHealth draws what ails the plants of a drawing: in a third of them nothing yellows, in nearly half nothing dies.
func DrawHealth(d num.Dice) Health {
	var h Health
	h.full = num.Lch(d.Between(54, 82), d.Between(30, 72), d.Between(80, 104))
	h.bleached = num.Lch(d.Between(80, 90), d.Between(10, 30), d.Between(88, 102))
	h.dying.colour, h.dying.second = DrawDead(d), DrawDead(d)
	h.yellow.reach, h.yellow.share = d.Scaled(0.25, 2.2), d.Between(0.2, 0.7)
	if d.Chance(0.66) {
		h.drawYellow(d)
	}
	if d.Chance(0.56) {
		h.drawDeath(d)
	}
	return h
}

func (h *Health) drawYellow(d num.Dice) {
	h.hit, h.much, h.oldFirst = d.Between(0.2, 1), d.Between(0.2, 2), d.Between(0.3, 1)
	if d.Chance(0.25) {
		h.oldFirst = 0
	}
	y := &h.yellow
	if d.Chance(0.6) {
		y.broken = d.Between(0.2, 1)
	}
	if d.Chance(0.5) {
		y.outward = d.Between(0.2, 1)
	}
	for range d.Whole(1, 3) {
		k := d.Between(0.4, 1)
		switch d.Pick(0.2, 0.3, 0.16, 0.1, 0.05, 0.09, 0.07, 0.03) {
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
	if d.Chance(0.2) {
		h.faint = d.Between(0.1, 0.6)
	}
}

func (h *Health) drawDeath(d num.Dice) {
	h.dies, h.dying.fray = d.Between(0.1, 0.8), d.Between(0, 1.2)
	h.dying.halo, h.dying.wide = d.Between(0, 1.3), d.Scaled(0.6, 9)
	for range d.Whole(1, 2) {
		switch d.Pick(0.5, 0.24, 0.16, 0.1) {
		case 0:
			h.dying.tip = d.Scaled(0.03, 0.5)
		case 1:
			h.dying.edge = d.Scaled(0.04, 0.35)
		case 2:
			h.dying.spots, h.dying.size = d.Between(0.15, 0.75), d.Scaled(0.8, 5)
		}
	}
	if d.Chance(0.4) {
		h.deadOld = d.Between(0.1, 0.7)
	}
}

// DrawDead draws a colour of dead tissue: straw, tan, brown or black.
func DrawDead(d num.Dice) num.Lab {
	switch d.Pick(0.3, 0.3, 0.28, 0.12) {
	case 0:
		return num.Lch(d.Between(62, 84), d.Between(12, 30), d.Between(74, 90))
	case 1:
		return num.Lch(d.Between(42, 62), d.Between(16, 38), d.Between(58, 80))
	case 2:
		return num.Lch(d.Between(22, 46), d.Between(10, 36), d.Between(45, 72))
	}
	return num.Lch(d.Between(9, 22), d.Between(2, 9), d.Between(40, 80))
}

// ail gives a leaf of a plant its yellowing and its dead tissue. Suffers is how badly the plant does, 0 to 1; age is 0 for the
// youngest leaf to 1 for the oldest.
func (h *Health) ail(d num.Dice, s *skin, suffers, age float64) {
	s.sick = yellowing{full: h.full.Shifted(3*d.Bell(), 2*d.Bell()), bleached: h.bleached, reach: h.yellow.reach,
		share: h.yellow.share, broken: h.yellow.broken, outward: h.yellow.outward}
	much := suffers * h.much * num.Mixed(1, num.Ramp(0.15, 1, age), h.oldFirst) * d.Between(0.6, 1.2)
	y, n := &s.sick, h.yellow
	y.whole = n.whole*much + h.faint*d.Between(0.8, 1.2)
	y.between, y.edge, y.tip, y.foot = n.between*much, n.edge*much, n.tip*much, n.foot*much
	y.patch, y.mottle, y.along = n.patch*much, n.mottle*much, n.along*much
	s.dying = death{colour: h.dying.colour, second: h.dying.second}
	if h.dies > 0 && d.Chance(h.dies*num.Mixed(0.35, 1, age)) {
		k := d.Between(0.3, 1.3) * num.Mixed(0.6, 1, age)
		n := h.dying
		n.tip, n.edge, n.spots = n.tip*k, n.edge*k, n.spots*k
		s.dying = n
	}
	s.dying.whole = h.deadOld > 0 && age > 0.75 && d.Chance(h.deadOld)
}
