package raster

import (
	"math"
	"testing"
)

// A patch whose grey lies between two codes comes in both, in the shares that give its mean; a scratch over a tenth of it changes little. By hand: where 70 of 100
// places are at 0.20 and 30 at 0.22, the middle half has 45 of the one and 5 of the other.
func TestTheMiddleOfAPatchIsFinerThanItsCodes(t *testing.T) {
	var patch []RGB
	for i := range 100 {
		v := float32(0.20)
		if i >= 70 {
			v = 0.22
		}
		patch = append(patch, RGB{v, v, v})
	}
	if got := MiddleRGB(patch); math.Abs(float64(got[1])-(45*0.20+5*0.22)/50) > 1e-6 {
		t.Errorf("%v", got)
	}
	for i := range 10 {
		patch[i] = RGB{1, 1, 1}
	}
	if got := MiddleRGB(patch); math.Abs(float64(got[1])-0.21) > 0.01 {
		t.Errorf("with a scratch: %v", got)
	}
	if got := MiddleRGB(nil); !math.IsNaN(float64(got[0])) {
		t.Errorf("of none: %v", got)
	}
}
