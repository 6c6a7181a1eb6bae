package closeup

import "testing"

// The codes are those of IEC 61966-2-1's own examples of its ends, and of mid grey: 0.2140 is code 127.5 (arithmetic by the
// standard's formula, ((0.5 + 0.055)/1.055)^2.4).
func TestPictureUsesTheStandardCurve(t *testing.T) {
	r := NewRoots(2, 12)
	r.Light = []RGB{{0, 0, 0}, {1, 1, 1}, {0.2140, 0.2140, 0.2140}, {7, -1, 0.5}}
	img := r.Picture()
	for i, want := range []uint8{0, 255, 127} {
		if got := img.Pix[4*i]; got != want && got != want+1 {
			t.Errorf("texel %d has code %d, want %d", i, got, want)
		}
	}
	if got := img.Pix[12:15]; got[0] != 255 || got[1] != 0 {
		t.Errorf("light beyond the ends has codes %v, want 255 and 0", got)
	}
}
