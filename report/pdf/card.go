package pdf

import (
	"fmt"
	"math"

	"traygauge/measure/plan"
	"traygauge/vision/card"
)

const cardTop = 42.0 // mm from the top of the page

// facePage prints one face of the card with what to do with it.
func (b *book) facePage(face card.Face, number int) {
	b.addPage(false, fmt.Sprintf("Reference card, %s face", face), faceUse(face))
	at := card.Pt{X: (b.width - card.Width) / 2, Y: cardTop}
	b.placed = append(b.placed, Placed{Kind: face.String() + " face", Page: b.pdf.PageNo(), X: at.X, Y: at.Y})
	b.cutMarks(at, card.Width, card.Height, 2, 7)
	b.face(at, face, number)

	y := cardTop + card.Height + 18
	for i, step := range cardSteps {
		b.text(pageMargin, y, 10, true, fmt.Sprintf("%d", i+1))
		y = b.paragraph(pageMargin+7, y, 10, b.width-2*pageMargin-7, step) + 2.2
	}
}

func faceUse(face card.Face) string {
	if face == card.Shoots {
		return "For photos of the leaves from above. Put the card with this face up, its lower long edge flush with the long side of the tray, and its arrow at the A1 corner."
	}
	return "For photos of the plug bottoms. Put the card with this face up, its lower long edge flush with the long side of the turned-over tray, and its arrow at the A1 corner."
}

var cardSteps = []string{
	"Print both faces at 100 % on white matte paper. Shiny paper and lamination cause glare on the markers.",
	"Measure the ticks on the lower edge of the card with a steel rule. If the outer ticks are not 100 mm apart, enter the distance in trial.yaml " +
		"under card: rule_mm. Measure both faces; printers stretch a page by up to a few per cent.",
	"Cut from mark to mark. Keep the white border, because the markers need it.",
	"Glue the faces back to back on a flat stiff board of 150 × 100 mm, both the same way up. The two arrows then point to the same " +
		"corner of the board. Glue all over, so that nothing curls.",
	"Mark A1 on each tray’s rim and underside: the far left corner when a long side faces you. This mark matches the leaves and roots of a plug, so " +
		"it must be the same corner in both photos.",
	"Put the card level with what is measured, and keep leaves off it.",
}

// cutMarks draws short lines outside the corners of what is cut out, so that no ink is left on it: off mm away, long mm long.
func (b *book) cutMarks(at card.Pt, w, h, off, long float64) {
	const thick = 0.1
	for _, x := range []float64{at.X, at.X + w} {
		b.fill(black, upright(x-thick/2, at.Y-off-long, thick, long), upright(x-thick/2, at.Y+h+off, thick, long))
	}
	for _, y := range []float64{at.Y, at.Y + h} {
		b.fill(black, upright(at.X-off-long, y-thick/2, long, thick), upright(at.X+w+off, y-thick/2, long, thick))
	}
}

// face draws a face of the card, its frame's origin at.
func (b *book) face(at card.Pt, face card.Face, number int) {
	ids := face.MarkerIDs()
	for i, r := range card.Markers() {
		b.marker(move(r, at), ids[i])
	}
	for i, p := range card.ToneStrip() {
		if i == 0 {
			b.outline(move(p.Rect, at), 0.1)
			continue
		}
		b.fill(p.SRGB, move(p.Rect, at))
	}
	for _, p := range card.ColourStrip() {
		b.fill(p.SRGB, move(p.Rect, at))
	}
	b.fillPolygon(black, edgeSquare(at))
	arrow := face.DockArrow()
	for i := range arrow {
		arrow[i] = shift(arrow[i], at)
	}
	b.fillPolygon(black, arrow[:])
	b.ruler(at)

	words := shift(card.Words, at)
	b.text(words.X, words.Y+3, 22, true, face.String())
	b.text(words.X, words.Y+10, 10, false, "150 × 100 mm")
	b.text(words.X, words.Y+16, 10, false, fmt.Sprintf("card %d", number))
}

// ruler draws the ticks on the lower edge. They are short, so that the markers above keep a white border of more than a
// module.
func (b *book) ruler(at card.Pt) {
	const thick, long = 0.2, 2.5
	for _, x := range card.RulerTicks() {
		b.fill(black, upright(at.X+x-thick/2, at.Y+card.Height-long, thick, long))
	}
	const words = "100 mm from outer tick to outer tick"
	b.font(6, false)
	b.text(at.X+card.Width/2-b.pdf.GetStringWidth(words)/2, at.Y+card.Height-3.4, 6, false, words)
}

// edgeSquare returns the sharpness square's corners. Clockwise as seen is a positive angle with y down.
func edgeSquare(at card.Pt) []card.Pt {
	sin, cos := math.Sincos(card.EdgeSquareTurned * math.Pi / 180)
	half := card.EdgeSquareSide / 2
	var points []card.Pt
	for _, c := range [4][2]float64{{-half, -half}, {half, -half}, {half, half}, {-half, half}} {
		points = append(points, shift(card.EdgeSquareCentre, card.Pt{X: at.X + c[0]*cos - c[1]*sin, Y: at.Y + c[0]*sin + c[1]*cos}))
	}
	return points
}

// marker draws a black square and its white modules on it. Neighbours in a row are one rectangle and all of them one
// path, so that neither black nor white shows a hairline where modules touch.
func (b *book) marker(r card.Rect, id int) {
	b.fill(black, r)
	b.fill(white, whiteRuns(r, id)...)
}

func whiteRuns(r card.Rect, id int) []card.Rect {
	module := (r.Max.X - r.Min.X) / card.Modules
	var runs []card.Rect
	for row := range card.Modules {
		for col := 0; col < card.Modules; col++ {
			from := col
			for card.White(id, row, col) {
				col++
			}
			if col > from {
				runs = append(runs, card.Rect{
					Min: card.Pt{X: r.Min.X + float64(from)*module, Y: r.Min.Y + float64(row)*module},
					Max: card.Pt{X: r.Min.X + float64(col)*module, Y: r.Min.Y + float64(row+1)*module},
				})
			}
		}
	}
	return runs
}

func move(r card.Rect, by card.Pt) card.Rect {
	return card.Rect{Min: shift(r.Min, by), Max: shift(r.Max, by)}
}

func shift(p, by card.Pt) card.Pt { return card.Pt{X: p.X + by.X, Y: p.Y + by.Y} }

// Tags stand in a grid with gaps for the cut marks.
const (
	tagTop     = 36.0
	tagGap     = 6.0
	tagColumns = 3
	tagRows    = 6
)

// tagPages prints a tag for each tray.
func (b *book) tagPages(trays []plan.Tray) {
	for i, t := range trays {
		k := i % (tagColumns * tagRows)
		if k == 0 {
			b.addPage(false, "Tray tags", "Cut from mark to mark and glue on something stiff. Put each tag beside its tray, level with the card, any way round. "+
				"Keep the white border round the marker.")
		}
		left := (b.width - tagColumns*card.TagWidth - (tagColumns-1)*tagGap) / 2
		b.tag(card.Pt{
			X: left + float64(k%tagColumns)*(card.TagWidth+tagGap),
			Y: tagTop + float64(k/tagColumns)*(card.TagHeight+tagGap),
		}, t.Number)
	}
}

// tag draws the tag of a tray. layOut has made sure that the tray has one.
func (b *book) tag(at card.Pt, tray int) {
	id, err := card.TagID(tray)
	if err != nil {
		b.pdf.SetError(err)
		return
	}
	b.placed = append(b.placed, Placed{Kind: "tag", Tray: tray, Page: b.pdf.PageNo(), X: at.X, Y: at.Y})
	b.cutMarks(at, card.TagWidth, card.TagHeight, 0.5, 2)
	b.marker(move(card.TagMarker, at), id)

	left := card.TagMarker.Max.X + 3.2 // a module of white and a little more
	b.text(at.X+left, at.Y+17.5, b.sizeToFit(trayWords(tray), card.TagWidth-left-1.5, 18), true, trayWords(tray))
	b.text(at.X+left, at.Y+23.5, 6.5, false, "50 × 30 mm")
}

// sizeToFit returns the largest bold type up to most points that writes words within width.
func (b *book) sizeToFit(words string, width, most float64) float64 {
	b.font(most, true)
	return math.Min(most, most*width/b.pdf.GetStringWidth(words))
}
