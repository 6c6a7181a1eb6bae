package overlay

import (
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"

	"traygauge/measure/reading"
	"traygauge/report/letters"
)

// Sizes of the type at the plugs, in px of the full page: as large as the room between plugs allows. 52 px are 8.5 px on a phone
// that shows the page 390 px wide; below 19 px they are not readable at the full size either.
const (
	mostPlugType  = 52
	leastPlugType = 19
)

// plugNames writes at each plug its name, and what was measured or why nothing was.
func (s *sketch) plugNames(plugs []PlugMark) error {
	at, words := make([]Point, len(plugs)), make([]string, len(plugs))
	for i, p := range plugs {
		at[i], words[i] = s.nameOf(p)
	}
	room := roomBetween(at, words)
	for _, measured := range []bool{true, false} { // "A10 excluded" must not make all figures small
		longest := ""
		for i, p := range plugs {
			if (p.Value != "") == measured && letters.Width(s.words.small, words[i]) > letters.Width(s.words.small, longest) {
				longest = words[i]
			}
		}
		face, err := s.faceFor(longest, room)
		if err != nil {
			return err
		}
		for i, p := range plugs {
			if (p.Value != "") == measured && words[i] != "" {
				s.label(face, s.lowered(p, at[i], face), words[i])
			}
		}
		face.Close()
	}
	return nil
}

// nameOf returns where on the page a plug's words are, and the words; none for a plug without a name or a place.
func (s *sketch) nameOf(p PlugMark) (Point, string) {
	if p.Name == "" || len(p.Outline) == 0 && p.Label == (Point{}) {
		return Point{}, ""
	}
	words := p.Name
	switch {
	case p.State != reading.Planted && p.State != "":
		words += " " + string(p.State)
	case p.Value != "":
		words += " " + p.Value
	}
	if p.Label != (Point{}) {
		return s.onPage([]Point{p.Label})[0], words
	}
	return footOf(s.onPage(p.Outline)), words
}

// lowered moves words that belong below a plug's foot down by half their height.
func (s *sketch) lowered(p PlugMark, at Point, face font.Face) Point {
	if p.Label != (Point{}) {
		return at
	}
	at.Y += 2 * s.unit
	if p.Below {
		m := face.Metrics()
		at.Y += float64((m.Ascent + m.Descent).Ceil()) / 2
	}
	return at
}

// roomBetween returns how far apart, in px of the page, the nearest two plugs are whose words are side by side: infinity for one plug.
func roomBetween(at []Point, words []string) float64 {
	room := math.Inf(1)
	for i, p := range at {
		for j, q := range at[:i] {
			dx, dy := math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)
			if words[i] != "" && words[j] != "" && dx > dy {
				room = math.Min(room, dx)
			}
		}
	}
	return room
}

// faceFor returns the largest type between the limits in which words fit into room px; the caller closes it.
func (s *sketch) faceFor(words string, room float64) (font.Face, error) {
	fonts, err := letters.Fonts()
	if err != nil {
		return nil, err
	}
	size := mostPlugType * s.unit
	if wide := float64(letters.Width(s.words.small, words)) / (smallType * s.unit); wide > 0 {
		size = math.Min(size, (room-2*padPx*s.unit-2)/wide)
	}
	size = math.Max(size, leastPlugType*s.unit)
	return opentype.NewFace(fonts[1], &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
}
