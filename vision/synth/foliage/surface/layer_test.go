package surface

import (
	"math/rand/v2"
	"testing"
)

// Triangles round a point, with corners anywhere on the lattice, tile a disc: each sample inside belongs to one of them, none to two.
func TestTrianglesThatShareEdgesShareNoSample(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		const n = 64
		point := func() (int, int) { return r.IntN(n * Lattice), r.IntN(n * Lattice) }
		cx, cy := point()
		corners := [4][2]int{{-Lattice, -Lattice}, {n*Lattice + 99, -Lattice}, {n*Lattice + 99, n*Lattice + 55},
			{-Lattice, n*Lattice + 55}}
		count := make([]int, n*n)
		for k := range 4 {
			l := NewLayer(n, n)
			a, b := corners[k], corners[(k+1)%4]
			l.Fill([3]int{cx, a[0], b[0]}, [3]int{cy, a[1], b[1]}, [3]float64{1, 1, 1}, 0, nil)
			for i, z := range l.Z {
				if z != Nothing {
					count[i]++
				}
			}
		}
		for i, c := range count {
			if c != 1 {
				t.Fatalf("sample %d, %d lies in %d of four triangles round %d, %d", i%n, i/n, c, cx, cy)
			}
		}
	}
}

// A plane drawn as two triangles has the plane's height on each sample, and the higher of two surfaces stays.
func TestHeights(t *testing.T) {
	t.Parallel()
	l := NewLayer(32, 32)
	const w = 32 * Lattice
	plane := func(x, y int) float64 { return 2 + float64(x)/w - 3*float64(y)/w }
	for _, tri := range [][3][2]int{{{0, 0}, {w, 0}, {w, w}}, {{0, 0}, {w, w}, {0, w}}} {
		var x, y [3]int
		var z [3]float64
		for k, c := range tri {
			x[k], y[k], z[k] = c[0], c[1], plane(c[0], c[1])
		}
		l.Fill(x, y, z, 1, nil)
	}
	l.Fill([3]int{0, w, 0}, [3]int{0, 0, w}, [3]float64{0.5, 0.5, 0.5}, 2, nil)
	for i, z := range l.Z {
		x, y := i%32*Lattice+Lattice/2, i/32*Lattice+Lattice/2
		want, id := plane(x, y), int32(1)
		if x+y < w && want < 0.5 {
			want, id = 0.5, 2
		}
		if got := float64(z) / PerZ; got < want-0.001 || got > want+0.001 {
			t.Fatalf("sample %d, %d is %.4f mm high, want %.4f", i%32, i/32, got, want)
		}
		if l.Id[i] != id && x+y < w-Lattice {
			t.Fatalf("sample %d, %d shows %d, want %d", i%32, i/32, l.Id[i], id)
		}
	}
}
