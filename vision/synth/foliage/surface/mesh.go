// Package surface is surfaces in space, seen from straight above: a mesh of corners and faces, organ by organ, and a depth buffer that finds
// which face is on top at each sample. A coat says what an organ looks like at a place. In go corners in mm; out comes what is on top where.
// It does not know what the surfaces are of, nor the light.
package surface

import (
	"math"
	"slices"

	"traygauge/vision/synth/foliage/num"
)

// The samples that a texel's shares are counted on.
const (
	Samples = 4                             // per texel along each axis
	Lattice = 256                           // steps between samples, to which corners are rounded
	Fine    = num.PerMM * Samples * Lattice // lattice steps per mm
)

// Corner is a point of a surface.
type Corner struct {
	P     num.Vec    // mm
	N     [3]float32 // unit normal on the surface's upper side
	Along [3]float32 // unit vector in which a grows

	U, T float32 // 0 at a blade's base to 1 at its tip; -1 at one edge over 0 at the midrib to 1 at the other
	A, B float32 // mm along and across the surface, flattened

	Above, Below float32 // the sky's light on the upper and the lower side; 1 is what it sheds on open level ground
}

// Face is a triangle of corners, in the order that makes its normal point to the upper side.
type Face struct {
	C     [3]int32
	Organ int32
}

// Organ is a surface of one piece: a blade, a leaflet, a stalk, or something that is no plant.
type Organ struct {
	Plant int32 // index of the plant, -1 for none
	Coat  Coat
	Holes []Disc
}

// Disc is a round place on a flattened surface, mm.
type Disc struct{ A, B, R float64 }

// Mesh holds all surfaces above the ground.
type Mesh struct {
	Corners []Corner
	Faces   []Face
	Organs  []Organ
}

// Press squeezes the heights of the corners from the first on towards their mean, and lifts them all. Leaves that touch lie one on
// the other and do not pass through each other; pressed ones do so less, and from above nothing else tells them apart, since their
// normals are those of the free leaf.
func (m *Mesh) Press(first int, share, lift float64) {
	mean := 0.0
	for i := range m.Corners[first:] {
		mean += m.Corners[first+i].P.Z / float64(len(m.Corners)-first)
	}
	for i := range m.Corners[first:] {
		z := &m.Corners[first+i].P.Z
		*z = mean + (*z-mean)*share + lift
	}
}

// Begin starts an organ and returns a function to call once its corners and faces are there.
func (m *Mesh) Begin(o Organ) (end func()) {
	m.Organs = append(m.Organs, o)
	first, from := len(m.Corners), len(m.Faces)
	return func() {
		for i := range m.Corners[first:] {
			p := &m.Corners[first+i].P
			p.X, p.Y = snapped(p.X), snapped(p.Y)
		}
		m.setNormals(first, from)
	}
}

// snapped rounds to the lattice. It makes edges meet exactly, and leaves nothing of the last bits, in which processors differ.
func snapped(mm float64) float64 { return math.Round(mm*Fine) / Fine }

// Add adds a corner of the organ begun last and returns its index.
func (m *Mesh) Add(c Corner) int32 {
	if len(m.Corners) == cap(m.Corners) {
		m.Corners = slices.Grow(m.Corners, len(m.Corners)+1<<15) // twice as many: append would copy more often
	}
	m.Corners = append(m.Corners, c)
	return int32(len(m.Corners) - 1)
}

// Join adds a face of the organ begun last; turned over where flip is set.
func (m *Mesh) Join(i, j, k int32, flip bool) {
	if flip {
		j, k = k, j
	}
	if len(m.Faces) == cap(m.Faces) {
		m.Faces = slices.Grow(m.Faces, len(m.Faces)+1<<16)
	}
	m.Faces = append(m.Faces, Face{[3]int32{i, j, k}, int32(len(m.Organs) - 1)})
}

// setNormals gives each corner from the first on the mean normal of the faces round it, by their areas.
func (m *Mesh) setNormals(first, from int) {
	sums := make([]num.Vec, len(m.Corners)-first)
	for _, f := range m.Faces[from:] {
		p, q, r := m.Corners[f.C[0]].P, m.Corners[f.C[1]].P, m.Corners[f.C[2]].P
		n := q.Minus(p).Cross(r.Minus(p))
		for _, c := range f.C {
			sums[int(c)-first] = sums[int(c)-first].Plus(n)
		}
	}
	for i, s := range sums {
		m.Corners[first+i].N = Pack(s.Unit())
	}
}

// Pack keeps a unit vector in little room.
func Pack(v num.Vec) [3]float32 { return [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} }

// Unpack is the way back.
func Unpack(v [3]float32) num.Vec { return num.At(float64(v[0]), float64(v[1]), float64(v[2])) }
