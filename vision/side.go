package vision

import "math"

// A leaf's hue and chroma in CIELAB, wide enough for yellowed ones; algae and moss fall in, too.
const (
	leafHueFrom, leafHueTo = 95.0, 170.0
	leafLeastChroma        = 20.0
)

// GreenShare returns the share of the tray that is as green as leaves are, 0 to 1: a quick look that tells where a closer one is worth it. Under
// coloured light it is 1, as hue means nothing there.
func (s *Scene) GreenShare(t Tray, g Grid) float64 {
	if s.Light.Coloured {
		return 1
	}
	o := s.overview(t)
	n, green := 0, 0
	for v := 0.5; v < t.WidthMM; v++ {
		for u := 0.5; u < t.LengthMM; u++ {
			gu, gv := g.place(t, u, v)
			c, ok := o.light(s.Plane.ToPx(s.TrayPoint(gu, gv)))
			if !ok {
				continue
			}
			n++
			c = c.scaled(s.Light.ToPaper)
			if c[1] < c[2] || c[1] < 0.8*c[0] { // quick: blue or red is ahead
				continue
			}
			if lab := LabOf(c); lab.Chroma() > leafLeastChroma && lab.HueDeg() > leafHueFrom && lab.HueDeg() < leafHueTo {
				green++
			}
		}
	}
	return float64(green) / float64(max(1, n))
}

// Plants returns on how many of the tray's plugs the network for leaves sees a plant, and the mm² of these plants, whatever face of the card is up.
func (s *Scene) Plants(t Tray, g Grid) (n int, mm2 float64, err error) {
	t.Grid = &g
	c, _, err := s.Leaves(t, LeafOptions{ChlorosisHueDeg: 105, ChlorosisChroma: 15})
	if err != nil {
		return 0, 0, err
	}
	for _, p := range c.Plants {
		if !p.Empty && !p.Covered {
			n, mm2 = n+1, mm2+p.LeafMM2
		}
	}
	return n, mm2, nil
}

// Bottoms is what the network for roots sees on some of the tray's cells, whatever face of the card is up.
type Bottoms struct {
	Plugs     int     // cells with a plug, or with medium
	RootMM2   float64 // mean over these
	PlugShare float64 // plug over what a plug's bottom usually is: plug tops fill the cell and come out larger
}

// Bottoms looks at up to most of the cells that are wholly in the photo, spread over the tray.
func (s *Scene) Bottoms(t Tray, g Grid, most int) (b Bottoms, err error) {
	cells := s.cellsInPhoto(t, g)
	looked := min(len(cells), most)
	var work scratch
	for k := range looked {
		c := cells[(2*k+1)*len(cells)/(2*looked)]
		if err := c.look(&work); err != nil {
			return b, err
		}
		if c.plug.Empty {
			continue
		}
		b.Plugs++
		b.RootMM2 += c.plug.RootMM2
		b.PlugShare += c.plug.PlugMM2 / (math.Pi / 4 * sq(t.PlugMM))
	}
	if b.Plugs > 0 {
		b.RootMM2, b.PlugShare = b.RootMM2/float64(b.Plugs), b.PlugShare/float64(b.Plugs)
	}
	return b, nil
}

// cellsInPhoto returns the cells whose plug is wholly in the photo.
func (s *Scene) cellsInPhoto(t Tray, g Grid) (cells []*rootCell) {
	for i := range t.Rows * t.Columns {
		c := &rootCell{s: s, t: t, g: g}
		u, v := t.centre(i/t.Columns, i%t.Columns)
		c.u, c.v = g.place(t, u, v)
		if s.wholeInPhoto(c.ringPx(func(int) float64 { return t.PlugMM / 2 })) {
			cells = append(cells, c)
		}
	}
	return cells
}
