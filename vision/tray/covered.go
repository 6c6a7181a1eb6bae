package tray

import (
	"cmp"
	"math"
	"slices"

	"traygauge/vision/card"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// coverStepMM is how fine the tray is looked over for things that lie on it.
const coverStepMM = 2.0

// Between the plugs a tray shows its own plastic, or leaves. What is there but is lighter than the plastic by far, or of a colour that
// neither leaves nor medium nor roots have, lies on the tray: a hand, a sheet of paper, a tool. Limits are in CIELAB.
const (
	thingLeastL      = 45.0 // plastic, medium and shade are darker
	thingFromPlastic = 25.0 // least distance from the tray's own colour
	thingOwnChroma   = 20.0 // of a hue that nothing else in the picture has
	thingAlike       = 18.0 // most distance from the thing's mean colour
	thingLeastCells  = 0.6  // cells that a thing covers; plant labels are smaller

	plantLeastChroma, plantLeastHue = 10.0, 75.0  // of leaves, green or yellow, degrees of h_ab
	rootsMostChroma                 = 45.0        // of roots, medium and algae seen from below, tan and brown roots most: a hose or a crate is stronger
	thingHueFrom, thingHueTo        = 190.0, 35.0 // blue, purple and red, which no part of a plant or tray has, up through 360°

	usualQuantile, darkQuantile = 0.5, 0.2 // of the lightness between cells: the tray's plastic, and where half of it is covered
	besideQuantile              = 0.05     // places that far on either side are averaged with it
	middleShare                 = 0.8      // of a cell's middle, a fifth of the pitch on each side, that is covered with a covered cell
)

// coverMap is the tray's light on a grid of coverStepMM. It is read where it is asked for: mostly that is at a few places between the cells alone.
type coverMap struct {
	o     overview
	place func(u, v float64) (float64, float64)
	w, h  int

	mostChroma float64 // of what grows there
}

func newCoverMap(s *scene.Scene, t Layout, g Grid) *coverMap {
	m := &coverMap{o: overviewOf(s, t), place: g.placing(t), w: int(t.LengthMM / coverStepMM), h: int(t.WidthMM / coverStepMM), mostChroma: math.Inf(1)}
	if s.Face == card.Roots {
		m.mostChroma = rootsMostChroma
	}
	return m
}

// light returns a value's light, paper 1; ok is false outside the photo.
func (m *coverMap) light(i int) (c raster.RGB, ok bool) {
	u, v := m.place((float64(i%m.w)+0.5)*coverStepMM, (float64(i/m.w)+0.5)*coverStepMM)
	return m.o.light(u, v)
}

// lab returns the colour of a value.
func (m *coverMap) lab(i int) (c raster.Lab, ok bool) {
	light, ok := m.light(i)
	return raster.LabOf(light), ok
}

// index returns the number of the map's value at a place of the tray; -1 outside tray or photo.
func (m *coverMap) index(u, v float64) int {
	x, y := int(math.Floor(u/coverStepMM)), int(math.Floor(v/coverStepMM))
	if x < 0 || y < 0 || x >= m.w || y >= m.h {
		return -1
	}
	i := y*m.w + x
	if _, ok := m.light(i); !ok {
		return -1
	}
	return i
}

// Covered returns for each cell, in reading order, which share of it something lies over that belongs to neither tray nor plants, 0 to 1. All
// are 0 under coloured light, in which colours mean nothing.
func Covered(s *scene.Scene, t Layout, g Grid) []float64 {
	shares := make([]float64, t.Rows*t.Columns)
	if s.Light.Coloured {
		return shares
	}
	m := newCoverMap(s, t, g)
	between := m.between(t)
	if len(between) == 0 {
		return shares
	}
	usual, dark := m.colourAt(between, usualQuantile), m.colourAt(between, darkQuantile)
	over := m.things(t, between, usual)
	for k := range shares {
		shares[k] = m.share(t, k, t.PitchMM/2, over)
	}
	if m.isThing(usual, dark) { // a light tray, or one of which more than half is covered: then plugs' middles are, too
		over = m.things(t, between, dark)
		for k := range shares {
			if m.share(t, k, t.PitchMM/5, over) > middleShare {
				shares[k] = m.share(t, k, t.PitchMM/2, over)
			}
		}
	}
	return shares
}

// share returns how much of a square about a cell's middle is marked.
func (m *coverMap) share(t Layout, k int, half float64, over []bool) float64 {
	if over == nil {
		return 0
	}
	u, v := t.Centre(k/t.Columns, k%t.Columns)
	n, on := 0, 0
	for dv := -half + coverStepMM/2; dv < half; dv += coverStepMM {
		for du := -half + coverStepMM/2; du < half; du += coverStepMM {
			if at := m.index(u+du, v+dv); at >= 0 {
				n++
				if over[at] {
					on++
				}
			}
		}
	}
	return float64(on) / float64(max(1, n))
}

// between returns the places half-way between four cells, and between two.
func (m *coverMap) between(t Layout) (at []int) {
	add := func(u, v float64) {
		if i := m.index(u, v); i >= 0 {
			at = append(at, i)
		}
	}
	for r := range t.Rows {
		for c := range t.Columns {
			u, v := t.Centre(r, c)
			if r+1 < t.Rows && c+1 < t.Columns {
				add(u+t.PitchMM/2, v+t.PitchMM/2)
			}
			if c+1 < t.Columns {
				add(u+t.PitchMM/2, v)
			}
			if r+1 < t.Rows {
				add(u, v+t.PitchMM/2)
			}
		}
	}
	return at
}

// things marks what is covered, nil for nothing: from each place between cells that shows a thing, all that is joined to it and of its colour.
func (m *coverMap) things(t Layout, between []int, plastic raster.Lab) (over []bool) {
	tried := make([]bool, m.w*m.h)
	least := int(thingLeastCells * t.PitchMM * t.PitchMM / (coverStepMM * coverStepMM))
	for _, from := range between {
		if c, _ := m.lab(from); tried[from] || !m.isThing(c, plastic) {
			continue
		}
		patch := m.grow(from, plastic, tried)
		if len(patch) < least {
			continue
		}
		if over == nil {
			over = make([]bool, m.w*m.h)
		}
		for _, i := range patch {
			over[i] = true
		}
	}
	return over
}

// colourAt is the colour at a quantile of the places' lightness: the mean of the tenth of them about it.
func (m *coverMap) colourAt(places []int, quantile float64) (c raster.Lab) {
	colours := make([]raster.Lab, len(places))
	for k, i := range places {
		colours[k], _ = m.lab(i)
	}
	slices.SortFunc(colours, func(a, b raster.Lab) int { return cmp.Compare(a.L, b.L) })
	n := float64(len(colours))
	few := colours[int(max(0, n*(quantile-besideQuantile))):int(min(n, n*(quantile+besideQuantile)+1))]
	for _, f := range few {
		c.L, c.A, c.B = c.L+f.L, c.A+f.A, c.B+f.B
	}
	of := float64(len(few))
	return raster.Lab{L: c.L / of, A: c.A / of, B: c.B / of}
}

// isThing reports whether a colour is neither the tray's nor a plant's.
func (m *coverMap) isThing(c, plastic raster.Lab) bool {
	if c.Distance(plastic) < thingFromPlastic {
		return false
	}
	hue, chroma := c.HueDeg(), c.Chroma()
	switch {
	case chroma > thingOwnChroma && (hue > thingHueFrom || hue < thingHueTo): // blue, purple, red
		return c.L > thingLeastL/3
	case chroma > m.mostChroma:
		return true
	case chroma > plantLeastChroma && hue > plantLeastHue: // leaf, green or yellow
		return false
	}
	return c.L > thingLeastL
}

// grow returns all places joined to one that are things of about its colour.
func (m *coverMap) grow(from int, plastic raster.Lab, tried []bool) (patch []int) {
	own, _ := m.lab(from)
	tried[from] = true
	patch = append(patch, from)
	for k := 0; k < len(patch); k++ {
		i := patch[k]
		for _, next := range [4]int{i - 1, i + 1, i - m.w, i + m.w} {
			if next < 0 || next >= len(tried) || tried[next] || next == i-1 && i%m.w == 0 || next == i+1 && next%m.w == 0 {
				continue
			}
			if c, ok := m.lab(next); ok && m.isThing(c, plastic) && c.Distance(own) < thingAlike {
				tried[next] = true
				patch = append(patch, next)
				n := float64(len(patch))
				own = raster.Lab{L: own.L + (c.L-own.L)/n, A: own.A + (c.A-own.A)/n, B: own.B + (c.B-own.B)/n}
			}
		}
	}
	return patch
}
