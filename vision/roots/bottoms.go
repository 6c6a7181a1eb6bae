package roots

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// Bottoms is what the network for roots sees on some of the tray's cells, whatever face of the card is up.
type Bottoms struct {
	Plugs     int     // cells with a plug, or with medium
	RootMM2   float64 // mean over these
	PlugShare float64 // plug over what a plug's bottom usually is: plug tops fill the cell and come out larger
}

// Sample looks at up to most of the cells that are wholly in the photo, spread over the tray.
func Sample(s *scene.Scene, t tray.Layout, g tray.Grid, most int) (b Bottoms, err error) {
	cells := cellsInPhoto(s, t, g)
	looked := min(len(cells), most)
	var work seen
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
		b.PlugShare += c.plug.PlugMM2 / (math.Pi / 4 * raster.Sq(t.PlugMM))
	}
	if b.Plugs > 0 {
		b.RootMM2, b.PlugShare = b.RootMM2/float64(b.Plugs), b.PlugShare/float64(b.Plugs)
	}
	return b, nil
}

// cellsInPhoto returns the cells whose plug is wholly in the photo.
func cellsInPhoto(s *scene.Scene, t tray.Layout, g tray.Grid) (cells []*rootCell) {
	for i := range t.Rows * t.Columns {
		c := &rootCell{s: s, t: t, g: g}
		u, v := t.Centre(i/t.Columns, i%t.Columns)
		c.u, c.v = g.Place(t, u, v)
		if s.Photo.Holds(c.ringPx(func(int) float64 { return t.PlugMM / 2 })) {
			cells = append(cells, c)
		}
	}
	return cells
}
