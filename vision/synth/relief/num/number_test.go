package num

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestOwnFunctionsAgreeWithTheStandardLibrary(t *testing.T) {
	for i := -400; i <= 400; i++ {
		v := float32(i) / 37
		sin, cos := SinCos(v)
		wantSin, wantCos := math.Sincos(2 * math.Pi * float64(v))
		if math.Abs(float64(sin)-wantSin) > 1e-5 || math.Abs(float64(cos)-wantCos) > 1e-5 {
			t.Errorf("sine and cosine of %v turns are %v and %v, want %v and %v", v, sin, cos, wantSin, wantCos)
		}
		power := Exp2(v)
		if want := math.Exp2(float64(v)); math.Abs(float64(power)/want-1) > 1e-5 {
			t.Errorf("2 to the power %v is %v, want %v", v, power, want)
		}
		if back := Log2(power); math.Abs(float64(back-v)) > 1e-4 {
			t.Errorf("the logarithm of 2 to the power %v is %v", v, back)
		}
	}
}

func TestDiceKeepTheirBounds(t *testing.T) {
	d := Dice{rand.New(rand.NewPCG(1, 2))}
	var counts [3]int
	sum, squares := 0.0, 0.0
	const many = 20000
	for range many {
		if v := d.Scaled(0.1, 40); v < 0.0999 || v > 40.01 {
			t.Fatalf("%v is not from 0.1 to 40", v)
		}
		counts[d.Pick(1, 0, 3)]++
		b := float64(d.Bell())
		sum += b / many
		squares += b * b / many
	}
	if counts[1] > 0 || math.Abs(float64(counts[0])/many-0.25) > 0.02 {
		t.Errorf("weights of 1, 0 and 3 were picked %v times", counts)
	}
	if math.Abs(sum) > 0.03 || math.Abs(squares-1) > 0.03 {
		t.Errorf("the bell's mean is %v and its mean square %v", sum, squares)
	}
}
