package photo

import (
	"testing"

	"gocv.io/x/gocv"
)

// drawn is a photo whose codes are worked out by a formula.
func drawn(t *testing.T, w, h int, code func(x, y, channel int) byte) *Photo {
	t.Helper()
	bgr := make([]byte, 3*w*h)
	for i := range bgr {
		bgr[i] = code(i/3%w, i/3/w, i%3)
	}
	mat, err := gocv.NewMatFromBytes(h, w, gocv.MatTypeCV8UC3, bgr)
	if err != nil {
		t.Fatal(err)
	}
	p := &Photo{Width: w, Height: h, BGR: bgr, mat: mat}
	t.Cleanup(p.Close)
	return p
}

// Over a ramp the mean of a square of k × k pixels is its middle's: of pixels x·k to x·k + k − 1 that is x·k + (k − 1)/2, and halves go up.
func TestShrinkingTakesTheMeanOfSquares(t *testing.T) {
	p := drawn(t, 101, 83, func(x, y, channel int) byte { return byte([3]int{x, y, 250}[channel]) })
	for _, k := range []int{1, 2, 3, 4, 7, 83} {
		s := p.Shrunk(k)
		if s.Shrink != k || s.Width != 101/k || s.Height != 83/k || len(s.BGR) != 3*s.Width*s.Height {
			t.Fatalf("by %d: %d × %d, %d bytes, by %d", k, s.Width, s.Height, len(s.BGR), s.Shrink)
		}
		for i := range s.Width * s.Height {
			x, y := i%s.Width, i/s.Width
			want := [3]byte{byte(x*k + k/2), byte(y*k + k/2), 250}
			if got := [3]byte(s.BGR[3*i:]); got != want {
				t.Fatalf("by %d: pixel %d, %d is %v, want %v", k, x, y, got, want)
			}
		}
	}
	if s := p.Shrunk(1000); s.Shrink != 83 || s.Width != 1 || s.Height != 1 {
		t.Errorf("by more than there is: by %d, %d × %d", s.Shrink, s.Width, s.Height)
	}
}

// White stays white however much it is shrunk: no sum overflows.
func TestShrinkingALotKeepsWhiteWhite(t *testing.T) {
	p := drawn(t, 600, 520, func(x, y, channel int) byte { return 255 })
	for _, k := range []int{3, 257, 400} {
		for i, v := range p.Shrunk(k).BGR {
			if v != 255 {
				t.Fatalf("by %d: byte %d is %d", k, i, v)
			}
		}
	}
}
