// Package overlay draws on a photo what was counted in it, so that people can check the figures by eye.
//
//	in    the pixels and size of a photo, and an Overlay: outlines, layers and text in pixels of the photo
//	out   a JPEG with a headline and a legend, and the positions of the photo and of plugs on it
//
// It must not depend on the trial, the plan or which photo counts. Text arrives ready to draw, and colour is never the only sign.
package overlay

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"

	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/vision"
)

// Point is a place in a photo in pixels: x to the right, y down, the centre of the first pixel at (0, 0).
type Point struct{ X, Y float64 }

// Overlay says what was found in a photo, in the pixels of the upright photo. What is empty is not drawn and not in the
// legend.
type Overlay struct {
	Title    string    // photo, tray, view
	Subtitle string    // what was counted, or why nothing was
	Figure   string    // what the plugs' values are, with the unit, such as "root area in mm²"; for the legend
	Card     []Point   // outline of the card
	Markers  [][]Point // outlines of the card's markers
	Tag      []Point   // outline of the tray tag
	Plugs    []PlugMark
	Layers   []Layer // drawn in this order
}

// PlugMark is one plug, or the place of one.
type PlugMark struct {
	Name    string
	State   reading.State
	Outline []Point
	Label   Point  // middle of its words; the zero Point is the middle of the outline's foot
	Below   bool   // the words are below the outline's foot, where they hide nothing of the plug; else across it
	Value   string // what was measured, such as "112", in the unit that Figure names; may be ""
}

// LayerKind says what a layer shows.
type LayerKind int

// The kinds of layer. A brown or yellow layer lies over the root or leaf layer that it is a part of.
const (
	RootLayer LayerKind = 1 + iota
	BrownRootLayer
	LeafLayer
	YellowLeafLayer
)

// Layer is how much of each pixel of a grid over the photo is of its kind.
type Layer struct {
	Kind LayerKind
	vision.Share
}

// LongSide is the most pixels that a photo is wide or high in its overlay: enough to see a root 0.3 mm wide on a tray that fills
// the photo.
const LongSide = 2400

const (
	quality = 82  // JPEG
	headPx  = 176 // px of the full page above the photo, for the headline
)

// Draw writes a JPEG of a photo with what was found in it drawn over it, a headline above and a legend below. ground is the photo,
// reduced to a long side of at most LongSide; it is drawn on. size is the photo's own. Draw makes the folder of dst. No
// colour carries a meaning alone: discoloured root is dashed, yellow leaf is hatched, an empty place has a broken outline and the word.
// Several calls may run at once.
func Draw(dst string, ground *image.RGBA, size image.Point, o Overlay) error {
	file, err := fileOf(ground, size, o)
	if err != nil {
		return fmt.Errorf("cannot draw %s: %w", dst, err)
	}
	if err := os.MkdirAll(filepath.Dir(dst), 0o755); err != nil {
		return fmt.Errorf("cannot make the folder for %s: %w", dst, err)
	}
	return store.WriteWhole(dst, func(w io.Writer) error {
		_, err := w.Write(file)
		return err
	})
}

func fileOf(ground *image.RGBA, size image.Point, o Overlay) ([]byte, error) {
	if ground == nil || ground.Rect.Empty() || size.X < 1 || size.Y < 1 {
		return nil, errors.New("the photo has no pixels")
	}
	for _, l := range o.Layers {
		if len(l.A) != l.W*l.H || !(l.StepX > 0 && l.StepY > 0) {
			return nil, fmt.Errorf("a layer of %d × %d pixels, %g × %g of the photo’s each, has %d shares", l.W, l.H, l.StepX, l.StepY, len(l.A))
		}
	}
	s, err := newSketch(ground, size)
	if err != nil {
		return nil, err
	}
	defer s.words.Close()
	for _, l := range o.Layers {
		s.layer(l)
	}
	for _, p := range o.Plugs {
		s.plugOutline(p)
	}
	for _, m := range o.Markers {
		s.line(s.onPage(m), cardLine)
	}
	s.line(s.onPage(o.Card), cardLine)
	s.line(s.onPage(o.Tag), tagLine)
	if err := s.plugNames(o.Plugs); err != nil {
		return nil, err
	}
	s.nameAt(o.Card, "card")
	s.nameAt(o.Tag, "tag")
	return vision.EncodeJPEG(quality, s.headline(o), s.page, s.legend(o))
}

// sketch is the reduced photo that is drawn on.
type sketch struct {
	page  *image.RGBA
	scale float64 // px of the page for one of the photo
	unit  float64 // line widths and type sizes grow with the page: 1 where it is 2400 px wide
	words *lettering
	pen   *pen
}

func newSketch(ground *image.RGBA, size image.Point) (*sketch, error) {
	_, _, _, unit := pageOf(size.X, size.Y)
	words, err := newLettering(unit)
	if err != nil {
		return nil, err
	}
	return &sketch{ground, float64(ground.Rect.Dx()) / float64(size.X), unit, words, &pen{}}, nil
}

// pageOf returns how large a photo is drawn, in px of the overlay, the scale, and the unit of line widths and type sizes.
func pageOf(width, height int) (wide, high int, scale, unit float64) {
	scale = math.Min(1, float64(LongSide)/float64(max(width, height, 1)))
	wide, high = max(1, int(math.Round(float64(width)*scale))), max(1, int(math.Round(float64(height)*scale)))
	return wide, high, scale, math.Max(0.5, float64(wide)/LongSide)
}

// PhotoIn returns where in its overlay a photo of the given size in px is drawn, between headline and legend.
func PhotoIn(width, height int) image.Rectangle {
	wide, high, _, unit := pageOf(width, height)
	return image.Rect(0, 0, wide, high).Add(image.Pt(0, headHigh(unit)))
}

// headHigh is how much of an overlay its headline takes.
func headHigh(unit float64) int { return int(headPx*unit + 0.5) }

// onPage brings points of the photo to the page, where whole numbers are the corners of pixels.
func (s *sketch) onPage(points []Point) []Point {
	moved := make([]Point, len(points))
	for i, p := range points {
		moved[i] = Point{(p.X + 0.5) * s.scale, (p.Y + 0.5) * s.scale}
	}
	return moved
}

func (s *sketch) plugOutline(p PlugMark) {
	s.line(s.onPage(p.Outline), plugLine(p.State))
}

// footOf returns the middle of the lower edge of what points span.
func footOf(points []Point) Point {
	left, right, low := math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range points {
		left, right, low = math.Min(left, p.X), math.Max(right, p.X), math.Max(low, p.Y)
	}
	return Point{(left + right) / 2, low}
}

func (s *sketch) nameAt(outline []Point, name string) {
	if len(outline) > 0 {
		s.label(s.words.small, footOf(s.onPage(outline)), name)
	}
}

// The overlay's colours. Blue, orange, pink and pale yellow stay apart for every kind of colour vision and from brown
// medium, cream roots and green leaves; light and dark differ too, and so do the patterns.
var (
	rootColour   = color.RGBA{0, 120, 255, 255}
	brownColour  = color.RGBA{255, 150, 0, 255}
	yellowColour = color.RGBA{230, 0, 140, 255}
	leafColour   = color.RGBA{150, 225, 255, 255}
	cardColour   = color.RGBA{255, 235, 90, 255}
	lineColour   = color.RGBA{255, 255, 255, 255}
	haloColour   = color.RGBA{0, 0, 0, 170}
	frameColour  = color.RGBA{28, 28, 28, 255}
)
