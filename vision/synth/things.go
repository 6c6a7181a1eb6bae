package synth

import (
	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/canopy"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
	"traygauge/vision/synth/painted/sheet"
)

// Thing lies over the tray: a hand, a sheet of paper, a tool.
type Thing struct {
	Loop []card.Pt // its outline in the tray frame, mm
	SRGB [3]uint8  // its colour
}

// layThings lays the things over all that grows, each with a soft shadow on its lower right.
func layThings(s Spec, p *exposure.Picture, v *camera.View) {
	flat := sheet.OnPlane(p, v)
	for _, t := range s.Things {
		var loop, under []card.Pt
		for _, q := range t.Loop {
			at := s.Face.FromTray(q.X, q.Y)
			loop, under = append(loop, at), append(under, sheet.CardPt(at.X+2, at.Y+2.5))
		}
		flat.Cover(sheet.Outline{under}, func(c num.RGB) num.RGB { return c.Times(0.6) })
		flat.Ink(sheet.Outline{loop}, sheet.Printed(t.SRGB))
	}
}

// stickColours are the reflectances of usual plant labels: white, yellow, red and blue plastic.
var stickColours = []num.RGB{{0.78, 0.78, 0.76}, {0.72, 0.55, 0.07}, {0.42, 0.045, 0.035}, {0.05, 0.13, 0.42}}

// laySticks lays plant labels 12 mm wide across rims and plugs, under the leaves, each with two lines of writing.
func laySticks(s Spec, p *exposure.Picture, v *camera.View) {
	for i := range s.Sticks {
		r := num.Habit(s.Seed, 10, uint64(i))
		at := s.Face.FromTray(s.Tray.centre(r.IntN(s.Tray.Rows), r.IntN(s.Tray.Columns)))
		at.X, at.Y = at.X+num.Between(r, -22, 22), at.Y+num.Between(r, -22, 22)
		long := num.Between(r, 30, 65)
		flat := sheet.Onto(p, v, sheet.Laid(sheet.CardPt(long/2, 6), at, 1, num.Between(r, 0, 360)))
		under := sheet.Rectangle(card.Rect{Min: sheet.CardPt(1, 1), Max: sheet.CardPt(long+1, 13.2)})
		flat.Cover(under, func(c num.RGB) num.RGB { return c.Times(0.6) })
		flat.Ink(sheet.Rectangle(card.Rect{Max: sheet.CardPt(long, 12)}), stickColours[r.IntN(len(stickColours))])
		for row := range 2 {
			y := 4 + 4*float64(row)
			flat.Ink(sheet.Rectangle(card.Rect{Min: sheet.CardPt(4, y-0.4), Max: sheet.CardPt(num.Between(r, 12, long-4), y+0.4)}), num.RGB{0.03, 0.03, 0.04})
		}
	}
}

// neighbourGapMM is what lies between a tray and the next one, on the side away from the card.
const neighbourGapMM = 5

// neighbourLeaves are leaves of the next tray's plants that reach NeighbourMM or so over the tray. They are no plant's of
// this tray and count for none, but hide what is under them.
func neighbourLeaves(s Spec) (leaves []*canopy.Leaf) {
	if s.NeighbourMM <= 0 {
		return nil
	}
	const back = 12 // mm from the tray's edge to the next tray's stems
	for column := range s.Tray.Columns {
		seed := num.Mix(s.Seed ^ num.Mix(0x6e65696768+uint64(column)))
		r := num.Habit(seed, 11)
		u, _ := s.Tray.centre(0, column)
		at := s.Face.FromTray(u+num.Between(r, -15, 15), s.Tray.WidthMM+back)
		plant := canopy.Shoot{Leaves: 4 + r.IntN(3), LengthMM: (s.NeighbourMM + back) / 1.4} // blade and stalk: about 1.4 blades
		leaves = append(leaves, canopy.LeavesOf("", plant, seed, at.X, at.Y)...)
	}
	return leaves
}
