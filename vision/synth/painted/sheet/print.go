// Package sheet lays what is flat and sharp on the card's plane: the printed card and tags, labels, and lines of known width, each pixel by
// the exact share that is covered. In go outlines in a sheet's own mm; it knows the card's geometry by vision/card and no plants.
package sheet

import (
	"fmt"
	"image"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
)

// CardPt is a point in mm.
func CardPt(x, y float64) card.Pt { return card.Pt{X: x, Y: y} }

// Reflectance of bare paper and of solid black print.
const (
	Paper = 0.85
	black = 0.035
)

// Printed is the reflectance of an sRGB code in print: its linear value between black and paper.
func Printed(code [3]uint8) (c num.RGB) {
	for i, v := range code {
		c[i] = float32(black + (Paper-black)*num.Linear(v))
	}
	return c
}

// Sheet is a printed thing lying on the card's plane.
type Sheet struct {
	p       *exposure.Picture
	v       *camera.View
	toPlane func(x, y float64) (float64, float64) // from the sheet's own mm
}

// Onto is a sheet that lies in a picture; toPlane is the way from its own mm to the card's plane.
func Onto(p *exposure.Picture, v *camera.View, toPlane func(x, y float64) (float64, float64)) Sheet {
	return Sheet{p, v, toPlane}
}

// Laid returns the way from a sheet's mm to the plane: scaled and turned about a pivot, which comes to lie at a place.
func Laid(pivot, place card.Pt, scale, turnDeg float64) func(x, y float64) (float64, float64) {
	sin, cos := math.Sincos(num.Rad(turnDeg))
	return func(x, y float64) (float64, float64) {
		x, y = scale*(x-pivot.X), scale*(y-pivot.Y)
		return place.X + cos*x - sin*y, place.Y + sin*x + cos*y
	}
}

// project is where a point of the sheet is in the picture.
func (s Sheet) project(x, y float64) (float64, float64) {
	x, y = s.toPlane(x, y)
	return s.v.Project(x, y, 0)
}

// Outline is closed loops in a sheet's mm; all turn the same way unless they cut holes.
type Outline [][]card.Pt

// Ink lays colour where the outline is, each pixel by the exact share that is covered.
func (s Sheet) Ink(o Outline, colour num.RGB) { s.Cover(o, func(num.RGB) num.RGB { return colour }) }

// Cover changes what lies where the outline is, each pixel by the exact share that is covered.
func (s Sheet) Cover(o Outline, change func(under num.RGB) num.RGB) {
	loops := s.projected(o)
	x0, y0, w, h := around(loops)
	if x0 >= s.v.Width || y0 >= s.v.Height || x0+w <= 0 || y0+h <= 0 || w > 30000 || h > 30000 {
		return
	}
	mask := coverage(loops, x0, y0, w, h)
	for y := max(0, -y0); y < min(h, s.v.Height-y0); y++ {
		for x := max(0, -x0); x < min(w, s.v.Width-x0); x++ {
			if a := mask.Pix[y*mask.Stride+x]; a != 0 {
				at := s.p.P[3*((y+y0)*s.p.W+x+x0):]
				s.p.Blend(x+x0, y+y0, change(num.RGB{at[0], at[1], at[2]}), float32(a)/255)
			}
		}
	}
}

// projected is the outline in the picture, px.
func (s Sheet) projected(o Outline) (loops [][][2]float64) {
	for _, loop := range o {
		var points [][2]float64
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			pieces := 1
			if s.v.K1 != 0 { // a straight edge is bent by the lens
				pieces += int(math.Hypot(q.X-p.X, q.Y-p.Y) / 2)
			}
			for k := range pieces {
				t := float64(k) / float64(pieces)
				x, y := s.project(p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t)
				points = append(points, [2]float64{x, y})
			}
		}
		loops = append(loops, points)
	}
	return loops
}

// around is the pixels that hold the loops, with one to spare.
func around(loops [][][2]float64) (x0, y0, w, h int) {
	lowX, lowY, highX, highY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, points := range loops {
		for _, p := range points {
			lowX, highX = min(lowX, p[0]), max(highX, p[0])
			lowY, highY = min(lowY, p[1]), max(highY, p[1])
		}
	}
	x0, y0 = int(math.Floor(lowX))-1, int(math.Floor(lowY))-1
	return x0, y0, int(math.Ceil(highX)) + 2 - x0, int(math.Ceil(highY)) + 2 - y0
}

// coverage is the share of each pixel that lies in the loops. The rasterizer's pixel i goes from i to i + 1, ours from
// i − ½ to i + ½.
func coverage(loops [][][2]float64, x0, y0, w, h int) *image.Alpha {
	r := vector.NewRasterizer(w, h)
	for _, points := range loops {
		for i, p := range points {
			x, y := float32(p[0]-float64(x0)+0.5), float32(p[1]-float64(y0)+0.5)
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	mask := image.NewAlpha(image.Rect(0, 0, w, h))
	r.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	return mask
}

// Rectangle is the outline of a rectangle.
func Rectangle(r card.Rect) Outline {
	c := r.Corners()
	return Outline{c[:]}
}

// turned returns o turned clockwise about a point.
func (o Outline) turned(about card.Pt, deg float64) Outline {
	turn := Laid(about, about, 1, deg)
	out := make(Outline, len(o))
	for i, loop := range o {
		for _, p := range loop {
			x, y := turn(p.X, p.Y)
			out[i] = append(out[i], CardPt(x, y))
		}
	}
	return out
}

// blank is the paper itself with a thin soft shadow under its lower right edges.
func (s Sheet) blank(w, h float64) {
	r := card.Rect{Max: CardPt(w, h)}
	for _, d := range []float64{1.2, 0.8, 0.4} {
		under := card.Rect{Min: CardPt(d, d), Max: CardPt(w+d*0.7, h+d*0.9)}
		s.Cover(Rectangle(under), func(c num.RGB) num.RGB { return c.Times(0.8) })
	}
	s.Ink(Rectangle(r), num.RGB{Paper, Paper, Paper})
}

// marker prints one marker: its white modules on a black square.
func (s Sheet) marker(id int, r card.Rect) {
	s.Ink(Rectangle(r), num.RGB{black, black, black})
	module := (r.Max.X - r.Min.X) / card.Modules
	var white Outline
	for row := range card.Modules {
		for col := range card.Modules {
			if card.White(id, row, col) {
				at := CardPt(r.Min.X+module*float64(col), r.Min.Y+module*float64(row))
				white = append(white, Rectangle(card.Rect{Min: at, Max: CardPt(at.X+module, at.Y+module)})...)
			}
		}
	}
	s.Ink(white, num.RGB{Paper, Paper, Paper})
}

// Card prints a face of the reference card.
func (s Sheet) Card(face card.Face) {
	s.blank(card.Width, card.Height)
	ids := face.MarkerIDs()
	for i, r := range card.Markers() {
		s.marker(ids[i], r)
	}
	for i, patch := range card.ToneStrip() {
		if i == 0 {
			s.Ink(Rectangle(patch.Rect), Printed([3]uint8{150, 150, 150}))
			s.Ink(Rectangle(patch.Rect.Inset(0.15)), Printed(patch.SRGB))
			continue
		}
		s.Ink(Rectangle(patch.Rect), Printed(patch.SRGB))
	}
	for _, patch := range card.ColourStrip() {
		s.Ink(Rectangle(patch.Rect), Printed(patch.SRGB))
	}
	dark := num.RGB{black, black, black}
	half, mid := card.EdgeSquareSide/2, card.EdgeSquareCentre
	square := card.Rect{Min: CardPt(mid.X-half, mid.Y-half), Max: CardPt(mid.X+half, mid.Y+half)}
	s.Ink(Rectangle(square).turned(mid, card.EdgeSquareTurned), dark)
	arrow := face.DockArrow()
	s.Ink(Outline{arrow[:]}, dark)
	for _, x := range card.RulerTicks() {
		s.Ink(Rectangle(card.Rect{Min: CardPt(x-0.1, card.Height-4), Max: CardPt(x+0.1, card.Height)}), dark)
	}
	words := card.Words
	s.text(face.String(), words.X, words.Y, 4.5)
	s.text("150 × 100 mm", words.X, words.Y+6.5, 3)
	s.text("card 1", words.X, words.Y+11.5, 3)
}

// Tag prints a tray's tag.
func (s Sheet) Tag(tray int) {
	s.blank(card.TagWidth, card.TagHeight)
	id, err := card.TagID(tray)
	if err != nil {
		return // whoever asks for a tag has checked its number
	}
	s.marker(id, card.TagMarker)
	s.text(fmt.Sprintf("Tray %d", tray), 26.5, 17, 5)
}

var typeface = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(goregular.TTF) })

// text prints words whose baseline starts at (x, y), size mm an em.
func (s Sheet) text(words string, x, y, size float64) {
	f, err := typeface()
	if err != nil {
		return // the words are ornament
	}
	var buf sfnt.Buffer
	const em = 64 // px, for enough of the fixed-point digits
	mm := size / em / 64
	var o Outline
	for _, r := range words {
		i, err := f.GlyphIndex(&buf, r)
		if err != nil {
			return
		}
		segments, err := f.LoadGlyph(&buf, i, fixed.I(em), nil)
		if err != nil {
			return
		}
		o = append(o, glyph(segments, x, y, mm)...)
		advance, err := f.GlyphAdvance(&buf, i, fixed.I(em), font.HintingNone)
		if err != nil {
			return
		}
		x += float64(advance) * mm
	}
	s.Ink(o, num.RGB{black, black, black})
}

// glyph flattens a letter's outline.
func glyph(segments sfnt.Segments, x, y, mm float64) (o Outline) {
	at := func(p fixed.Point26_6) card.Pt { return CardPt(x+float64(p.X)*mm, y+float64(p.Y)*mm) }
	for _, s := range segments {
		if s.Op == sfnt.SegmentOpMoveTo {
			o = append(o, []card.Pt{at(s.Args[0])})
			continue
		}
		loop := &o[len(o)-1]
		p := (*loop)[len(*loop)-1]
		a, b := at(s.Args[0]), at(s.Args[1])
		if s.Op == sfnt.SegmentOpQuadTo {
			for _, t := range []float64{0.25, 0.5, 0.75} {
				u := 1 - t
				*loop = append(*loop, CardPt(u*u*p.X+2*u*t*a.X+t*t*b.X, u*u*p.Y+2*u*t*a.Y+t*t*b.Y))
			}
			a = b
		}
		*loop = append(*loop, a)
	}
	return o
}

// OnPlane is a sheet whose own mm are the plane's.
func OnPlane(p *exposure.Picture, v *camera.View) Sheet {
	return Sheet{p, v, func(x, y float64) (float64, float64) { return x, y }}
}
