package roots

import "testing"

// A root of 5 pixels has all its centre line counted, half of it in the pixels beside it, where the network may put it; a fibre's, far from any root, is not counted.
func TestCentreLineCountsOnlyWhereThereIsRoot(t *testing.T) {
	const w, h = 12, 9
	line, root := make([]float32, w*h), make([]uint8, w*h)
	for x := 3; x < 8; x++ {
		root[3*w+x] = 200
		line[3*w+x], line[2*w+x] = 0.5, 0.5
	}
	for x := 2; x < 10; x++ { // the fibre
		root[6*w+x], line[6*w+x] = 40, 0.25
	}
	if got := onRoot(line, root, w, h); got != 5 {
		t.Errorf("length %g px, want 5: %g would count the fibre", got, 5+8*0.25)
	}
}
