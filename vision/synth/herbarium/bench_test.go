package herbarium

import "testing"

// BenchmarkLeaves draws one drawing after the other, each from a seed of its own.
func BenchmarkLeaves(b *testing.B) {
	seed := uint64(0)
	for b.Loop() {
		Leaves(seeded(seed))
		seed++
	}
}
