package relief

// horizon is, for each sample of the height map, the height in mm up to which other solids hide the lamp.
type horizon []float32

// horizons returns two horizons for a wide lamp, to its upper and its lower part, and one for a small lamp or a dull sky, where the
// lamp matters little.
func (l *lamp) horizons(z []float32) []horizon {
	flat := length(l.x, l.y)
	rise := l.z / max(flat, 0.02)
	if l.soft < 0.08 || l.direct.g < 0.4 {
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

// rowEnds is how many samples the hidden heights have beyond either end of a row.
const rowEnds = 2

func (m *marcher) over(z []float32, h horizon) {
	var one, other [across + 2*rowEnds]float32
	before, now := &one, &other // of the row nearer to the lamp and of this one: the higher of horizon and solid
	for i := range before {
		before[i] = -1e3
	}
	for k := range across {
		row := across - 1 - k
		if m.back {
			row = k
		}
		m.row(z[row*m.along:], h[row*m.along:], before[rowEnds+m.shift:], now[rowEnds:])
		now[0], now[1] = now[2], now[2]
		now[across+2], now[across+3] = now[across+1], now[across+1]
		before, now = now, before
	}
}

// row writes one row's horizon and what it hands on to the next.
func (m *marcher) row(z, h, before, now []float32) {
	before, now = before[:across+1], now[:across]
	left, at := before[0], 0
	for i, right := range before[1:] {
		low := mix(left, right, m.share) - m.sink
		h[at] = low
		now[i] = max(low, z[at])
		left = right
		at += m.aside
	}
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
