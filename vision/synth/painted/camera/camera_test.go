package camera

import (
	"math"
	"testing"
)

func TestPlaneUndoesProject(t *testing.T) {
	v := NewView(Camera{Width: 800, Height: 600, Focal35: 26, HeightMM: 480, TiltDeg: 20, TiltTurn: 250, RollDeg: 100, K1: -0.04}, -270, 190)
	for _, z := range []float64{0, -40} {
		px, py := v.Project(-200, 150, z)
		x, y := v.Plane(px, py, z)
		near(t, "x", x, -200, 1e-4)
		near(t, "y", y, 150, 1e-4)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}
