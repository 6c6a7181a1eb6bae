package plan

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestParseDose(t *testing.T) {
	for s, want := range map[string]float64{
		"2 mL/L": 2, "2mL/L": 2, " 0.5 ml / l ": 0.5, "2 mL per litre": 2, ".25 mL/L": 0.25,
		// NIST SP 811 (2008), appendix B.8: a US gallon is 3.785 412 E-03 m³, so 3.785 412 mL/gal are 1 mL/L.
		"3.785412 mL/gal": 1,
		"7.5 mL/gal":      1.981290, // 7.5 / 3.785412
		"7.5 ml/US gal":   1.981290,
		"1 mL per gallon": 0.264172, // 1 / 3.785412
	} {
		got, err := ParseDose(s)
		if err != nil || math.Abs(got-want) > 1e-6 {
			t.Errorf("%q: %.6f, %v; want %.6f", s, got, err, want)
		}
	}
	for _, s := range []string{"", "2", "mL/L", "2 mL", "2 g/L", "2 mL/plug", "-2 mL/L", "1e3 mL/L", "NaN mL/L", "inf mL/L", "2,5 mL/L", "0 mL/L", "101 mL/L",
		strings.Repeat("9", 400) + " mL/L", "2 mL/imperial gallon"} {
		if got, err := ParseDose(s); err == nil {
			t.Errorf("%.20q was read as %g", s, got)
		}
	}
}

// A gallon is 231 cubic inches, an inch 2.54 cm: 231 · 2.54³ = 3785.411784 cm³.
func TestGallon(t *testing.T) {
	if want := 231 * 2.54 * 2.54 * 2.54 / 1000; math.Abs(litresPerGallon-want) > 1e-12 {
		t.Errorf("%v, want %v", litresPerGallon, want)
	}
}

func TestMix(t *testing.T) {
	ml, _ := ParseDose("7.5 mL/gal")
	d := Dose{MLPerL: ml}
	if got := d.MLPerGallon(); math.Abs(got-7.5) > 1e-12 {
		t.Errorf("%v mL/gal, want the 7.5 that were written", got)
	}
	if got, want := d.MLFor(1500), 2.971935; math.Abs(got-want) > 1e-6 { // 1.981290 mL/L · 1.5 L
		t.Errorf("%v mL, want %v", got, want)
	}
}

func TestOn(t *testing.T) {
	tr := Treatment{Gets: []Dose{{Product: "base feed", MLPerL: 2, FromDay: 7}, {Product: "seaweed extract", MLPerL: 1}, {Product: "base feed", MLPerL: 4, FromDay: 14}}}
	for day, want := range map[int][]float64{0: {1}, 6: {1}, 7: {2, 1}, 13: {2, 1}, 14: {4, 1}, 99: {4, 1}} {
		on := tr.On(day)
		if len(on) != len(want) {
			t.Errorf("day %d: %+v", day, on)
			continue
		}
		for _, d := range on {
			if (d.Product == "base feed") != (d.MLPerL != 1) || d.MLPerL != 1 && d.MLPerL != want[0] {
				t.Errorf("day %d: %+v, want %v", day, on, want)
			}
		}
	}
}

// The strength is shown in the plan's own unit. 7.5 mL in 3.785411784 L are 1.98 mL/L, 1 tsp-sized 5 mL are 1.32.
func TestDoseWords(t *testing.T) {
	for written, want := range map[string]string{
		"2 mL/L": "2 mL/L", "0.5 ml per litre": "0.5 ml per litre", "7.5 mL/gal": "7.5 mL/gal (2.0 mL/L)", "5 ml/US gal": "5 ml/US gal (1.3 mL/L)",
		"0.25 mL/gal": "0.25 mL/gal (0.066 mL/L)", "100 mL/gal.": "100 mL/gal. (26 mL/L)",
	} {
		ml, err := ParseDose(written)
		if err != nil {
			t.Fatal(err)
		}
		if got := (Dose{MLPerL: ml, Written: written}).Words(); got != want {
			t.Errorf("%q is shown as %q, want %q", written, got, want)
		}
	}
	p, _, err := Parse([]byte(strings.Replace(string(Template("Kale", sown)), "2 mL/L", "7.5 mL/gal", 1)), FileName)
	if err != nil {
		t.Fatal(err)
	}
	var shown []string
	for _, treatment := range p.Treatments {
		for _, d := range treatment.Gets {
			shown = append(shown, d.Words())
		}
	}
	if !slices.Contains(shown, "7.5 mL/gal (2.0 mL/L)") {
		t.Errorf("the plan's doses are shown as %q", shown)
	}
}
