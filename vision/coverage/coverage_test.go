package coverage

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"math/rand/v2"
	"os"
	"sync"
	"testing"
	"time"

	"gocv.io/x/gocv"
)

// noise is an input of h × w squares with so many values each beside their light.
func noise(also, h, w int) Input {
	in := Input{}.Sized(h, w, also)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range in.Light {
		in.Light[i] = r.Float32()
	}
	for i := range in.Also {
		in.Also[i] = r.Float32() - 0.4
	}
	return in
}

// planes is an input as vision/train/model.py takes it: channel by channel, light before the rest; light as its root less 0.4, colour by colour and each in the
// pixels' reading order.
func planes(in Input) (v []float32) {
	for k := range 12 {
		colour, row, column := k/4, k/2%2, k%2
		for y := range in.H {
			for x := range in.W {
				v = append(v, float32(math.Sqrt(float64(in.Light[3*(2*in.W*(2*y+row)+2*x+column)+colour]))-0.4))
			}
		}
	}
	n := in.H * in.W
	for k := range len(in.Also) / n {
		for i := range n {
			v = append(v, in.Also[i*len(in.Also)/n+k])
		}
	}
	return v
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
	in := noise(1, 48, 48)
	want, err := Roots.Run(in, Maps{})
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 3 {
				got, err := Roots.Run(in, Maps{})
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

// besideLeaves is how many values there are to a square of leaves beside its light.
const besideLeaves = 12

func TestRunKeepsTheSize(t *testing.T) {
	for _, c := range []struct {
		n         *Network
		also, out int
	}{{Roots, 1, 19}, {Leaves, besideLeaves, 19}} {
		for _, side := range []int{32, 80, 96} {
			got, err := c.n.Run(noise(c.also, side, side), Maps{})
			if err != nil {
				t.Fatal(err)
			}
			if got.Each != c.out || got.H != side || got.W != side || len(got.V) != c.out*side*side {
				t.Errorf("%d values of each of %d × %d squares, of %d × %d", got.Each, got.H, got.W, side, side)
			}
		}
	}
}

// What is no input of the network gives an error, and nothing outside it is read.
func TestRunRefusesWhatIsNoInput(t *testing.T) {
	whole := noise(1, 8, 8)
	for name, in := range map[string]Input{
		"nothing": {}, "no light": {8, 8, nil, whole.Also}, "too little light": {8, 8, whole.Light[:500], whole.Also}, "no blur": {8, 8, whole.Light, nil},
		"half the blur": {8, 8, whole.Light, whole.Also[:32]}, "too few squares": {-8, -8, whole.Light, whole.Also}, "of leaves": noise(besideLeaves, 8, 8),
	} {
		if _, err := Roots.Run(in, Maps{}); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// OpenCV reads the same file and works it out by code of its own. Sides that are not whole tiles of the convolution have to come out as well.
func TestRunAgreesWithOpenCV(t *testing.T) {
	for _, c := range []struct {
		file string
		n    *Network
		also int
		h, w int
	}{{"roots.onnx", Roots, 1, 96, 96}, {"roots.onnx", Roots, 1, 40, 56}, {"leaves.onnx", Leaves, besideLeaves, 64, 112}} {
		in := noise(c.also, c.h, c.w)
		got, err := c.n.Run(in, Maps{})
		if err != nil {
			t.Fatal(err)
		}
		net := gocv.ReadNetFromONNX(c.file)
		defer net.Close()
		blob := gocv.NewMatWithSizes([]int{1, 12 + c.also, c.h, c.w}, gocv.MatTypeCV32F)
		defer blob.Close()
		to, err := blob.DataPtrFloat32()
		if err != nil {
			t.Fatal(err)
		}
		copy(to, planes(in))
		net.SetInput(blob, "")
		out := net.Forward("")
		defer out.Close()
		want, err := out.DataPtrFloat32()
		if err != nil || len(want) != len(got.V) {
			t.Fatalf("%d values, OpenCV has %d: %v", len(got.V), len(want), err)
		}
		for i, w := range want {
			k, at := i/(c.h*c.w), i%(c.h*c.w)
			if v := got.At(at/c.w, at%c.w)[k]; !(math.Abs(float64(v-w)) <= 1e-4*math.Max(1, math.Abs(float64(w)))) {
				t.Fatalf("%s, %d × %d: map %d at %d is %g, OpenCV has %g", c.file, c.h, c.w, k, at, v, w)
			}
		}
	}
}

// A run leaves nothing behind for the next: not even values that are no numbers.
func TestRunLeavesNothingBehind(t *testing.T) {
	in := noise(1, 32, 32)
	want, err := Roots.Run(in, Maps{})
	if err != nil {
		t.Fatal(err)
	}
	spoilt := noise(1, 32, 32)
	for i := range spoilt.Light {
		spoilt.Light[i] = float32(math.NaN())
	}
	if _, err := Roots.Run(spoilt, Maps{}); err != nil {
		t.Fatal(err)
	}
	got, err := Roots.Run(in, Maps{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.V {
		if got.V[i] != want.V[i] {
			t.Fatalf("value %d was %g and is %g after a run on what is no number", i, want.V[i], got.V[i])
		}
	}
}

// Each kind of processor has its own code; all give the same but for rounding.
func TestProcessorsAgree(t *testing.T) {
	in := noise(1, 40, 40)
	want, err := Roots.Run(in, Maps{})
	if err != nil {
		t.Fatal(err)
	}
	defer widestRegisters(0)
	for _, most := range []int{8, 4} {
		widestRegisters(most)
		got, err := Roots.Run(in, Maps{})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range want.V {
			if !(math.Abs(float64(got.V[i]-w)) <= 1e-4*math.Max(1, math.Abs(float64(w)))) {
				t.Fatalf("with registers of %d floats value %d is %g, else %g", most, i, got.V[i], w)
			}
		}
	}
}

// What is cut off or of another kind gives an error, whatever byte it ends at.
func TestReadUNetRefuses(t *testing.T) {
	for _, raw := range [][]byte{nil, []byte("no network"), rootsONNX[:len(rootsONNX)/2], rootsONNX[:100]} {
		if _, err := readUNet(raw); err == nil {
			t.Errorf("%d bytes were taken for a network", len(raw))
		}
	}
	for _, size := range [][2]int{{20, 20}, {32, 36}} {
		if _, err := Leaves.Run(noise(besideLeaves, size[0], size[1]), Maps{}); err == nil {
			t.Errorf("%v was taken although it cannot be halved four times", size)
		}
	}
}

// Each value lies at its channel of its square, whatever the width; channels that fill up the last block are zero, whatever was there.
func TestPackPutsEachValueInItsPlace(t *testing.T) {
	for _, c := range []struct{ also, h, w int }{{0, 1, 1}, {1, 3, 8}, {4, 2, 7}, {8, 3, 5}, {23, 2, 6}} {
		in := noise(c.also, c.h, c.w)
		plane := planes(in)
		var s space
		s.use(in)
		spoilt := s.take(shape{blocksFor(12 + c.also), c.h, c.w})
		for block := range spoilt.n {
			for y := range c.h {
				row := spoilt.v[((block*(c.h+2)+y+1)*(c.w+2)+1)*perBlock:]
				for i := range c.w * perBlock {
					row[i] = -1
				}
			}
		}
		s.giveBack(spoilt)
		got := s.pack(in)
		for i, v := range got.v {
			k, at := i/perBlock/((c.h+2)*(c.w+2))*perBlock+i%perBlock, i/perBlock%((c.h+2)*(c.w+2))
			y, x := at/(c.w+2)-1, at%(c.w+2)-1
			want := float32(0)
			if k < 12+c.also && y >= 0 && y < c.h && x >= 0 && x < c.w {
				want = plane[(k*c.h+y)*c.w+x]
			}
			if !(math.Abs(float64(v-want)) < 1e-6) {
				t.Fatalf("%d values beside the light of %d × %d squares: channel %d at row %d, column %d is %g, want %g", c.also, c.h, c.w, k, y, x, v, want)
			}
		}
	}
}

// BenchmarkAgainstOpenCV prints how many times as long OpenCV's dnn takes for a plug's patch. It may use all processors, ours uses one: run it under `taskset -c 0`.
func BenchmarkAgainstOpenCV(b *testing.B) {
	in := noise(1, 96, 96)
	net := gocv.ReadNetFromONNX("roots.onnx")
	defer net.Close()
	blob := gocv.NewMatWithSizes([]int{1, 13, in.H, in.W}, gocv.MatTypeCV32F)
	defer blob.Close()
	var ours, theirs time.Duration
	for b.Loop() {
		began := time.Now()
		if _, err := Roots.Run(in, Maps{}); err != nil {
			b.Fatal(err)
		}
		ours += time.Since(began)
		began = time.Now()
		net.SetInput(blob, "")
		out := net.Forward("")
		theirs += time.Since(began)
		out.Close()
	}
	b.ReportMetric(float64(theirs)/float64(ours), "times-ours")
}
