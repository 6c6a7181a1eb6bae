package foliage

import "testing"

// BenchmarkLeaves draws a drawing of another seed each time: the time of a usual drawing.
func BenchmarkLeaves(b *testing.B) {
	for i := range b.N {
		Leaves(seeded(uint64(i) + 1))
	}
}
