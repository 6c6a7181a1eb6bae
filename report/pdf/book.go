package pdf

import (
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"traygauge/measure/plan"
	"traygauge/report"
	"traygauge/vision/card"
)

// book is a PDF in the making. All its lengths are mm, y down from the top of the page; type sizes are points.
type book struct {
	pdf    typesetter
	paper  fpdf.SizeType // upright
	width  float64       // of the page in hand
	height float64
	placed []Placed
	trial  string // the title that stands on every page
}

const (
	pageMargin  = 15.0
	lineOfPoint = 1.25 * 25.4 / 72 // distance of lines in mm for type of 1 pt
)

var (
	black = [3]uint8{0, 0, 0}
	white = [3]uint8{255, 255, 255}
	grey  = [3]uint8{110, 110, 110}
	pale  = [3]uint8{236, 236, 236}
)

func newBook(paper fpdf.SizeType, p *plan.Plan) *book {
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: paper})
	pdf.SetCreationDate(report.FileDate(p))
	pdf.SetModificationDate(report.FileDate(p))
	pdf.SetCatalogSort(true)
	pdf.SetTitle(strings.TrimSpace(p.Title+" – sheets to print"), true)
	pdf.SetAuthor("traygauge", true)
	pdf.SetProducer("traygauge", true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	return &book{pdf: typesetter{pdf}, paper: paper, trial: p.Title}
}

// addPage begins a page with a headline, a line of explanation below it, and the check line at its foot.
func (b *book) addPage(landscape bool, headline, below string) {
	b.width, b.height = b.paper.Wd, b.paper.Ht
	orientation := "P"
	if landscape {
		b.width, b.height = b.height, b.width
		orientation = "L"
	}
	b.pdf.AddPageFormat(orientation, b.paper)
	b.text(pageMargin, 17, 15, true, headline)
	b.paragraph(pageMargin, 24, 9, b.width-2*pageMargin, below)
	b.font(15, true)
	b.trialName(b.width - 2*pageMargin - b.pdf.GetStringWidth(headline) - 6)
	b.checkLine()
}

// trialName writes the trial's title at the top right, smaller where it is long, and cut only where it does not fit then.
func (b *book) trialName(width float64) {
	points := 9.0
	for b.font(points, false); points > 7 && b.pdf.GetStringWidth(b.trial) > width; b.font(points, false) {
		points--
	}
	name := b.fit(b.trial, width)
	b.greyText(b.width-pageMargin-b.pdf.GetStringWidth(name), 17, points, name)
}

const checkWords = "Print at 100 % (turn off “fit to page”). Check this line with a steel rule. If it is not 100 mm from tick to tick, " +
	"enter its length in trial.yaml under card: rule_mm."

// checkLine draws 100 mm to hold a rule against. The length runs from the middle of one tick to that of the other.
func (b *book) checkLine() {
	const thick, tick = 0.2, 5.0
	x, y := pageMargin, b.height-15
	b.placed = append(b.placed, Placed{Kind: "check line", Page: b.pdf.PageNo(), X: x, Y: y})
	b.fill(black, upright(x, y-thick/2, card.RulerLength, thick))
	b.fill(black, upright(x-thick/2, y-tick/2, thick, tick))
	b.fill(black, upright(x+card.RulerLength-thick/2, y-tick/2, thick, tick))
	b.text(x+44, y-1.5, 8, true, "100 mm")
	b.paragraph(x+card.RulerLength+4, y-3, 7, b.width-2*pageMargin-card.RulerLength-4, checkWords)
}

func upright(x, y, w, h float64) card.Rect {
	return card.Rect{Min: card.Pt{X: x, Y: y}, Max: card.Pt{X: x + w, Y: y + h}}
}

// fill paints rectangles in one path, so that no gap shows where two of them touch.
func (b *book) fill(c [3]uint8, rects ...card.Rect) {
	b.colour(c)
	for _, r := range rects {
		b.path(corners(r))
	}
	if len(rects) > 0 {
		b.pdf.DrawPath("F")
	}
}

func corners(r card.Rect) []card.Pt {
	c := r.Corners()
	return c[:]
}

// fillPolygon paints one polygon.
func (b *book) fillPolygon(c [3]uint8, points []card.Pt) {
	b.colour(c)
	b.path(points)
	b.pdf.DrawPath("F")
}

func (b *book) path(points []card.Pt) {
	b.pdf.MoveTo(points[0].X, points[0].Y)
	for _, p := range points[1:] {
		b.pdf.LineTo(p.X, p.Y)
	}
	b.pdf.ClosePath()
}

// outline draws the edge of r.
func (b *book) outline(r card.Rect, thick float64) {
	b.pdf.SetDrawColor(0, 0, 0)
	b.pdf.SetLineWidth(thick)
	b.pdf.Rect(r.Min.X, r.Min.Y, r.Max.X-r.Min.X, r.Max.Y-r.Min.Y, "D")
}

// colour sets what is filled with, as an sRGB code.
func (b *book) colour(c [3]uint8) { b.pdf.SetFillColor(int(c[0]), int(c[1]), int(c[2])) }

// text writes one line whose base line is at y.
func (b *book) text(x, y, points float64, bold bool, words string) {
	b.font(points, bold)
	b.pdf.Text(x, y, words)
}

// greyText writes one line of less weight.
func (b *book) greyText(x, y, points float64, words string) {
	b.pdf.SetTextColor(int(grey[0]), int(grey[1]), int(grey[2]))
	b.text(x, y, points, false, words)
	b.pdf.SetTextColor(0, 0, 0)
}

func (b *book) font(points float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	b.pdf.SetFont("go", style, points)
}

// textRight writes one line that ends at x.
func (b *book) textRight(x, y, points float64, bold bool, words string) {
	b.font(points, bold)
	b.pdf.Text(x-b.pdf.GetStringWidth(words), y, words)
}

// paragraph writes words in lines no longer than width, the first base line at y, and returns the next base line.
func (b *book) paragraph(x, y, points, width float64, words string) float64 {
	b.font(points, false)
	for _, line := range b.lines(words, width) {
		b.pdf.Text(x, y, line)
		y += points * lineOfPoint
	}
	return y
}

// lines breaks words into lines no longer than width in the font in hand. A word that is longer has its end cut.
func (b *book) lines(words string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && b.pdf.GetStringWidth(longer) > width {
			lines = append(lines, line)
			longer = word
		}
		line = b.fit(longer, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fit cuts words to width in the font in hand and marks the cut.
func (b *book) fit(words string, width float64) string {
	if b.pdf.GetStringWidth(words) <= width {
		return words
	}
	letters := []rune(words)
	for len(letters) > 0 && b.pdf.GetStringWidth(string(letters)+"…") > width {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// trayWords is what a tag says.
func trayWords(tray int) string { return fmt.Sprintf("Tray %d", tray) }
