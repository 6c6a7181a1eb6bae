package foliage

import (
	"bytes"
	"encoding/binary"
	"math"
	"sync"
	"testing"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage/num"
)

// drawn draws the seeds side by side.
func drawn(seeds ...uint64) []*closeup.Leaves {
	out := make([]*closeup.Leaves, len(seeds))
	var wait sync.WaitGroup
	for i, seed := range seeds {
		wait.Go(func() { out[i] = Leaves(seeded(seed)) })
	}
	wait.Wait()
	return out
}

func encoded(t *testing.T, l *closeup.Leaves) []byte {
	t.Helper()
	var b bytes.Buffer
	for _, v := range []any{l.Light, l.Own, l.Leaf, l.Dead, l.Plant, l.Bases, l.Middle, l.Pitch} {
		if err := binary.Write(&b, binary.LittleEndian, v); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}

func TestSameSeedSameBytesAndLabelsInRange(t *testing.T) {
	t.Parallel()
	l := drawn(40, 40, 3)
	if !bytes.Equal(encoded(t, l[0]), encoded(t, l[1])) {
		t.Error("two drawings of one seed differ")
	}
	if bytes.Equal(encoded(t, l[0]), encoded(t, l[2])) {
		t.Error("drawings of two seeds are the same")
	}
	for _, l := range l[1:] {
		checkLabels(t, l)
	}
}

func checkLabels(t *testing.T, l *closeup.Leaves) {
	t.Helper()
	if l.Side != 1024 || l.PerMM != 6 || l.Pitch < 15*6 || l.Pitch > 70*6 {
		t.Fatalf("side %d, %v texels a mm, pitch %v texels", l.Side, l.PerMM, l.Pitch)
	}
	if len(l.Bases) > 250 {
		t.Fatalf("%d plants, want at most 250", len(l.Bases))
	}
	within := func(v, low, high float32) bool { return v >= low && v <= high } // false for NaN
	for i := range l.Leaf {
		if !within(l.Leaf[i], 0, 1) || !within(l.Dead[i], 0, l.Leaf[i]) {
			t.Fatalf("texel %d: leaf %v, dead %v", i, l.Leaf[i], l.Dead[i])
		}
		if (l.Plant[i] == 0) != (l.Leaf[i] == 0) || int(l.Plant[i]) > len(l.Bases) {
			t.Fatalf("texel %d: leaf %v of plant %d of %d", i, l.Leaf[i], l.Plant[i], len(l.Bases))
		}
		for k := range 3 {
			if !within(l.Light[i][k], 0, 4) || !within(l.Own[i][k], 0, 1) {
				t.Fatalf("texel %d: light %v, own colour %v", i, l.Light[i], l.Own[i])
			}
		}
	}
}

// Plants stand within 9 mm and a quarter of the pitch of their cells' middles, unless they are a neighbouring tray's.
func TestBasesStandInTheirCells(t *testing.T) {
	t.Parallel()
	for seed := range uint64(8) {
		s := drawScene(num.Dice{Rand: seeded(seed)})
		if len(s.land.Trays) > 1 {
			continue
		}
		middle, pitch := s.land.Trays[0].Label()
		for _, b := range s.bases {
			away := 0.0
			for k := range 2 {
				cells := (b[k]*num.PerMM - middle[k]) / pitch
				d := (cells - math.Round(cells)) * pitch / num.PerMM
				away += d * d
			}
			if away = math.Sqrt(away); away > min(9, pitch/num.PerMM/4) {
				t.Errorf("seed %d: a base %v is %.1f mm from its cell's middle, pitch %.1f mm", seed, b, away, pitch/num.PerMM)
			}
		}
	}
}
