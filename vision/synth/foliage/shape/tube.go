package shape

import (
	"math"

	"traygauge/vision/synth/foliage/surface"
)

// Tube is a stalk, a stem, or a leaf that is round in section.
type Tube struct {
	Rib    Rib
	Radius func(k float64) float64 // mm, by the way along it from 0 to 1
	Sides  int
}

// Weave adds the tube to the mesh as an organ. Its a runs along it, its b round it.
func (b *Tube) Weave(m *surface.Mesh, o surface.Organ) {
	end := m.Begin(o)
	n := len(b.Rib.frames) - 1
	ring := make([][]int32, n+1)
	for i, f := range b.Rib.frames {
		k := float64(i) / float64(n)
		r := b.Radius(k)
		for j := range b.Sides {
			s, c := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / float64(b.Sides))
			p := f.At.Plus(f.Left.Times(r * c)).Plus(f.Up.Times(r * s))
			ring[i] = append(ring[i], m.Add(surface.Corner{P: p, Along: surface.Pack(f.Along), U: float32(k), T: float32(c),
				A: float32(k * b.Rib.Length()), B: float32(r * c)}))
		}
	}
	for i := range n {
		for j := range b.Sides {
			p, q, r, s := ring[i][j], ring[i+1][j], ring[i+1][(j+1)%b.Sides], ring[i][(j+1)%b.Sides]
			m.Join(p, q, r, true)
			m.Join(p, r, s, true)
		}
	}
	for j := 2; j < b.Sides; j++ { // the open end, which a stem cut off or a leaf's tip shows
		m.Join(ring[n][0], ring[n][j-1], ring[n][j], false)
	}
	end()
}
