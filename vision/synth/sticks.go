package synth

import "traygauge/vision/card"

// stickColours are the reflectances of usual plant labels: white, yellow, red and blue plastic.
var stickColours = []rgb{{0.78, 0.78, 0.76}, {0.72, 0.55, 0.07}, {0.42, 0.045, 0.035}, {0.05, 0.13, 0.42}}

// laySticks lays plant labels 12 mm wide across rims and plugs, under the leaves, each with two lines of writing.
func laySticks(s Spec, p *picture, v *view) {
	for i := range s.Sticks {
		r := habit(s.Seed, 10, uint64(i))
		at := s.Face.FromTray(s.Tray.centre(r.IntN(s.Tray.Rows), r.IntN(s.Tray.Columns)))
		at.X, at.Y = at.X+between(r, -22, 22), at.Y+between(r, -22, 22)
		long := between(r, 30, 65)
		flat := sheet{p, v, laid(cardPt(long/2, 6), at, 1, between(r, 0, 360))}
		under := rectangle(card.Rect{Min: cardPt(1, 1), Max: cardPt(long+1, 13.2)})
		flat.cover(under, func(c rgb) rgb { return c.times(0.6) })
		flat.ink(rectangle(card.Rect{Max: cardPt(long, 12)}), stickColours[r.IntN(len(stickColours))])
		for row := range 2 {
			y := 4 + 4*float64(row)
			flat.ink(rectangle(card.Rect{Min: cardPt(4, y-0.4), Max: cardPt(between(r, 12, long-4), y+0.4)}), rgb{0.03, 0.03, 0.04})
		}
	}
}
