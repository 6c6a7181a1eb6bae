package trayfigure

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"
	"testing"

	"traygauge/measure/reading"
)

// constantIn returns the number that a constant has in a file.
func constantIn(t *testing.T, file, name string) float64 {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	value := math.NaN()
	ast.Inspect(f, func(n ast.Node) bool {
		if spec, ok := n.(*ast.ValueSpec); ok && len(spec.Values) == 1 && spec.Names[0].Name == name {
			if l, ok := spec.Values[0].(*ast.BasicLit); ok {
				value, _ = strconv.ParseFloat(l.Value, 64)
			}
		}
		return true
	})
	if math.IsNaN(value) {
		t.Fatalf("%s has no number called %s", file, name)
	}
	return value
}

// The finest that is taken for a figure is one of the pixels that the networks look at. What is compared must not know how photos are measured, so
// the sizes are read from the source.
func TestFinestIsWhatTheNetworksLookAt(t *testing.T) {
	for view, perMM := range map[reading.View]float64{
		reading.Roots:  constantIn(t, "../../../vision/roots/prepare.go", "preparedPerMM"),
		reading.Shoots: constantIn(t, "../../../vision/leaves/sheet.go", "leafPerMM"),
	} {
		if got := finest[view]; math.Abs(got*perMM-1) > 1e-12 {
			t.Errorf("%s: the finest figure is %g mm, the network has %g px a mm", view, got, perMM)
		}
	}
}
