package roots

import (
	"math/rand/v2"
	"testing"

	"traygauge/vision/coverage"
)

// A patch upside down shows the same roots, turned.
func TestAPatchUpsideDownIsSeenTheSame(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	in := coverage.Input{}.Sized(16, 32, 1)
	for i := range in.Light {
		in.Light[i] = dice.Float32()
	}
	for i := range in.Also {
		in.Also[i] = 0.5
	}
	up, down := seen{in: in}, seen{in: in.Turned(coverage.Input{})}
	for _, s := range []*seen{&up, &down} {
		if err := s.look(); err != nil {
			t.Fatal(err)
		}
	}
	if up.spread != down.spread {
		t.Errorf("spreads of %v and %v", up.spread, down.spread)
	}
	for name, v := range map[string][2][]float32{"white": {up.white, down.white}, "brown": {up.brown, down.brown}, "plug": {up.plug, down.plug}, "line": {up.line, down.line}} {
		last := len(v[0]) - 1
		for i := range v[0] {
			if v[0][i] != v[1][last-i] {
				t.Fatalf("%s at pixel %d: %g, turned %g", name, i, v[0][i], v[1][last-i])
			}
		}
	}
}
