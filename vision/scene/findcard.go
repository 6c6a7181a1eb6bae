// Package scene reads off a photo's card what ties pixels to millimetres and codes to light.
//
// In: a Photo, what is known of the print, the lens profiles at hand. Out: a Scene: the face that is up, the plane, light, sharpness, tags; a lens fitted
// to many photos of cards; or a Refusal. A Scene is made once and never changed.
// It must not know where a tray's cells are, nor roots or leaves.
package scene

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"gocv.io/x/gocv"

	"traygauge/vision/card"
	"traygauge/vision/kind"
	"traygauge/vision/lens"
	"traygauge/vision/marker"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// Scene is a photo with all that its card says of it. It is made once and never changed; the Photo stays its opener's.
type Scene struct {
	Photo  *photo.Photo
	Face   card.Face
	Plane  Plane
	Light  Light
	Looks  CardLooks
	OnCard OnCard
	Edge   Sharpness
	Lens   *lens.Profile // that was used; nil for none

	Corners [4][4]raster.Px // the card's markers as refined, each clockwise from its own top left
	Tags    []Tag           // the tray tags in view, by number
	scale   float64         // true mm per nominal mm of the card's print
	tone    toneCurve
}

// Tag is a tray tag as seen.
type Tag struct {
	Tray    int
	Corners [4]raster.Px // of its marker
}

// CardOptions say what is known of the printed card.
type CardOptions struct {
	// RuleMM is what the 100 mm of the printed ruler measure; 0 means 100.
	RuleMM float64

	// Lenses are the profiles at hand; the one of the photo's own lens is used, if there is one.
	Lenses []lens.Profile
}

// searchSides are the least longer sides of the reduced pictures in which markers are looked for, one after the other until
// a whole card and a tag are found. A card's marker fills 22 mm of the 600 to 700 mm that a photo of a whole tray shows:
// 40 pixels in the first, six to a module, where OpenCV's finder needs four (its default perspectiveRemovePixelPerCell).
var searchSides = [3]int{1200, 2400, math.MaxInt}

// FindCard finds the card and the tags in p, ties the card's plane to the pixels and reads light and sharpness off the card.
// A photo without exactly one whole card gives a *Refusal.
func FindCard(p *photo.Photo, o CardOptions) (*Scene, error) {
	if o.RuleMM == 0 {
		o.RuleMM = card.RulerLength
	}
	quads, err := searchMarkers(p)
	if err != nil {
		return nil, err
	}
	s := &Scene{Photo: p, scale: o.RuleMM / card.RulerLength}
	cardQuads, face, err := selectCard(quads)
	if err != nil {
		return nil, whyNoCard(p, err)
	}
	s.Face = face
	l := lensOf(p, o.Lenses)
	s.Lens = l.profile
	if err := s.fitPlane(cardQuads, l); err != nil {
		return nil, err
	}
	s.Tags = tags(quads)
	s.Light = s.readLight()
	s.tone = s.readTone(s.Light.White)
	s.Looks = s.readLooks()
	s.OnCard = s.readOnCard()
	s.Edge = s.readSharpness()
	return s, nil
}

// searchMarkers looks in larger and larger pictures, and keeps the one that shows the most. Where one holds thousands of squares, larger ones are
// not looked at.
func searchMarkers(p *photo.Photo) (best []marker.Quad, err error) {
	longest := max(p.Width, p.Height)
	last := 0
	for _, side := range searchSides {
		shrink := max(1, longest/side)
		if shrink == last {
			continue
		}
		last = shrink
		quads, err := findMarkers(p, shrink, false)
		if errors.Is(err, marker.ErrTooBusy) {
			break
		}
		if err != nil {
			return nil, err
		}
		if len(quads) >= len(best) {
			best = quads
		}
		if !missing(best) {
			break
		}
	}
	return best, nil
}

// missing reports whether a card's marker or a tag is not among quads.
func missing(quads []marker.Quad) bool {
	ofCard, ofTag := 0, 0
	for _, q := range quads {
		if _, _, ok := card.FaceOfMarker(q.ID); ok {
			ofCard++
		} else if _, ok := card.TrayOfMarker(q.ID); ok {
			ofTag++
		}
	}
	return ofCard < 4 || ofTag < 1
}

// findMarkers looks for markers in a grey picture shrunk by a whole number, and gives corners in p's own pixels, or in those of p mirrored left to
// right.
func findMarkers(p *photo.Photo, shrink int, mirrored bool) ([]marker.Quad, error) {
	small := p.Shrunk(shrink)
	colours, err := gocv.NewMatFromBytes(small.Height, small.Width, gocv.MatTypeCV8UC3, small.BGR)
	if err != nil {
		return nil, fmt.Errorf("looking for the card: %w", err)
	}
	defer colours.Close()
	grey := gocv.NewMat()
	defer grey.Close()
	gocv.CvtColor(colours, &grey, gocv.ColorBGRToGray)
	if mirrored {
		gocv.Flip(grey, &grey, 1)
	}
	const modulePx = 4
	quads, err := marker.Find(grey, 4*card.Modules*modulePx/2)
	if err != nil {
		return nil, fmt.Errorf("looking for the card: %w", err)
	}
	f := float64(small.Shrink)
	for i := range quads {
		for k, c := range quads[i].Corners {
			quads[i].Corners[k] = [2]float64{(c[0]+0.5)*f - 0.5, (c[1]+0.5)*f - 0.5}
		}
	}
	return quads, nil
}

// selectCard picks the four markers of the one card in view, clockwise from its top left.
func selectCard(quads []marker.Quad) (of [4]marker.Quad, face card.Face, err error) {
	var seen [3][4][]marker.Quad
	count := [3]int{}
	for _, q := range quads {
		if f, i, ok := card.FaceOfMarker(q.ID); ok {
			seen[f][i] = append(seen[f][i], q)
			count[f]++
		}
	}
	face = card.Roots
	if count[card.Shoots] > count[card.Roots] {
		face = card.Shoots
	}
	other := card.Roots + card.Shoots - face
	if count[face] == 0 {
		return of, 0, photo.Refuse(kind.NoCard, "put the card flush against the tray, completely visible and well lit, and take the photo again", "no card found")
	}
	if count[other] > 1 {
		return of, 0, photo.Refuse(kind.TwoCards, "leave one card in view", "markers of both faces found: two cards are in the photo")
	}
	var gone []string
	for i := range of {
		switch len(seen[face][i]) {
		case 0:
			gone = append(gone, cornerNames[i])
		case 1:
			of[i] = seen[face][i][0]
		default:
			return of, 0, photo.Refuse(kind.TwoCards, "leave one card in view", "the card’s %s marker was found %d times: two cards are in the photo", cornerNames[i], len(seen[face][i]))
		}
	}
	if len(gone) > 0 {
		return of, 0, photo.Refuse(kind.HalfACard, "uncover the card’s "+strings.Join(gone, " and ")+" corner, or move it into view; if the whole card is in view, the photo is not sharp enough: take it again",
			"%d of the card’s 4 markers found", 4-len(gone))
	}
	return of, face, nil
}

var cornerNames = [4]string{"upper left", "upper right", "lower right", "lower left"}

// worstResidualMM is how far the card's corners may lie off a plane, root mean square: a matte print glued to something
// stiff is flat to a few tenths of a millimetre; more is a bent or lifted card.
const worstResidualMM = 0.7

func (s *Scene) fitPlane(quads [4]marker.Quad, l photoLens) error {
	var corners []card.Pt
	var seen []raster.Px
	for i, r := range card.Markers() {
		fine, _, err := refineMarker(s.Photo, i, quads[i], l.curve)
		if err != nil {
			return err
		}
		s.Corners[i] = fine
		for k, c := range r.Corners() {
			corners = append(corners, card.Pt{X: c.X * s.scale, Y: c.Y * s.scale})
			seen = append(seen, fine[k])
		}
	}
	pl, err := newPlane(corners, seen, s.Photo, l)
	if err != nil {
		return photo.Refuse(kind.CardUnclear, "lay the card flat and take the photo again", "the position of the card could not be calculated from its markers (%v)", err)
	}
	if pl.ResidualMM > worstResidualMM {
		return photo.Refuse(kind.CardBent, "glue the card to something stiff, lay it flat and take the photo again",
			"the card is not flat: its corners are off by %.1f mm", pl.ResidualMM)
	}
	s.Plane = pl
	return nil
}

// How far an edge is looked for on each side: less than half a module, within which both sides are plain, and so many px at most and at least.
const (
	reachModules              = 0.45
	leastReachPx, mostReachPx = 2, 24
)

// refineMarker returns the corners of the card's marker i, and the points of its edges.
func refineMarker(p *photo.Photo, i int, found marker.Quad, l *lens.Curve) ([4]raster.Px, quadEdges, error) {
	rough := toPx(found.Corners)
	module := (side(rough, 0) + side(rough, 1)) / 2 / card.Modules
	fine, edges, ok := refineQuad(p, rough, math.Min(mostReachPx, math.Max(leastReachPx, reachModules*module)), l)
	if !ok {
		return fine, edges, photo.Refuse(kind.CardUnclear, "clean the card, keep glare and shadows off it and take the photo again",
			"the edges of the %s marker are not clear", cornerNames[i])
	}
	return fine, edges, nil
}

func toPx(c [4][2]float64) (q [4]raster.Px) {
	for i := range c {
		q[i] = raster.Px{X: c[i][0], Y: c[i][1]}
	}
	return q
}

// side returns the length of side k of a quadrilateral.
func side(q [4]raster.Px, k int) float64 {
	a, b := q[k], q[(k+1)%4]
	return math.Hypot(b.X-a.X, b.Y-a.Y)
}

func tags(quads []marker.Quad) []Tag {
	var found []Tag
	for _, q := range quads {
		if tray, ok := card.TrayOfMarker(q.ID); ok {
			found = append(found, Tag{tray, toPx(q.Corners)})
		}
	}
	sort.Slice(found, func(i, j int) bool { return found[i].Tray < found[j].Tray })
	return found
}

// TrayPoint returns the point of the card's plane at (u, v) of the tray frame, for an exact dock.
func (s *Scene) TrayPoint(u, v float64) card.Pt {
	c := s.Face.DockCorner()
	if s.Face == card.Roots {
		u = -u
	}
	return card.Pt{X: c.X*s.scale + u, Y: c.Y*s.scale + v}
}

// TrayUV is the inverse of TrayPoint.
func (s *Scene) TrayUV(p card.Pt) (u, v float64) {
	c := s.Face.DockCorner()
	u, v = p.X-c.X*s.scale, p.Y-c.Y*s.scale
	if s.Face == card.Roots {
		u = -u
	}
	return u, v
}

// CardOutline returns the card's four corners in the photo, clockwise from its top left.
func (s *Scene) CardOutline() (q [4]raster.Px) {
	r := card.Rect{Max: card.Pt{X: card.Width, Y: card.Height}}
	for i, c := range r.Corners() {
		q[i] = s.nominalPx(c)
	}
	return q
}

// nominalPx returns where a point given in the card's nominal mm appears.
func (s *Scene) nominalPx(c card.Pt) raster.Px {
	return s.Plane.ToPx(card.Pt{X: c.X * s.scale, Y: c.Y * s.scale})
}
