package foliage

import "math"

// tube is a stalk, a stem, or a leaf that is round in section.
type tube struct {
	rib    rib
	radius func(k float64) float64 // mm, by the way along it from 0 to 1
	sides  int
}

// weave adds the tube to the mesh as an organ. Its a runs along it, its b round it.
func (b *tube) weave(m *mesh, o organ) {
	end := m.begin(o)
	n := len(b.rib.frames) - 1
	ring := make([][]int32, n+1)
	for i, f := range b.rib.frames {
		k := float64(i) / float64(n)
		r := b.radius(k)
		for j := range b.sides {
			s, c := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / float64(b.sides))
			p := f.at.plus(f.left.times(r * c)).plus(f.up.times(r * s))
			ring[i] = append(ring[i], m.add(corner{p: p, along: pack(f.along), u: float32(k), t: float32(c),
				a: float32(k * b.rib.length()), b: float32(r * c)}))
		}
	}
	for i := range n {
		for j := range b.sides {
			p, q, r, s := ring[i][j], ring[i+1][j], ring[i+1][(j+1)%b.sides], ring[i][(j+1)%b.sides]
			m.join(p, q, r, true)
			m.join(p, r, s, true)
		}
	}
	for j := 2; j < b.sides; j++ { // the open end, which a stem cut off or a leaf's tip shows
		m.join(ring[n][0], ring[n][j-1], ring[n][j], false)
	}
	end()
}
