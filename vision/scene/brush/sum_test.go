package brush

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"testing"
)

// checksum folds all of a drawing's light and labels into one number.
func checksum(p *painting) uint64 {
	h := fnv.New64a()
	var b [4]byte
	add := func(v float32) {
		binary.LittleEndian.PutUint32(b[:], math.Float32bits(v))
		h.Write(b[:])
	}
	for i := range p.Light {
		for _, v := range p.Light[i] {
			add(v)
		}
		add(p.White[i])
		add(p.Brown[i])
		add(p.Line[i])
		add(p.Plug[i])
	}
	return h.Sum64()
}

func TestSums(t *testing.T) {
	for k := range 8 {
		t.Logf("%d %016x", k, checksum(paint(dice{seeded(k)}).painting))
	}
}
