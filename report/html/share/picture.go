// Package share draws the picture that a link to a trial's page shows.
//
//	in    a report.Trial, its comparisons, the trial's folder, and whose comparison it is
//	out   a PNG with one comparison, typical plugs of both sides, and what limits it
//
// It must not depend on the page.
package share

import (
	"bytes"
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
	"traygauge/report/html/answer"
	"traygauge/report/html/axis"
	"traygauge/report/html/colours"
	"traygauge/report/html/plugs"
	"traygauge/report/letters"
)

// The picture's size in px, which is what pages that show a link's picture expect (1.91 : 1, common practice, no source).
const (
	width  = 1200
	height = 630
	margin = 48
)

// Source is what the picture is made from.
type Source struct {
	Trial    *report.Trial
	Compared *outcome.Result // of Trial
	Dir      string          // the trial's folder; "" for a picture without plugs
}

// File is the file beside the page that a link to it shows.
const File = "share.png"

// Write writes a PNG of 1200 × 630 px with one comparison of a treatment, that of answer.Beforehand: what it says in words, its interval,
// typical plugs of both sides at one scale, and what limits it.
func Write(w io.Writer, from Source, treatment string) error {
	c, err := answer.Beforehand(from.Trial.Plan, from.Compared, treatment)
	if err != nil {
		return err
	}
	d, err := newDrawing(treatmentColour(from, c.Treatment))
	if err != nil {
		return err
	}
	defer d.close()
	d.compose(from, c)
	return png.Encode(w, d.page)
}

// treatmentColour is a treatment's colour on paper.
func treatmentColour(from Source, treatment string) color.RGBA {
	return colours.Of(slices.IndexFunc(from.Trial.Plan.Treatments, func(t plan.Treatment) bool { return t.Name == treatment }))
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
	c := colours.Light
	d := &drawing{page: image.NewRGBA(image.Rect(0, 0, width, height)), ink: c.Ink, quiet: c.Quiet, line: c.Line, blue: of}
	draw.Draw(d.page, d.page.Rect, image.NewUniform(c.Paper), image.Point{}, draw.Src)
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
func (d *drawing) compose(from Source, c outcome.Comparison) {
	const wide = width - 2*margin
	title := strings.TrimSpace(from.Trial.Plan.Title)
	if title == "" {
		title = "Trial"
	}
	letters.Write(d.page, d.small, margin, 46, d.quiet, letters.Cut(d.small, drawable(fmt.Sprintf("%s · day %d", title, c.Day)), wide))
	words := drawable(oneWords(c))
	y, face := 94, d.lead
	if letters.Width(d.big, words) <= wide { // one line may be larger
		y, face = 112, d.big
	}
	for _, l := range wrapped(face, words, wide, 2) {
		letters.Write(d.page, face, margin, y, d.ink, l)
		y += 44
	}
	letters.Write(d.page, d.text, margin, y-4, d.quiet, letters.Cut(d.text, drawable(basisWords(c)), wide))
	d.interval(from, c, image.Rect(margin, 222, width-margin, 296))
	d.plugs(from, c, 318)
	d.limits(from, c)
}

// oneWords says one comparison in a sentence.
func oneWords(c outcome.Comparison) string {
	switch {
	case c.Verdict.Clear():
		return answer.Sentence(c)
	case c.Inference != outcome.Trays:
		return fmt.Sprintf("%s against %s: one tray only, so no conclusion about the treatment is possible.", wording.Upper(c.Treatment), c.Control)
	}
	return fmt.Sprintf("%s: no clear effect on %s in this trial.", wording.Upper(c.Treatment), c.Quantity)
}

// basisWords says a comparison's figures below its sentence.
func basisWords(c outcome.Comparison) string {
	words := fmt.Sprintf("%s %s that of %s", wording.Upper(c.Quantity), answer.Estimate(c), c.Control)
	if c.Scale != outcome.Ratio {
		words = fmt.Sprintf("%s against %s: %s", wording.Upper(c.Quantity), c.Control, answer.Estimate(c))
	}
	i := answer.Interval(c)
	switch {
	case i == "":
		return words
	case c.Verdict.Clear() && c.Scale == outcome.Ratio: // the headline has the estimate
		return fmt.Sprintf("95 %% interval %s times, %s against %s", i, wording.CountedInWords(len(c.TrayNumbers), "tray", "trays"), wording.Number(len(c.ControlTrays)))
	}
	return words + ", 95 % interval " + i
}

// interval draws the comparison as a dot and a bar on its axis.
func (d *drawing) interval(from Source, c outcome.Comparison, box image.Rectangle) {
	one := *from.Compared
	one.Comparisons = []outcome.Comparison{c}
	a := axis.Of(&one, c.Quantity, c.Scale)
	x := func(v float64) float64 {
		return float64(box.Min.X) + float64(box.Dx())*a.Share(v)
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
	for _, t := range a.Ticks {
		d.rule(x(t.Value), float64(box.Min.Y), x(t.Value), float64(foot-24), 1, d.line)
		letters.Write(d.page, d.small, int(x(t.Value))-letters.Width(d.small, t.Label+times)/2, foot-4, d.quiet, t.Label+times)
	}
	d.rule(x(a.None), float64(box.Min.Y), x(a.None), float64(foot-24), 2.5, d.ink)
	if c.Lower.Known() && c.Upper.Known() {
		from, to := x(float64(c.Lower)), x(float64(c.Upper))
		d.rule(from, middle, to, middle, 5, d.blue)
		d.rule(from, middle-11, from, middle+11, 4, d.blue)
		d.rule(to, middle-11, to, middle+11, 4, d.blue)
	}
	at := x(float64(c.Estimate))
	clear := c.Inference == outcome.Trays && c.Verdict.Clear()
	switch {
	case c.Inference != outcome.Trays:
		d.rule(at-12, middle, at+12, middle, 24, d.blue)
		d.rule(at-8, middle, at+8, middle, 16, colours.Light.Paper)
	case clear:
		d.disc(at, middle, 13, d.blue)
	default:
		d.disc(at, middle, 13, d.blue)
		d.disc(at, middle, 8.5, colours.Light.Paper)
	}
}

// plugs shows typical plugs of treatment and control side by side, with a scale bar.
func (d *drawing) plugs(from Source, c outcome.Comparison, top int) {
	const side, gap, each = 168, 8, 3
	of := plugs.SideOf(plugs.ViewOf(c.Quantity))
	size := plugs.CropSize(from.Trial, 0)
	size.SidePx, size.Quality = side, 95
	half := width / 2
	for k, treatment := range []string{c.Treatment, c.Control} {
		x := margin + k*(half-margin+12)
		typical := plugs.Typical(from.Trial, treatment, of, c.Day, each)
		d.disc(float64(x+8), float64(top+10), 8, treatmentColour(from, treatment))
		letters.Write(d.page, d.title, x+24, top+18, d.ink, letters.Cut(d.title, drawable(wording.Upper(treatment)), each*(side+gap)-gap))
		if len(typical) == 0 || from.Dir == "" {
			letters.Write(d.page, d.text, x, top+60, d.quiet, "no picture available")
			continue
		}
		for i, file := range report.Crops(from.Dir, typical, size) {
			at := image.Rect(0, 0, side, side).Add(image.Pt(x+i*(side+gap), top+32))
			draw.Draw(d.page, at, image.NewUniform(colours.Light.Panel), image.Point{}, draw.Src)
			if picture, err := jpeg.Decode(bytes.NewReader(file)); err == nil {
				draw.Draw(d.page, at, picture, image.Point{}, draw.Src)
			}
		}
	}
	mm, _ := plugs.ScaleBar(size)
	long := float64(mm) * size.PxPerMM()
	foot := float64(top + 32 + side + 16)
	d.rule(margin, foot, margin+long, foot, 2.5, d.ink)
	d.rule(margin+1, foot-6, margin+1, foot, 2.5, d.ink)
	d.rule(margin+long-1, foot-6, margin+long-1, foot, 2.5, d.ink)
	letters.Write(d.page, d.small, margin+int(long)+10, int(foot)+5, d.quiet, fmt.Sprintf("%d mm · %s, nearest to the median of their tray", mm, of.Words))
}

// limits writes the foot: what the comparison rests on, and that it is one of several.
func (d *drawing) limits(from Source, c outcome.Comparison) {
	const top = height - 70
	draw.Draw(d.page, image.Rect(0, top, width, height), image.NewUniform(colours.Light.Warm), image.Point{}, draw.Src)
	draw.Draw(d.page, image.Rect(0, top, 8, height), image.NewUniform(colours.Light.Orange), image.Point{}, draw.Src)
	y := top + 27
	for _, l := range wrapped(d.small, drawable(limitsLine(from, c)), width-2*margin, 2) {
		letters.Write(d.page, d.small, margin, y, d.ink, l)
		y += 25
	}
}

// limitsLine says in a line or two what the comparison rests on and what it is not.
func limitsLine(from Source, c outcome.Comparison) string {
	others := 0
	for _, o := range from.Compared.On(c.Day).Comparisons {
		if o.Kind == outcome.AgainstControl && o.Quantity == c.Quantity {
			others++
		}
	}
	words := []string{"One trial under one set of conditions", wording.Trays(c.TrayNumbers) + " against " + wording.Trays(c.ControlTrays)}
	switch {
	case c.Inference != outcome.Trays:
		words = append(words, "these trays only, so no conclusion about the treatment")
	case len(c.TrayNumbers) == 1 || len(c.ControlTrays) == 1:
		words = append(words, "variation of single trays assumed")
	}
	if trays := notedTrays(from, c, outcome.Accident); len(trays) > 0 {
		words = append(words, "the log notes an accident to "+wording.Trays(trays))
	}
	if trays := notedTrays(from, c, outcome.OddFeeding); len(trays) > 0 {
		words = append(words, "the log notes an unusual feeding of "+wording.Trays(trays))
	}
	if others > 1 {
		words = append(words, fmt.Sprintf("one of %d comparisons of %s that day", others, c.Quantity))
	}
	return strings.Join(append(words, "follow each product’s label and local rules"), "; ") + "."
}

// notedTrays lists the trays of a comparison without which the question was answered again for that reason.
func notedTrays(from Source, c outcome.Comparison, why outcome.Left) []int {
	var trays []int
	for _, w := range from.Compared.Without {
		if w.What == why && (slices.Contains(c.TrayNumbers, w.Tray) || slices.Contains(c.ControlTrays, w.Tray)) {
			trays = append(trays, w.Tray)
		}
	}
	slices.Sort(trays)
	return trays
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
	r := vector.NewRasterizer(width, height)
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
