package coverage

import (
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"os"
	"sync"
	"testing"
)

func noise(channels, side int) Tensor {
	in := NewTensor(channels, side, side)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range in.V {
		in.V[i] = r.Float32() - 0.4
	}
	return in
}

// A network's name is its file's SHA-256, and no file is larger than the megabyte and a half that a program should carry.
func TestNetworksAreTheirFiles(t *testing.T) {
	for file, n := range map[string]*Network{"roots.onnx": Roots, "leaves.onnx": Leaves} {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(raw)
		if n.ID() != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: its network calls itself %s", file, n.ID())
		}
		if len(raw) > 1_500_000 {
			t.Errorf("%s has %d bytes", file, len(raw))
		}
	}
}

// Whatever runs at the same time, the same input gives the same output, bit by bit.
func TestRunsDoNotDisturbEachOther(t *testing.T) {
	in := noise(13, 48)
	want, err := Roots.Run(in)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 3 {
				got, err := Roots.Run(in)
				if err != nil {
					t.Error(err)
					return
				}
				for i := range want.V {
					if got.V[i] != want.V[i] {
						t.Errorf("value %d is %g, then %g", i, want.V[i], got.V[i])
						return
					}
				}
			}
		})
	}
	wg.Wait()
}

func TestRunKeepsTheSize(t *testing.T) {
	for _, c := range []struct {
		n             *Network
		channels, out int
	}{{Roots, 13, 19}, {Leaves, 16, 19}} {
		for _, side := range []int{32, 80, 96} {
			got, err := c.n.Run(noise(c.channels, side))
			if err != nil {
				t.Fatal(err)
			}
			if got.Channels != c.out || got.H != side || got.W != side || len(got.V) != c.out*side*side {
				t.Errorf("%d × %d × %d values of %d × %d", got.Channels, got.H, got.W, side, side)
			}
		}
	}
}

// OpenCV would end the program over these.
func TestRunRefusesWhatIsNoTensor(t *testing.T) {
	for _, in := range []Tensor{{}, {13, 8, 8, make([]float32, 5)}, {0, 8, 8, nil}} {
		if _, err := Roots.Run(in); err == nil {
			t.Errorf("%d × %d × %d with %d values was taken", in.Channels, in.H, in.W, len(in.V))
		}
	}
}
