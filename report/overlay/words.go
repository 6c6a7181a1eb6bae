package overlay

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"

	"traygauge/measure/reading"
	"traygauge/report/letters"
	"traygauge/vision"
)

// smallType is the size of the words at card and tag, in px of the full page. A phone shows the page 390 px wide, a sixth: headline and
// legend are 9 px high there.
const smallType = 40

// padPx is the dark ground's width beside words, in px of the full page.
const padPx = 3

// lettering holds the type of one picture; a face must not be used by two pictures at once.
type lettering struct {
	headline, text, small font.Face
}

// newLettering returns type for a page of the given unit; the caller closes it.
func newLettering(unit float64) (*lettering, error) {
	fonts, err := letters.Fonts()
	if err != nil {
		return nil, err
	}
	var l lettering
	for _, f := range []struct {
		face *font.Face
		from *opentype.Font
		size float64
	}{{&l.headline, fonts[1], 62}, {&l.text, fonts[0], 54}, {&l.small, fonts[1], smallType}} {
		if *f.face, err = opentype.NewFace(f.from, &opentype.FaceOptions{Size: f.size * unit, DPI: 72, Hinting: font.HintingFull}); err != nil {
			return nil, err
		}
	}
	return &l, nil
}

// Close gives the type back.
func (l *lettering) Close() {
	for _, f := range []font.Face{l.headline, l.text, l.small} {
		f.Close()
	}
}

// label writes words on a dark ground, their middle at a point of the page; they stay on it.
func (s *sketch) label(face font.Face, at Point, words string) {
	if farOff(at) {
		return
	}
	m := face.Metrics()
	pad := int(padPx * s.unit)
	wide, high := letters.Width(face, words)+2*pad, m.Ascent.Ceil()+m.Descent.Ceil()
	box := image.Rect(0, 0, wide, high).Add(image.Pt(int(at.X)-wide/2, int(at.Y)-high/2))
	box = box.Add(image.Pt(max(0, -box.Min.X)-max(0, box.Max.X-s.page.Rect.Max.X), max(0, -box.Min.Y)-max(0, box.Max.Y-s.page.Rect.Max.Y)))
	draw.Draw(s.page, box, image.NewUniform(haloColour), image.Point{}, draw.Over)
	letters.Write(s.page, face, box.Min.X+pad, box.Min.Y+m.Ascent.Ceil(), lineColour, words)
}

// entry is a line of the legend: a drawn sample and its words.
type entry struct {
	words  string
	sample func(*sketch, image.Rectangle)
}

// px returns how many pixels a length at the full page is.
func (s *sketch) px(full float64) int { return int(full*s.unit + 0.5) }

// strip returns a part of the frame, as wide as the page.
func (s *sketch) strip(high int) *image.RGBA {
	strip := image.NewRGBA(image.Rect(0, 0, s.page.Rect.Dx(), high))
	draw.Draw(strip, strip.Rect, image.NewUniform(frameColour), image.Point{}, draw.Src)
	return strip
}

// marginPx is how far words are from the frame's edge, in px of the full page.
const marginPx = 24

// headline returns what is above the page.
func (s *sketch) headline(o Overlay) *image.RGBA {
	strip, margin := s.strip(headHigh(s.unit)), s.px(marginPx)
	wide := strip.Rect.Dx() - 2*margin
	letters.Write(strip, s.words.headline, margin, s.px(72), lineColour, letters.Cut(s.words.headline, o.Title, wide))
	letters.Write(strip, s.words.text, margin, s.px(146), lineColour, letters.Cut(s.words.text, o.Subtitle, wide))
	return strip
}

// In the legend, px of the full page: how wide a sample is, how far its words are from it, and the next sample from them.
const (
	sampleWide = 108
	besidePx   = 14
	apartPx    = 40
)

// legend returns what is below the page.
func (s *sketch) legend(o Overlay) *image.RGBA {
	margin, rowHigh := s.px(marginPx), s.px(84)
	rows := s.legendRows(legendOf(o), s.page.Rect.Dx()-2*margin)
	strip := s.strip(s.px(20) + rowHigh*len(rows))
	for i, row := range rows {
		x, top := margin, s.px(12)+i*rowHigh
		for _, e := range row {
			// Samples are drawn by the hand that draws on the photo, so that they cannot differ from it.
			box := image.Rect(0, 0, s.px(sampleWide), s.px(60))
			sample := &sketch{image.NewRGBA(box), 1, s.unit, s.words, s.pen}
			e.sample(sample, box)
			draw.Draw(strip, box.Add(image.Pt(x, top)), sample.page, image.Point{}, draw.Src)
			x = letters.Write(strip, s.words.text, x+s.px(sampleWide+besidePx), top+s.px(48), lineColour, e.words) + s.px(apartPx)
		}
	}
	return strip
}

// legendRows breaks the legend into rows that fit.
func (s *sketch) legendRows(entries []entry, wide int) [][]entry {
	var rows [][]entry
	left := 0
	for _, e := range entries {
		need := s.px(sampleWide+besidePx+apartPx) + letters.Width(s.words.text, e.words)
		if len(rows) == 0 || need > left {
			rows = append(rows, nil)
			left = wide
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], e)
		left -= need
	}
	return rows
}

// legendOf lists what o shows.
func legendOf(o Overlay) []entry {
	var list []entry
	layers := map[LayerKind]bool{}
	for _, l := range o.Layers {
		layers[l.Kind] = true
	}
	for _, e := range []struct {
		kind          LayerKind
		words         string
		ground, below color.RGBA
	}{
		{RootLayer, "root", mediumGround, creamGround},
		{BrownRootLayer, "brown root, dashed", mediumGround, tanGround},
		{LeafLayer, "leaf, outlined", mediumGround, greenGround},
		{YellowLeafLayer, "yellow leaf, hatched", mediumGround, paleGround},
	} {
		if layers[e.kind] {
			list = append(list, entry{e.words, layerSample(e.kind, e.ground, e.below)})
		}
	}
	states := map[reading.State]bool{}
	for _, p := range o.Plugs {
		states[p.State] = true
	}
	plug := "plug"
	if o.Figure != "" {
		plug += ", its " + o.Figure
	}
	for _, e := range []struct {
		state reading.State
		words string
	}{{reading.Planted, plug}, {reading.Empty, "empty: broken line"}, {reading.Hidden, "hidden: dotted line"}, {reading.Excluded, "excluded: dash and dot"}} {
		if states[e.state] {
			list = append(list, entry{e.words, lineSample(plugLine(e.state))})
		}
	}
	if len(o.Card) > 0 || len(o.Markers) > 0 {
		list = append(list, entry{"card and markers found", lineSample(cardLine)})
	}
	if len(o.Tag) > 0 {
		list = append(list, entry{"tray tag found", lineSample(tagLine)})
	}
	return list
}

// The grounds of the legend's samples: medium, root, browned root, leaf, yellow leaf.
var (
	mediumGround = color.RGBA{62, 44, 32, 255}
	creamGround  = color.RGBA{232, 222, 196, 255}
	tanGround    = color.RGBA{168, 128, 84, 255}
	greenGround  = color.RGBA{78, 128, 58, 255}
	paleGround   = color.RGBA{196, 190, 70, 255}
)

// layerSample draws a piece of root or leaf with the layer on it, the ground still bare at the left.
func layerSample(kind LayerKind, ground, below color.RGBA) func(*sketch, image.Rectangle) {
	return func(s *sketch, box image.Rectangle) {
		draw.Draw(s.page, box, image.NewUniform(ground), image.Point{}, draw.Src)
		thing := box.Inset(box.Dy() / 6)
		if kind == RootLayer || kind == BrownRootLayer {
			thing = image.Rect(box.Min.X, box.Dy()*2/5, box.Max.X, box.Dy()*3/5)
		}
		draw.Draw(s.page, thing, image.NewUniform(below), image.Point{}, draw.Src)
		counted := thing
		if kind != LeafLayer {
			counted.Min.X += thing.Dx() / 3
		}
		s.layer(Layer{kind, vision.Share{X0: float64(counted.Min.X), Y0: float64(counted.Min.Y), StepX: 1, StepY: 1,
			W: counted.Dx(), H: counted.Dy(), A: bytes.Repeat([]byte{255}, counted.Dx()*counted.Dy())}})
	}
}

func lineSample(style lineStyle) func(*sketch, image.Rectangle) {
	return func(s *sketch, box image.Rectangle) {
		draw.Draw(s.page, box, image.NewUniform(mediumGround), image.Point{}, draw.Src)
		in := box.Inset(box.Dy() / 5)
		left, top, right, low := float64(in.Min.X), float64(in.Min.Y), float64(in.Max.X), float64(in.Max.Y)
		s.line([]Point{{left, top}, {right, top}, {right, low}, {left, low}}, style)
	}
}
