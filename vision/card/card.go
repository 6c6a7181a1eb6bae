// Package card holds the geometry of everything that is printed and laid beside a tray: the reference card's two
// faces, the tray tags, and the dock that ties the card to the tray. The finder, the printer and the scene maker all
// read it here; it stands nowhere else. All sizes are millimetres, x to the right and y down from the face's top-left
// corner.
package card

import "fmt"

// Pt is a point on a printed face or on the card's plane, in mm.
type Pt struct{ X, Y float64 }

// Rect is an upright rectangle from its top-left to its bottom-right corner, in mm.
type Rect struct{ Min, Max Pt }

// box returns the rectangle of the given width and height whose top-left corner is at.
func box(at Pt, w, h float64) Rect { return Rect{at, Pt{at.X + w, at.Y + h}} }

// Centre returns the middle of r.
func (r Rect) Centre() Pt { return Pt{(r.Min.X + r.Max.X) / 2, (r.Min.Y + r.Max.Y) / 2} }

// Inset returns r made smaller by d on every side.
func (r Rect) Inset(d float64) Rect {
	return Rect{Pt{r.Min.X + d, r.Min.Y + d}, Pt{r.Max.X - d, r.Max.Y - d}}
}

// Corners returns the four corners clockwise from the top left.
func (r Rect) Corners() [4]Pt {
	return [4]Pt{r.Min, {r.Max.X, r.Min.Y}, r.Max, {r.Min.X, r.Max.Y}}
}

// Sizes of the card and of what is on both its faces.
const (
	Width  = 150.0
	Height = 100.0

	markerSide = 22.0
	Modules    = 7 // across a marker: five of code and a black one on each side

	patchWidth  = 12.0
	patchHeight = 18.0
	patchPitch  = 14.0

	EdgeSquareSide   = 22.0
	EdgeSquareTurned = 5.0 // degrees, clockwise as seen: the slanted edge of ISO 12233
)

// Face is one side of the card; it says what a photo shows.
type Face int

// The card's faces. The zero Face is neither.
const (
	Roots  Face = 1 + iota // plug bottoms, the tray turned over
	Shoots                 // the canopy from above
)

// String returns the name that photos, files and the card itself use.
func (f Face) String() string {
	switch f {
	case Roots:
		return "roots"
	case Shoots:
		return "shoots"
	}
	return fmt.Sprintf("face %d", int(f))
}

// MarkerIDs returns the face's marker numbers, clockwise from the top left.
func (f Face) MarkerIDs() [4]int {
	if f == Shoots {
		return [4]int{4, 5, 6, 7}
	}
	return [4]int{0, 1, 2, 3}
}

// FaceOfMarker returns the face that marker id is printed on and which of its four it is, clockwise from the top left.
func FaceOfMarker(id int) (face Face, index int, ok bool) {
	switch {
	case id >= 0 && id < 4:
		return Roots, id, true
	case id >= 4 && id < 8:
		return Shoots, id - 4, true
	}
	return 0, 0, false
}

// Markers returns where the four markers are, clockwise from the top left.
func Markers() [4]Rect {
	return [4]Rect{
		box(Pt{6, 6}, markerSide, markerSide), box(Pt{122, 6}, markerSide, markerSide),
		box(Pt{122, 72}, markerSide, markerSide), box(Pt{6, 72}, markerSide, markerSide),
	}
}

// Patch is one field of the tone or the colour strip with its nominal sRGB code.
type Patch struct {
	Rect Rect
	SRGB [3]uint8
}

// ToneStrip returns the six neutral patches, lightest first. The first is bare paper with a hairline outline.
func ToneStrip() [6]Patch {
	var strip [6]Patch
	for i, grey := range [6]uint8{255, 200, 150, 100, 50, 0} {
		strip[i] = Patch{patchAt(i, 8), [3]uint8{grey, grey, grey}}
	}
	return strip
}

// ColourStrip returns the six coloured patches: green, yellow-green, yellow, brown, red, blue.
func ColourStrip() [6]Patch {
	var strip [6]Patch
	for i, c := range [6][3]uint8{
		{0x3F, 0x7F, 0x35}, {0xA9, 0xBE, 0x3B}, {0xE6, 0xD2, 0x3C}, {0x7A, 0x54, 0x34}, {0xB8, 0x43, 0x3C}, {0x3E, 0x66, 0xAE},
	} {
		strip[i] = Patch{patchAt(i, 74), c}
	}
	return strip
}

func patchAt(i int, y float64) Rect {
	return box(Pt{34 + patchPitch*float64(i), y}, patchWidth, patchHeight)
}

// EdgeSquareCentre is the middle of the black square whose slanted edges tell the sharpness.
var EdgeSquareCentre = Pt{40, 50}

// WhiteWindow is bare paper: exposure, white balance and light level are read there.
var WhiteWindow = Rect{Pt{58, 36}, Pt{92, 64}}

// Words says where the face's name, its size and the card's number begin: to the right of the window.
var Words = Pt{97, 44}

// RulerTicks returns the x of the ticks on the lower edge, one every 10 mm; the outer ones are 100 mm apart.
func RulerTicks() [11]float64 {
	var x [11]float64
	for i := range x {
		x[i] = 25 + 10*float64(i)
	}
	return x
}

// RulerLength is the distance between the outermost ticks, which the operator measures with a steel rule.
const RulerLength = 100.0

// dockArrowLeg is the length of the two sides of the solid triangle in the dock corner.
const dockArrowLeg = 5.0

// DockCorner returns the card's corner that touches the tray's A1 corner.
func (f Face) DockCorner() Pt {
	if f == Shoots {
		return Pt{0, Height}
	}
	return Pt{Width, Height}
}

// DockArrow returns the solid triangle in the dock corner.
func (f Face) DockArrow() [3]Pt {
	c := f.DockCorner()
	inward := 1.0
	if f == Roots {
		inward = -1
	}
	return [3]Pt{c, {c.X + inward*dockArrowLeg, c.Y}, {c.X, c.Y - dockArrowLeg}}
}

// ToTray returns the tray frame's (u, v) of a point on the card's plane for an exact dock: u along the tray's long side
// with rising column numbers, v along the short side with rising row letters, from the A1 corner.
func (f Face) ToTray(p Pt) (u, v float64) {
	if f == Shoots {
		return p.X, p.Y - Height
	}
	return Width - p.X, p.Y - Height
}

// FromTray is the inverse of ToTray.
func (f Face) FromTray(u, v float64) Pt {
	if f == Shoots {
		return Pt{u, v + Height}
	}
	return Pt{Width - u, v + Height}
}
