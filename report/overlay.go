package report

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"

	"github.com/disintegration/imaging"

	"traygauge/measure"
	"traygauge/measure/store"
)

// Point is a place in a photo in pixels: x to the right, y down, the centre of the first pixel at (0, 0).
type Point struct{ X, Y float64 }

// Overlay says what was found in a photo, in the pixels of the upright photo. What is empty is not drawn and not in the
// legend.
type Overlay struct {
	Title    string    // photo, tray, view
	Subtitle string    // what was counted, or why nothing was
	Card     []Point   // outline of the card
	Markers  [][]Point // outlines of the card's markers
	Tag      []Point   // outline of the tray tag
	Plugs    []PlugMark
	Layers   []Layer // drawn in this order
}

// PlugMark is one plug, or the place of one.
type PlugMark struct {
	Name    string
	State   measure.State
	Outline []Point
	Label   Point  // middle of its words; the zero Point is the middle of the outline's foot
	Value   string // what was measured, such as "112 mm²"; may be ""
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

// Layer is how much of each pixel is of its kind: Share holds a value of 0 to 255 for each pixel of Rect, row by row.
type Layer struct {
	Kind  LayerKind
	Rect  image.Rectangle
	Share []uint8
}

const (
	overlayLongSide = 2400 // px; enough to see a root 0.3 mm wide on a tray that fills the photo
	overlayQuality  = 85   // JPEG
	overlayHead     = 104  // px of the full page above the photo, for the headline
)

// DrawOverlay writes a JPEG of the photo, reduced to a long side of at most 2400 px, with what was found in it drawn over
// it, a headline above and a legend below. It makes the folder of dst. No colour carries a meaning alone: discoloured root
// is dashed, yellow leaf is hatched, an empty place has a broken ring and the word. The photo is not changed. Several
// calls may run at once.
func DrawOverlay(dst string, photo image.Image, o Overlay) error {
	picture, err := overlayPicture(photo, o)
	if err != nil {
		return fmt.Errorf("cannot draw %s: %w", dst, err)
	}
	if err := os.MkdirAll(filepath.Dir(dst), 0o755); err != nil {
		return fmt.Errorf("cannot make the folder for %s: %w", dst, err)
	}
	return store.WriteWhole(dst, func(w io.Writer) error {
		return jpeg.Encode(w, picture, &jpeg.Options{Quality: overlayQuality})
	})
}

func overlayPicture(photo image.Image, o Overlay) (*image.RGBA, error) {
	if photo == nil || photo.Bounds().Empty() {
		return nil, errors.New("the photo has no pixels")
	}
	for _, l := range o.Layers {
		if len(l.Share) != l.Rect.Dx()*l.Rect.Dy() {
			return nil, fmt.Errorf("a layer of %d × %d pixels has %d shares", l.Rect.Dx(), l.Rect.Dy(), len(l.Share))
		}
	}
	s, err := newSketch(photo)
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
	for _, p := range o.Plugs {
		s.plugWords(p)
	}
	s.nameAt(o.Card, "card")
	s.nameAt(o.Tag, "tag")
	return s.framed(o), nil
}

// sketch is the reduced photo that is drawn on.
type sketch struct {
	page  *image.RGBA
	scale float64 // px of the page for one of the photo
	unit  float64 // line widths and type sizes grow with the page: 1 at 2400 px
	words *lettering
}

func newSketch(photo image.Image) (*sketch, error) {
	b := photo.Bounds()
	wide, high, scale, unit := overlayPage(b.Dx(), b.Dy())
	page := image.NewRGBA(image.Rect(0, 0, wide, high))
	draw.Draw(page, page.Rect, imaging.Resize(safeToResize(photo), wide, high, imaging.Box), image.Point{}, draw.Src)
	words, err := newLettering(unit)
	if err != nil {
		return nil, err
	}
	return &sketch{page, scale, unit, words}, nil
}

// overlayPage returns how large a photo is drawn, in px of the overlay, the scale, and the unit of line widths and type sizes.
func overlayPage(width, height int) (wide, high int, scale, unit float64) {
	scale = math.Min(1, float64(overlayLongSide)/float64(max(width, height, 1)))
	wide, high = max(1, int(math.Round(float64(width)*scale))), max(1, int(math.Round(float64(height)*scale)))
	return wide, high, scale, math.Max(0.5, float64(max(wide, high))/overlayLongSide)
}

// PhotoInOverlay returns where in its overlay a photo of the given size in px is drawn, between headline and legend.
func PhotoInOverlay(width, height int) image.Rectangle {
	wide, high, _, unit := overlayPage(width, height)
	return image.Rect(0, 0, wide, high).Add(image.Pt(0, headHigh(unit)))
}

// headHigh is how much of an overlay its headline takes.
func headHigh(unit float64) int { return int(overlayHead*unit + 0.5) }

// safeToResize copies a photo of any other kind than a camera's: the resizer stops the program when an image with a
// palette points beyond it.
func safeToResize(photo image.Image) image.Image {
	switch photo.(type) {
	case *image.RGBA, *image.NRGBA, *image.YCbCr:
		return photo
	}
	return rgbaOf(photo)
}

// rgbaOf copies a picture; the copy's first pixel is at (0, 0).
func rgbaOf(picture image.Image) *image.RGBA {
	b := picture.Bounds()
	plain := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(plain, plain.Rect, picture, b.Min, draw.Src)
	return plain
}

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

// plugWords writes a plug's name, and what was measured or why nothing was.
func (s *sketch) plugWords(p PlugMark) {
	if p.Name == "" || len(p.Outline) == 0 && p.Label == (Point{}) {
		return
	}
	words := p.Name
	switch {
	case p.State != measure.Planted && p.State != "":
		words += " " + string(p.State)
	case p.Value != "":
		words += "  " + p.Value
	}
	if p.Label != (Point{}) {
		s.label(s.onPage([]Point{p.Label})[0], words)
		return
	}
	foot := footOf(s.onPage(p.Outline))
	s.label(Point{foot.X, foot.Y + 2*s.unit}, words)
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
		s.label(footOf(s.onPage(outline)), name)
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
