package html

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"slices"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/vector"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/letters"
)

// The picture's size in px, which is what pages that show a link's picture expect (1.91 : 1, common practice, no source).
const (
	PictureWidth  = 1200
	PictureHeight = 630
	pictureMargin = 48
)

// SharePicture is the file beside the page that a link to it shows.
const SharePicture = "share.png"

// WritePicture writes a PNG of 1200 × 630 px with one comparison: what it says in words, its interval, typical plugs of both sides at one
// scale, and what limits it. treatment names whose; "" is the first in the plan that is compared with anything. It is the comparison that
// answers the plan's main question; where the plan names none, that in root area on the last review, or in leaf area where roots were not
// compared: settled beforehand, and not the one that looks best.
func WritePicture(w io.Writer, p Page, treatment string) error {
	c, err := pictured(p, treatment)
	if err != nil {
		return err
	}
	d, err := newDrawing(treatmentColour(p, c.Treatment))
	if err != nil {
		return err
	}
	defer d.close()
	d.compose(p, c)
	return png.Encode(w, d.page)
}

// CanPicture returns why there is nothing that WritePicture could show.
func CanPicture(p Page, treatment string) error {
	_, err := pictured(p, treatment)
	return err
}

// treatmentColour is a treatment's colour on paper.
func treatmentColour(p Page, treatment string) color.RGBA {
	at := slices.IndexFunc(p.Trial.Plan.Treatments, func(t plan.Treatment) bool { return t.Name == treatment })
	if at < 0 || at >= len(lightColours.treatments) {
		return lightColours.blue
	}
	return lightColours.treatments[at]
}

// pictured chooses the comparison.
func pictured(p Page, treatment string) (outcome.Comparison, error) {
	var names []string
	for _, t := range p.Trial.Plan.Treatments {
		if len(t.CompareWith) > 0 {
			names = append(names, t.Name)
		}
	}
	switch {
	case len(names) == 0:
		return outcome.Comparison{}, errors.New("the plan compares no treatment with a control: add compare_with to a treatment")
	case treatment == "":
		treatment = names[0]
	case !slices.Contains(names, treatment):
		return outcome.Comparison{}, fmt.Errorf("%q is not a treatment that the plan compares with a control: there are %s", treatment, wording.List(names))
	}
	quantities, day := []string{outcome.RootArea, outcome.LeafArea}, p.Compared.LastDay
	if a := p.Compared.Answer; a.Planned {
		quantities, day = append([]string{a.Quantity}, quantities...), a.Day
	}
	for _, quantity := range quantities {
		for _, c := range p.Compared.On(day).Comparisons {
			if c.Kind == outcome.AgainstControl && c.Treatment == treatment && c.Quantity == quantity && c.Estimate.Known() {
				return c, nil
			}
		}
	}
	return outcome.Comparison{}, fmt.Errorf("%s of %s was not compared on day %d: `traygauge compare` says why", strings.Join(quantities[:len(quantities)-1], ", ")+" or "+quantities[len(quantities)-1], treatment, day)
}

// drawing is the picture in the making.
type drawing struct {
	page                          *image.RGBA
	title, big, lead, text, small font.Face
	ink, quiet, line, blue        color.RGBA // blue: the treatment's colour
}

func newDrawing(of color.RGBA) (*drawing, error) {
	fonts, err := letters.Fonts()
	if err != nil {
		return nil, err
	}
	c := lightColours
	d := &drawing{page: image.NewRGBA(image.Rect(0, 0, PictureWidth, PictureHeight)), ink: c.ink, quiet: c.quiet, line: c.line, blue: of}
	draw.Draw(d.page, d.page.Rect, image.NewUniform(c.paper), image.Point{}, draw.Src)
	for _, f := range []struct {
		face *font.Face
		bold int
		size float64
	}{{&d.title, 1, 24}, {&d.big, 1, 46}, {&d.lead, 1, 36}, {&d.text, 0, 22}, {&d.small, 0, 18}} {
		if *f.face, err = opentype.NewFace(fonts[f.bold], &opentype.FaceOptions{Size: f.size, DPI: 72, Hinting: font.HintingFull}); err != nil {
			return nil, err
		}
	}
	return d, nil
}

func (d *drawing) close() {
	for _, f := range []font.Face{d.title, d.big, d.lead, d.text, d.small} {
		f.Close()
	}
}

// compose lays the picture out from the top down; what limits it has its place at the foot whatever stands above.
func (d *drawing) compose(p Page, c outcome.Comparison) {
	const wide = PictureWidth - 2*pictureMargin
	title := strings.TrimSpace(p.Trial.Plan.Title)
	if title == "" {
		title = "Trial"
	}
	letters.Write(d.page, d.small, pictureMargin, 46, d.quiet, letters.Cut(d.small, drawable(fmt.Sprintf("%s · day %d", title, c.Day)), wide))
	words := drawable(oneWords(c))
	y, face := 94, d.lead
	if letters.Width(d.big, words) <= wide { // one line may be larger
		y, face = 112, d.big
	}
	for _, l := range wrapped(face, words, wide, 2) {
		letters.Write(d.page, face, pictureMargin, y, d.ink, l)
		y += 44
	}
	letters.Write(d.page, d.text, pictureMargin, y-4, d.quiet, letters.Cut(d.text, drawable(basisWords(c)), wide))
	d.interval(p, c, image.Rect(pictureMargin, 222, PictureWidth-pictureMargin, 296))
	d.plugs(p, c, 318)
	d.limits(p, c)
}

// oneWords says one comparison in a sentence.
func oneWords(c outcome.Comparison) string {
	switch {
	case isClear(c):
		return clearWords(c)
	case c.Inference != outcome.Trays:
		return fmt.Sprintf("%s against %s: only these trays, so nothing can be claimed of the treatment.", wording.Upper(c.Treatment), c.Control)
	}
	return fmt.Sprintf("%s: no clear effect on %s in this trial.", wording.Upper(c.Treatment), c.Quantity)
}

// basisWords says a comparison's figures below its sentence.
func basisWords(c outcome.Comparison) string {
	words := fmt.Sprintf("%s %s that of %s", wording.Upper(c.Quantity), estimateWords(c), c.Control)
	if c.Scale != outcome.Ratio {
		words = fmt.Sprintf("%s against %s: %s", wording.Upper(c.Quantity), c.Control, estimateWords(c))
	}
	i := intervalWords(c)
	switch {
	case i == "":
		return words
	case isClear(c) && c.Scale == outcome.Ratio: // the headline has the estimate
		return fmt.Sprintf("95 %% interval %s times, %s against %s", i, countedWords(len(c.TrayNumbers), "tray", "trays"), countWord(len(c.ControlTrays)))
	}
	return words + ", 95 % interval " + i
}

// interval draws the comparison as a dot and a bar on its axis.
func (d *drawing) interval(p Page, c outcome.Comparison, box image.Rectangle) {
	one := *p.Compared
	one.Comparisons = []outcome.Comparison{c}
	a := axisOf(&one, c.Quantity, c.Scale)
	x := func(v float64) float64 {
		return float64(box.Min.X) + float64(box.Dx())*a.share(v)
	}
	ends := [2]string{"Less " + c.Quantity, "More " + c.Quantity}
	if c.Scale == outcome.Difference {
		ends = [2]string{"Lower", "Higher"}
	}
	letters.Write(d.page, d.small, box.Min.X, box.Min.Y-8, d.ink, letters.Cut(d.small, drawable("← "+ends[0]), box.Dx()/2))
	right := letters.Cut(d.small, drawable(ends[1]+" →"), box.Dx()/2)
	letters.Write(d.page, d.small, box.Max.X-letters.Width(d.small, right), box.Min.Y-8, d.ink, right)
	middle := float64(box.Min.Y) + 22
	foot, times := box.Max.Y, ""
	if c.Scale == outcome.Ratio {
		times = " ×"
	}
	for _, t := range a.ticks {
		d.rule(x(t.value), float64(box.Min.Y), x(t.value), float64(foot-24), 1, d.line)
		letters.Write(d.page, d.small, int(x(t.value))-letters.Width(d.small, t.Label+times)/2, foot-4, d.quiet, t.Label+times)
	}
	d.rule(x(a.none), float64(box.Min.Y), x(a.none), float64(foot-24), 2.5, d.ink)
	if c.Lower.Known() && c.Upper.Known() {
		from, to := x(float64(c.Lower)), x(float64(c.Upper))
		d.rule(from, middle, to, middle, 5, d.blue)
		d.rule(from, middle-11, from, middle+11, 4, d.blue)
		d.rule(to, middle-11, to, middle+11, 4, d.blue)
	}
	at := x(float64(c.Estimate))
	clear := c.Inference == outcome.Trays && (c.Verdict == outcome.More || c.Verdict == outcome.Less)
	switch {
	case c.Inference != outcome.Trays:
		d.rule(at-12, middle, at+12, middle, 24, d.blue)
		d.rule(at-8, middle, at+8, middle, 16, lightColours.paper)
	case clear:
		d.disc(at, middle, 13, d.blue)
	default:
		d.disc(at, middle, 13, d.blue)
		d.disc(at, middle, 8.5, lightColours.paper)
	}
}

// plugs shows typical plugs of treatment and control side by side, with a scale bar.
func (d *drawing) plugs(p Page, c outcome.Comparison, top int) {
	const side, gap, each = 168, 8, 3
	view := seenViews[0]
	if viewOf(c.Quantity) == seenViews[1].view {
		view = seenViews[1]
	}
	size := cropSizeFor(p.Trial, 0, insideBytes)
	size.SidePx, size.Quality = side, 95
	half := PictureWidth / 2
	for k, treatment := range []string{c.Treatment, c.Control} {
		x := pictureMargin + k*(half-pictureMargin+12)
		plugs := typicalOf(p.Trial, treatment, view, c.Day, each)
		d.disc(float64(x+8), float64(top+10), 8, treatmentColour(p, treatment))
		letters.Write(d.page, d.title, x+24, top+18, d.ink, letters.Cut(d.title, drawable(wording.Upper(treatment)), each*(side+gap)-gap))
		if len(plugs) == 0 || p.Dir == "" {
			letters.Write(d.page, d.text, x, top+60, d.quiet, "no picture at hand")
			continue
		}
		for i, file := range report.Crops(p.Dir, plugs, size) {
			at := image.Rect(0, 0, side, side).Add(image.Pt(x+i*(side+gap), top+32))
			draw.Draw(d.page, at, image.NewUniform(lightColours.panel), image.Point{}, draw.Src)
			if picture, err := jpeg.Decode(bytes.NewReader(file)); err == nil {
				draw.Draw(d.page, at, picture, image.Point{}, draw.Src)
			}
		}
	}
	mm, _ := scaleBar(size)
	long := float64(mm) * size.PxPerMM()
	foot := float64(top + 32 + side + 16)
	d.rule(pictureMargin, foot, pictureMargin+long, foot, 2.5, d.ink)
	d.rule(pictureMargin+1, foot-6, pictureMargin+1, foot, 2.5, d.ink)
	d.rule(pictureMargin+long-1, foot-6, pictureMargin+long-1, foot, 2.5, d.ink)
	letters.Write(d.page, d.small, pictureMargin+int(long)+10, int(foot)+5, d.quiet, fmt.Sprintf("%d mm · %s, those nearest their tray's median", mm, view.words))
}

// limits writes the foot: how much stands behind the comparison, and that it is one of several.
func (d *drawing) limits(p Page, c outcome.Comparison) {
	const top = PictureHeight - 70
	draw.Draw(d.page, image.Rect(0, top, PictureWidth, PictureHeight), image.NewUniform(lightColours.warm), image.Point{}, draw.Src)
	draw.Draw(d.page, image.Rect(0, top, 8, PictureHeight), image.NewUniform(lightColours.orange), image.Point{}, draw.Src)
	y := top + 27
	for _, l := range wrapped(d.small, drawable(limitsLine(p, c)), PictureWidth-2*pictureMargin, 2) {
		letters.Write(d.page, d.small, pictureMargin, y, d.ink, l)
		y += 25
	}
}

// limitsLine says in a line or two what the comparison rests on and what it is not.
func limitsLine(p Page, c outcome.Comparison) string {
	others := 0
	for _, o := range p.Compared.On(c.Day).Comparisons {
		if o.Kind == outcome.AgainstControl && o.Quantity == c.Quantity {
			others++
		}
	}
	words := []string{"One trial under one set of conditions", fmt.Sprintf("trays %s against %s", wording.List(strings.Fields(report.TrayList(c.TrayNumbers))), wording.List(strings.Fields(report.TrayList(c.ControlTrays))))}
	if len(c.TrayNumbers) == 1 && len(c.ControlTrays) == 1 {
		words[1] = fmt.Sprintf("tray %s against tray %s", report.TrayList(c.TrayNumbers), report.TrayList(c.ControlTrays))
	}
	switch {
	case c.Inference != outcome.Trays:
		words = append(words, "these trays only: no claim about the treatment")
	case len(c.TrayNumbers) == 1 || len(c.ControlTrays) == 1:
		words = append(words, "a side with one tray: its variation is taken from the others")
	}
	if others > 1 {
		words = append(words, fmt.Sprintf("one of %d comparisons in %s that day", others, c.Quantity))
	}
	return strings.Join(append(words, "follow each product's label and local rules"), "; ") + "."
}

// corner is a point of an outline in px of the picture.
type corner struct{ X, Y float64 }

// rule draws a straight line.
func (d *drawing) rule(x1, y1, x2, y2, wide float64, c color.RGBA) {
	long := math.Hypot(x2-x1, y2-y1)
	if long == 0 {
		return
	}
	nx, ny := (y2-y1)/long*wide/2, (x1-x2)/long*wide/2
	d.fill([]corner{{x1 + nx, y1 + ny}, {x2 + nx, y2 + ny}, {x2 - nx, y2 - ny}, {x1 - nx, y1 - ny}}, c)
}

func (d *drawing) disc(x, y, radius float64, c color.RGBA) {
	var points []corner
	for i := range 48 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
		points = append(points, corner{x + radius*cos, y + radius*sin})
	}
	d.fill(points, c)
}

func (d *drawing) fill(points []corner, c color.RGBA) {
	r := vector.NewRasterizer(PictureWidth, PictureHeight)
	for i, p := range points {
		if i == 0 {
			r.MoveTo(float32(p.X), float32(p.Y))
		} else {
			r.LineTo(float32(p.X), float32(p.Y))
		}
	}
	r.ClosePath()
	r.Draw(d.page, d.page.Rect, image.NewUniform(c), image.Point{})
}

// wrapped breaks words into at most so many lines of a width in px; what is left over is cut, and marked.
func wrapped(face font.Face, words string, wide, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && letters.Width(face, longer) > wide {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	lines = append(lines, line)
	if len(lines) > most {
		lines[most-1] = strings.Join(lines[most-1:], " ")
		lines = lines[:most]
	}
	for i := range lines {
		lines[i] = letters.Cut(face, lines[i], wide)
	}
	return lines
}

// drawable puts a mark in the place of letters that the picture's type does not have, such as emoji, so that a name does not shrink.
func drawable(s string) string {
	fonts, err := letters.Fonts()
	if err != nil {
		return s
	}
	return strings.Map(func(r rune) rune {
		if i, err := fonts[0].GlyphIndex(nil, r); err != nil || i == 0 {
			return '□'
		}
		return r
	}, wording.Printable(s))
}
