package raster

import "math"

// logits are looked up in steps of 1/logitStep from −logitReach to logitReach.
const (
	logitReach = 16
	logitStep  = 256
)

var sigmoids, softpluses = func() (s, p [2*logitReach*logitStep + 1]float32) {
	for i := range s {
		x := float64(i)/logitStep - logitReach
		s[i], p[i] = float32(1/(1+math.Exp(-x))), float32(math.Log1p(math.Exp(x)))
	}
	return s, p
}()

func logit(x float32) int {
	if x >= logitReach {
		return 2 * logitReach * logitStep
	}
	return max(0, int((x+logitReach)*logitStep+0.5))
}

// Sigmoid is 1/(1 + e⁻ˣ), to a thousandth.
func Sigmoid(x float32) float32 { return sigmoids[logit(x)] }

// Softplus is ln(1 + eˣ); beyond the table's end it is x, to a ten-millionth.
func Softplus(x float32) float32 {
	if x >= logitReach {
		return x
	}
	return softpluses[logit(x)]
}
