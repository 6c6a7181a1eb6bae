package scene

import (
	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// FromAbove is the scene of a photo without a card: seen straight from above at a scale that is made up, its upper left corner at the tray's own, so that
// what lies beside the photo is the card. White is the light that counts as paper's.
func FromAbove(p *photo.Photo, face card.Face, pxPerMM float64, white raster.RGB) *Scene {
	m := raster.Matrix3{pxPerMM, 0, 0, 0, pxPerMM, -card.Height * pxPerMM, 0, 0, 1}
	s := &Scene{Photo: p, Face: face, Plane: Plane{toPx: m, toMM: m.Inverse()}, scale: 1}
	s.Light = Light{White: white, Level: float64(white[1]), ToPaper: raster.RGB{1 / white[0], 1 / white[1], 1 / white[2]}}
	s.tone.byPaperAlone(white)
	return s
}
