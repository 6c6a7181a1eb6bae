package synth

import "traygauge/vision/card"

// Thing lies over the tray: a hand, a sheet of paper, a tool.
type Thing struct {
	Loop []card.Pt // its outline in the tray frame, mm
	SRGB [3]uint8  // its colour
}

// layThings lays the things over all that grows, each with a soft shadow on its lower right.
func layThings(s Spec, p *picture, v *view) {
	flat := onPlane(p, v)
	for _, t := range s.Things {
		var loop, under []card.Pt
		for _, q := range t.Loop {
			at := s.Face.FromTray(q.X, q.Y)
			loop, under = append(loop, at), append(under, cardPt(at.X+2, at.Y+2.5))
		}
		flat.cover(outline{under}, func(c rgb) rgb { return c.times(0.6) })
		flat.ink(outline{loop}, printed(t.SRGB))
	}
}
