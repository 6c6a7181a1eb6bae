package relief

// horizon is, for each sample of the height map, the height in mm up to which other solids hide the lamp.
type horizon []float32

// horizons returns one horizon for a small lamp, and two for a wide one: to its upper and its lower part.
func (l *lamp) horizons(z []float32) []horizon {
	flat := length(l.x, l.y)
	rise := l.z / max(flat, 0.02)
	if l.soft < 0.08 {
		return []horizon{march(z, l.x, l.y, rise)}
	}
	side := l.soft * 0.5
	return []horizon{
		march(z, l.x-float32(side*l.y), l.y+float32(side*l.x), rise*(1+l.soft)),
		march(z, l.x+float32(side*l.y), l.y-float32(side*l.x), rise/(1+l.soft)),
	}
}

// march goes through the height map row by row (or column by column, whichever is more along the light), away from the lamp. What
// hides the lamp at a sample is what hides it one row nearer to the lamp, or that row itself, less what the light sinks on the way.
func march(z []float32, lx, ly, rise float32) horizon {
	h := make(horizon, across*across)
	m := marcher{along: across, aside: 1}
	if abs(lx) > abs(ly) {
		m.along, m.aside = 1, across
		lx, ly = ly, lx
	}
	if ly < 0 {
		m.back = true
	}
	lean := lx / max(abs(ly), 1e-6)
	m.shift = int(floor(lean))
	m.share = lean - floor(lean)
	m.sink = step * rise * length(1, lean)
	m.over(z, h)
	return h
}

// marcher is a way through the height map.
type marcher struct {
	along, aside int     // from row to row, and from sample to sample in a row
	back         bool    // whether the lamp is at the first row's end
	shift        int     // samples by which the light moves aside from row to row, and the rest of that
	share        float32 //
	sink         float32 // mm by which the light sinks from row to row
}

func (m *marcher) over(z []float32, h horizon) {
	const pad = 2
	var before, now [across + 2*pad]float32 // of the row nearer to the lamp: the higher of horizon and solid
	for i := range before {
		before[i] = -1e3
	}
	for k := range across {
		row := across - 1 - k
		if m.back {
			row = k
		}
		m.row(z[row*m.along:], h[row*m.along:], before[:], now[:])
		before = now
	}
}

// row writes one row's horizon and what it hands on to the next. Both hands have two samples more at either end.
func (m *marcher) row(z, h, before, now []float32) {
	const pad = 2
	from := before[pad+m.shift:]
	for i := range across {
		at := i * m.aside
		low := mix(from[i], from[i+1], m.share) - m.sink
		h[at] = low
		now[pad+i] = max(low, z[at])
	}
	now[0], now[1] = now[pad], now[pad]
	now[across+pad], now[across+pad+1] = now[across+pad-1], now[across+pad-1]
}

// shades says how far samples are from the lamp's shadow.
type shades struct {
	of    []horizon
	fade  float32 // per mm: 1 over the height within which full light turns into full shade
	start float32 // mm of grace, so that a surface does not shade itself
}

func (l *lamp) shades(z []float32) shades {
	return shades{l.horizons(z), 1 / (0.04 + float32(0.25*l.soft)), 0.015}
}

// sun is the share of the lamp that shines on height z of sample i.
func (s *shades) sun(i int, z float32) float32 {
	lit := float32(0)
	for _, h := range s.of {
		lit += 1 - clamp((h[i]-z-s.start)*s.fade, 0, 1)
	}
	return lit / float32(len(s.of))
}
