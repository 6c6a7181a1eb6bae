package lighting

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// horizon is, for each sample of a height map, the height in mm up to which other solids hide the lamp.
type horizon []float32

// march goes through a square height map row by row (or column by column, whichever is more along the light), away from the lamp,
// which is toward (lx, ly) and rises by so many mm from one sample to the next. What hides the lamp at a sample is what hides it one
// row nearer to the lamp, or that row itself, less what the light sinks on the way.
func march(z []float32, across int, lx, ly, rise float32) horizon {
	h := make(horizon, len(z))
	m := marcher{across: across, along: across, aside: 1}
	if num.Abs(lx) > num.Abs(ly) {
		m.along, m.aside = 1, across
		lx, ly = ly, lx
	}
	m.back = ly < 0
	lean := lx / max(num.Abs(ly), 1e-6)
	m.shift = int(num.Floor(lean))
	m.share = lean - num.Floor(lean)
	m.sink = float32(rise * num.Length(1, lean))
	m.over(z, h)
	return h
}

// marcher is a way through the height map.
type marcher struct {
	across       int     // samples along a side
	along, aside int     // from row to row, and from sample to sample in a row
	back         bool    // whether the lamp is at the first row's end
	shift        int     // samples by which the light moves aside from row to row, and the rest of that
	share        float32 //
	sink         float32 // mm by which the light sinks from row to row
}

// rowEnds is how many samples the hidden heights have beyond either end of a row.
const rowEnds = 2

func (m *marcher) over(z []float32, h horizon) {
	n := m.across
	before, now := make([]float32, n+2*rowEnds), make([]float32, n+2*rowEnds) // the higher of horizon and solid, a row before and now
	for i := range before {
		before[i] = -1e3
	}
	for k := range n {
		row := n - 1 - k
		if m.back {
			row = k
		}
		m.row(z[row*m.along:], h[row*m.along:], before[rowEnds+m.shift:], now[rowEnds:])
		now[0], now[1] = now[2], now[2]
		now[n+2], now[n+3] = now[n+1], now[n+1]
		before, now = now, before
	}
}

// row writes one row's horizon and what it hands on to the next.
func (m *marcher) row(z, h, before, now []float32) {
	before, now = before[:m.across+1], now[:m.across]
	left, at := before[0], 0
	for i, right := range before[1:] {
		low := num.Mix(left, right, m.share) - m.sink
		h[at] = low
		now[i] = max(low, z[at])
		left = right
		at += m.aside
	}
}

// Shades says how far samples are from the lamp's shadow.
type Shades struct {
	fine  horizon   // for a lamp with hard shadows: a value for each sample of the relief
	soft  []horizon // for one with soft shadows: a value for each texel
	fade  float32   // per mm: 1 over the height within which full light turns into full shade
	start float32   // mm of grace, so that a surface does not shade itself
}

// Shades casts the shadows of the relief and the roots on it, whose texels' mean heights are given too. A wide lamp casts those of its
// upper and of its lower part; under a dull sky, where the lamp matters little, one does.
func (l *Lamp) Shades(heights func() []float32, means []float32) Shades {
	s := Shades{fade: 1 / (0.04 + float32(0.25*l.soft)), start: 0.015}
	rise := l.z / max(num.Length(l.x, l.y), 0.02)
	if l.soft < 0.08 {
		s.fine = march(heights(), solids.Across, l.x, l.y, rise*solids.Step)
		return s
	}
	rise *= solids.Texel
	if l.direct.G < 0.4 {
		s.soft = []horizon{march(means, solids.Side, l.x, l.y, rise)}
		return s
	}
	wide := l.soft * 0.5
	s.soft = []horizon{
		march(means, solids.Side, l.x-float32(wide*l.y), l.y+float32(wide*l.x), rise*(1+l.soft)),
		march(means, solids.Side, l.x+float32(wide*l.y), l.y-float32(wide*l.x), rise/(1+l.soft)),
	}
	return s
}

// Sun is the share of the lamp that shines on height z of a sample of the relief, in a texel.
func (s *Shades) Sun(sample, texel int, z float32) float32 {
	z += s.start
	if s.fine != nil {
		return 1 - num.Clamp((s.fine[sample]-z)*s.fade, 0, 1)
	}
	shade := float32(0)
	for _, h := range s.soft {
		shade += num.Clamp((h[texel]-z)*s.fade, 0, 1)
	}
	return 1 - shade/float32(len(s.soft))
}
