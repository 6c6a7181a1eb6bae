// Package synth draws phone photos of propagation trays whose truth is known from geometry: plug bottoms with roots, and
// the canopy from above, with the reference card and a tray tag beside the tray. It is for trying the measuring code on
// and for the demonstration trial; it shares nothing with the measuring code but the card's geometry.
//
// A scene is laid out in millimetres on the card's plane (x to the right, y down, z away from the camera, the frame of an
// exactly docked card), seen by a pinhole camera, lit and blurred in linear light, and only at the end given noise and the
// sRGB curve of IEC 61966-2-1.
//
// A photo's parts are drawn in rooms of painted: camera, exposure (light, lens, sensor, phone), canvas (texels that truth is counted on),
// sheet (print, labels, lines), plugs, canopy, and num below them all. Here a Spec says what is in the picture, Draw puts it together and
// Truth says what it shows. Close-ups in the same manner judge what was trained on the other styles, with which nothing is shared.
//
// Sizes, shares and colours were settled by eye, where no source is named.
package synth

import (
	"fmt"
	"math"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/sheet"
)

// Tray is a tray's shape in its own frame: u along the long side, v along the short side, in mm from the A1 corner.
type Tray struct {
	Rows, Columns     int
	LengthMM, WidthMM float64
	PitchMM           float64
	FirstU, FirstV    float64 // middle of cell A1
	PlugBottomMM      float64 // mean width of a plug's bottom
}

// Tray50 is the usual fifty: five rows of ten.
var Tray50 = Tray{Rows: 5, Columns: 10, LengthMM: 540, WidthMM: 280, PitchMM: 50, FirstU: 45, FirstV: 40, PlugBottomMM: 34}

// Cells returns the names of t's cells, row by row: A1, A2, …
func (t Tray) Cells() []string {
	names := make([]string, 0, t.Rows*t.Columns)
	for r := range t.Rows {
		for c := range t.Columns {
			names = append(names, cellName(r, c))
		}
	}
	return names
}

func cellName(row, column int) string { return fmt.Sprintf("%c%d", 'A'+row, column+1) }

func (t Tray) centre(row, column int) (u, v float64) {
	return t.FirstU + t.PitchMM*float64(column), t.FirstV + t.PitchMM*float64(row)
}

// Plant is what stands in one cell. The same seed with larger numbers is the same plant, grown further.
type Plant struct {
	Plug   bool // there is a plug in the cell
	Leaves int  // leaves, the two seed leaves counted; 0 is a plug without a plant

	RootLengthMM float64 // length of all roots at the plug's bottom, also of those that lie under others
	RootBrown    float64 // share of that length that is brown, 0 to 1

	// Lines lie on the plug's bottom instead of roots; points in mm from the middle of its cell, x and y as on the plane.
	// Their areas and lengths are added up, so they must lie on the plug and not touch each other.
	Lines []Line

	LeafLengthMM float64 // length of the longest leaf's blade
	Yellow       float64 // share of the leaves that have turned yellow, the oldest first
	Interveinal  float64 // 0 to 1: yellowing between the veins of the other leaves
	YellowEdge   float64 // 0 to 1: yellowing of their edges
	BrownTip     float64 // 0 to 1: dead tips

	Seed uint64 // the plant's habit; 0: made from Spec.Seed and the cell
}

// Board is what the tray stands on.
type Board int

// Boards.
const (
	GreyBoard Board = iota
	BlackCloth
	WoodBoard
)

// Spec is one photo. Start from Defaults.
type Spec struct {
	Face   card.Face
	Shows  card.Face // the side of the tray that is up, where the card's wrong face lies beside it; 0: the card's own
	CardUp card.Face // the card's face that is up, where it is the wrong one in the right one's place; 0: Face
	Number int       // tray number on the tag; 0 is no tag
	Card   bool      // the card is in the picture
	Tray   Tray
	Plants map[string]Plant // by cell name; a cell that is missing is empty

	Camera Camera
	Light  Light
	Phone  Phone

	CardX, CardY float64 // mm the card lies off the exact dock
	CardTurn     float64 // degrees it is turned about its dock corner, clockwise
	PrintScale   float64 // what a printed millimetre measures

	Board       Board
	TrayLight   float64 // reflectance of the tray's plastic
	RootLight   float64 // factor on the roots' reflectance; 0 is 1
	MediumLight float64 // factor on the medium's; 0 is 1
	Wet         bool    // a wet, dark medium with glints
	Perlite     float64 // pieces a plug, on average
	Drops       float64 // water drops a plug's bottom, on average
	Sticks      int     // plant labels lying on the tray's top
	NeighbourMM float64 // how far the leaves of a tray on the side away from the card reach over this one; 0: there is none
	Things      []Thing // lying over the tray
	Algae       float64 // share of the medium that is green with algae
	LeafHeight  float64 // mm the leaves lie nearer to the camera than the card
	TagX, TagY  float64 // mm: middle of the tag from its usual place
	TagTurn     float64 // degrees, clockwise
	Seed        uint64  // the tray's habit: plugs, roots, leaves
	Photo       uint64  // what differs from photo to photo: noise
	JPEGQuality int

	Lines []Line // if any: lines on a plane of the medium's colour instead of a tray
}

// Defaults returns an easy 12-megapixel photo of an empty Tray50 on a grey board.
func Defaults(face card.Face) Spec {
	return Spec{
		Face: face, Number: 1, Card: true, Tray: Tray50,
		Camera: Camera{Width: 4032, Height: 3024, Focal35: 26, HeightMM: 480},
		Light: Light{
			Level: 0.95, Gains: [3]float64{1, 1, 1}, Gradient: 1.1, GradientTurn: 200,
			BlurPX: 0.7, ShotNoise: 0.009, ReadNoise: 0.0012,
		},
		PrintScale: 1, TrayLight: 0.022, Perlite: 6, Seed: 1, JPEGQuality: 92,
	}
}

// Resize sets the picture's size in px. What is in view stays, as the focal length is for a full frame.
func (s *Spec) Resize(width, height int) { s.Camera.Width, s.Camera.Height = width, height }

func (s Spec) check() error {
	c, t := s.Camera, s.Tray
	switch {
	case s.Face != card.Roots && s.Face != card.Shoots:
		return fmt.Errorf("scene: %v: say roots or shoots", s.Face)
	case c.Width < 16 || c.Height < 16 || c.Width > 20000 || c.Height > 20000:
		return fmt.Errorf("scene: a picture of %d × %d px: give 16 to 20000 each way", c.Width, c.Height)
	case !(c.Focal35 > 0) || !(c.HeightMM > s.LeafHeight):
		return fmt.Errorf("scene: focal length %g mm, camera %g mm high: both must be more than 0 and the camera above the leaves", c.Focal35, c.HeightMM)
	case math.Abs(c.TiltDeg) > 60:
		return fmt.Errorf("scene: tilt %g°: give 60 or less", c.TiltDeg)
	case s.Lines == nil && (t.Rows < 1 || t.Columns < 1 || t.Rows > 26 || !(t.PitchMM > 8) || !(t.PlugBottomMM > 4) || t.PlugBottomMM >= t.PitchMM):
		return fmt.Errorf("scene: a tray of %d × %d, pitch %g mm, plugs %g mm: start from Tray50", t.Rows, t.Columns, t.PitchMM, t.PlugBottomMM)
	case !(s.PrintScale > 0.5 && s.PrintScale < 2):
		return fmt.Errorf("scene: print scale %g: 1 is true to size", s.PrintScale)
	}
	if s.Number != 0 {
		if _, err := card.TagID(s.Number); err != nil {
			return fmt.Errorf("scene: %w", err)
		}
	}
	for i, l := range s.Lines {
		if err := l.Check(); err != nil {
			return fmt.Errorf("scene: line %d %w", i, err)
		}
	}
	for name := range s.Plants {
		if !s.Tray.has(name) {
			return fmt.Errorf("scene: plant in cell %q: the tray has A1 to %s", name, cellName(t.Rows-1, t.Columns-1))
		}
		if err := s.Plants[name].checkLines(t); err != nil {
			return fmt.Errorf("scene: cell %s: %w", name, err)
		}
	}
	return nil
}

func (t Tray) has(name string) bool {
	var r rune
	var c int
	if n, err := fmt.Sscanf(name, "%c%d", &r, &c); n != 2 || err != nil {
		return false
	}
	return r >= 'A' && int(r-'A') < t.Rows && c >= 1 && c <= t.Columns && name == cellName(int(r-'A'), c-1)
}

// checkLines refuses lines that would leave the plug, or roots beside them.
func (p Plant) checkLines(t Tray) error {
	if len(p.Lines) > 0 && (!p.Plug || p.RootLengthMM != 0) {
		return fmt.Errorf("%d lines need a plug without roots", len(p.Lines))
	}
	for i, l := range p.Lines {
		if err := l.Check(); err != nil {
			return fmt.Errorf("line %d %w", i, err)
		}
		for _, at := range l.Points {
			if d := math.Hypot(at.X, at.Y) + l.WidthMM/2; d > 0.44*t.PlugBottomMM {
				return fmt.Errorf("line %d comes to %.1f mm from the middle: stay within %.1f mm", i, d, 0.44*t.PlugBottomMM)
			}
		}
	}
	return nil
}

// Tray12 is a small tray of Tray50's cells: three rows of four.
var Tray12 = Tray{Rows: 3, Columns: 4, LengthMM: 240, WidthMM: 180, PitchMM: 50, FirstU: 45, FirstV: 40, PlugBottomMM: 34}

// Small is Defaults with Tray12: as many px a mm from as high up, in a quarter of the pixels, so that hundreds can be drawn.
// The lens is a longer one, since from 480 mm a main lens shows more than twice the tray.
func Small(face card.Face) Spec {
	s := Defaults(face)
	s.Tray = Tray12
	s.Camera.Width, s.Camera.Height, s.Camera.Focal35 = 1700, 1960, 50
	return s
}

// What a Spec consists of, and the rooms that it belongs to.
type (
	Camera = camera.Camera
	Light  = exposure.Light
	Phone  = exposure.Phone
	Line   = sheet.Line
)

// Arc returns points along a circle's arc, a point every 0.1 mm or finer.
func Arc(middle card.Pt, radius, fromDeg, toDeg float64) []card.Pt {
	return sheet.Arc(middle, radius, fromDeg, toDeg)
}

// Comb returns parallel straight lines about a middle, one of each width, gapMM from centre line to centre line and turned
// by deg, clockwise from x.
func Comb(middle card.Pt, lengthMM, gapMM, deg float64, widthsMM ...float64) []Line {
	return sheet.Comb(middle, lengthMM, gapMM, deg, widthsMM...)
}
