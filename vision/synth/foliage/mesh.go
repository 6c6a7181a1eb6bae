package foliage

import (
	"math"
	"slices"
)

// The drawing's size, and the samples that a texel's shares are counted on.
const (
	side   = 1024         // texels
	perMM  = 6.0          // texels per mm
	across = side / perMM // mm

	samples = 4                         // per texel along each axis
	lattice = 256                       // steps between samples, to which corners are rounded
	fine    = perMM * samples * lattice // lattice steps per mm
)

// corner is a point of a surface.
type corner struct {
	p     vec        // mm
	n     [3]float32 // unit normal on the surface's upper side
	along [3]float32 // unit vector in which a grows

	u, t float32 // 0 at a blade's base to 1 at its tip; -1 at one edge over 0 at the midrib to 1 at the other
	a, b float32 // mm along and across the surface, flattened

	above, below float32 // the sky's light on the upper and the lower side; 1 is what it sheds on open level ground
}

// face is a triangle of corners, in the order that makes its normal point to the upper side.
type face struct {
	c     [3]int32
	organ int32
}

// organ is a surface of one piece: a blade, a leaflet, a stalk, or something that is no plant.
type organ struct {
	plant int32 // index of the plant, -1 for none
	coat  coat
	holes []disc
}

// disc is a round place on a flattened surface, mm.
type disc struct{ a, b, r float64 }

// mesh holds all surfaces above the ground.
type mesh struct {
	corners []corner
	faces   []face
	organs  []organ
}

// press squeezes the heights of the corners from the first on towards their mean, and lifts them all. Leaves that touch lie one on
// the other and do not pass through each other; pressed ones do so less, and from above nothing else tells them apart, since their
// normals are those of the free leaf.
func (m *mesh) press(first int, share, lift float64) {
	mean := 0.0
	for i := range m.corners[first:] {
		mean += m.corners[first+i].p.z / float64(len(m.corners)-first)
	}
	for i := range m.corners[first:] {
		z := &m.corners[first+i].p.z
		*z = mean + (*z-mean)*share + lift
	}
}

// begin starts an organ and returns a function to call once its corners and faces are there.
func (m *mesh) begin(o organ) (end func()) {
	m.organs = append(m.organs, o)
	first, from := len(m.corners), len(m.faces)
	return func() {
		for i := range m.corners[first:] {
			p := &m.corners[first+i].p
			p.x, p.y = snapped(p.x), snapped(p.y)
		}
		m.setNormals(first, from)
	}
}

// snapped rounds to the lattice. It makes edges meet exactly, and leaves nothing of the last bits, in which processors differ.
func snapped(mm float64) float64 { return math.Round(mm*fine) / fine }

func (m *mesh) add(c corner) int32 {
	if len(m.corners) == cap(m.corners) {
		m.corners = slices.Grow(m.corners, len(m.corners)+1<<15) // twice as many: append would copy more often
	}
	m.corners = append(m.corners, c)
	return int32(len(m.corners) - 1)
}

// join adds a face of the organ begun last; turned over where flip is set.
func (m *mesh) join(i, j, k int32, flip bool) {
	if flip {
		j, k = k, j
	}
	if len(m.faces) == cap(m.faces) {
		m.faces = slices.Grow(m.faces, len(m.faces)+1<<16)
	}
	m.faces = append(m.faces, face{[3]int32{i, j, k}, int32(len(m.organs) - 1)})
}

// setNormals gives each corner from the first on the mean normal of the faces round it, by their areas.
func (m *mesh) setNormals(first, from int) {
	sums := make([]vec, len(m.corners)-first)
	for _, f := range m.faces[from:] {
		p, q, r := m.corners[f.c[0]].p, m.corners[f.c[1]].p, m.corners[f.c[2]].p
		n := q.minus(p).cross(r.minus(p))
		for _, c := range f.c {
			sums[int(c)-first] = sums[int(c)-first].plus(n)
		}
	}
	for i, s := range sums {
		m.corners[first+i].n = pack(s.unit())
	}
}

func pack(v vec) [3]float32   { return [3]float32{float32(v.x), float32(v.y), float32(v.z)} }
func unpack(v [3]float32) vec { return vec{float64(v[0]), float64(v[1]), float64(v[2])} }
