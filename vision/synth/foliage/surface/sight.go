package surface

import (
	"math"

	"traygauge/vision/synth/foliage/num"
)

// Spot is a place on a surface above the ground, with what its face's corners have there.
type Spot struct {
	P            num.Vec
	N, Along     num.Vec // unit vectors
	Above, Below float64
	Place        Place
	Organ        int32
}

// InBands lists the faces that reach into each band of so many rows of texels.
func (m *Mesh) InBands(texels int) [][]int32 {
	bands := make([][]int32, num.Side/texels)
	for i, f := range m.Faces {
		p, q, r := m.Corners[f.C[0]].P, m.Corners[f.C[1]].P, m.Corners[f.C[2]].P
		if max(p.X, q.X, r.X) < 0 || min(p.X, q.X, r.X) > num.Across || max(p.Y, q.Y, r.Y) < 0 || min(p.Y, q.Y, r.Y) > num.Across {
			continue
		}
		first := int(num.Clamp(min(p.Y, q.Y, r.Y)*num.PerMM/float64(texels), 0, float64(len(bands)-1)))
		last := int(num.Clamp(max(p.Y, q.Y, r.Y)*num.PerMM/float64(texels), 0, float64(len(bands)-1)))
		for b := first; b <= last; b++ {
			bands[b] = append(bands[b], int32(i))
		}
	}
	return bands
}

// Hidden tells, for each square of 2 × 2 texels, whether plants cover it and all squares round it.
func (m *Mesh) Hidden() []bool {
	const n = num.Side / 2
	l := NewLayer(n, n)
	for i, f := range m.Faces {
		var x, y [3]int
		for k, c := range f.C {
			at := m.Corners[c].P
			x[k], y[k] = int(math.Round(at.X*num.PerMM/2*Lattice)), int(math.Round(at.Y*num.PerMM/2*Lattice))
		}
		if len(m.Organs[f.Organ].Holes) == 0 {
			l.Fill(x, y, [3]float64{}, int32(i), nil)
		}
	}
	out := make([]bool, n*n)
	for i := range out {
		x, y := i%n, i/n
		out[i] = true
		for j := max(0, y-1); j <= min(n-1, y+1) && out[i]; j++ {
			for k := max(0, x-1); k <= min(n-1, x+1); k++ {
				out[i] = out[i] && l.Z[j*n+k] != Nothing
			}
		}
	}
	return out
}

// GateOf lets samples of a face pass that lie in none of the organ's holes; nil where there are none near.
func (m *Mesh) GateOf(f Face, from int) Gate {
	holes := m.Organs[f.Organ].Holes
	if len(holes) == 0 {
		return nil
	}
	c := [3]*Corner{&m.Corners[f.C[0]], &m.Corners[f.C[1]], &m.Corners[f.C[2]]}
	a0, a1 := float64(min(c[0].A, c[1].A, c[2].A)), float64(max(c[0].A, c[1].A, c[2].A))
	b0, b1 := float64(min(c[0].B, c[1].B, c[2].B)), float64(max(c[0].B, c[1].B, c[2].B))
	var near []Disc
	for _, h := range holes {
		if h.A+h.R > a0 && h.A-h.R < a1 && h.B+h.R > b0 && h.B-h.R < b1 {
			near = append(near, h)
		}
	}
	if len(near) == 0 {
		return nil
	}
	return func(i, j int) bool {
		w := m.Weights(f, (float64(i)+0.5)/(num.PerMM*Samples), (float64(j*Lattice+from)+Lattice/2)/Fine)
		a, b := Mix32(w, c[0].A, c[1].A, c[2].A), Mix32(w, c[0].B, c[1].B, c[2].B)
		for _, h := range near {
			if (a-h.A)*(a-h.A)+(b-h.B)*(b-h.B) < h.R*h.R {
				return false
			}
		}
		return true
	}
}

// Share is the part of a texel that one organ has.
type Share struct {
	Organ, Face int32
	N           int     // samples
	X, Y        float64 // sum of the samples' places in the texel, samples
}

// Spot is the middle of a part of a texel on its surface.
func (m *Mesh) Spot(part *Share, x, y int) Spot {
	f := m.Faces[part.Face]
	px := (float64(x) + (part.X/float64(part.N)+0.5)/Samples) / num.PerMM
	py := (float64(y) + (part.Y/float64(part.N)+0.5)/Samples) / num.PerMM
	w := m.Weights(f, px, py)
	a, b, c := &m.Corners[f.C[0]], &m.Corners[f.C[1]], &m.Corners[f.C[2]]
	n := Unpack(a.N).Times(w[0]).Plus(Unpack(b.N).Times(w[1])).Plus(Unpack(c.N).Times(w[2])).Unit()
	along := Unpack(a.Along).Times(w[0]).Plus(Unpack(b.Along).Times(w[1])).Plus(Unpack(c.Along).Times(w[2]))
	along = along.Minus(n.Times(along.Dot(n))).Unit()
	return Spot{
		P: num.At(px, py, w[0]*a.P.Z+w[1]*b.P.Z+w[2]*c.P.Z), N: n, Along: along, Organ: f.Organ,
		Above: Mix32(w, a.Above, b.Above, c.Above), Below: Mix32(w, a.Below, b.Below, c.Below),
		Place: Place{U: Mix32(w, a.U, b.U, c.U), T: Mix32(w, a.T, b.T, c.T), A: Mix32(w, a.A, b.A, c.A), B: Mix32(w, a.B, b.B, c.B)},
	}
}

// Weights are the shares of a face's corners in a place, mm, kept within the face.
func (m *Mesh) Weights(f Face, x, y float64) [3]float64 {
	p, q, r := m.Corners[f.C[0]].P, m.Corners[f.C[1]].P, m.Corners[f.C[2]].P
	twice := (q.X-p.X)*(r.Y-p.Y) - (r.X-p.X)*(q.Y-p.Y)
	if math.Abs(twice) < 1e-6 {
		return [3]float64{1.0 / 3, 1.0 / 3, 1.0 / 3}
	}
	v := num.Clamp(((x-p.X)*(r.Y-p.Y)-(r.X-p.X)*(y-p.Y))/twice, 0, 1)
	w := num.Clamp(((q.X-p.X)*(y-p.Y)-(x-p.X)*(q.Y-p.Y))/twice, 0, 1)
	if v+w > 1 {
		v, w = v/(v+w), w/(v+w)
	}
	return [3]float64{1 - v - w, v, w}
}

// Mix32 is what three corners have, by their weights.
func Mix32(w [3]float64, a, b, c float32) float64 {
	return w[0]*float64(a) + w[1]*float64(b) + w[2]*float64(c)
}
