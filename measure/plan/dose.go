package plan

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"traygauge/measure/finding"
)

// litresPerGallon is the US gallon in litres: 231 cubic inches of exactly 2.54 cm (NIST SP 811, 2008, appendix B.8:
// 3.785 412 E-03 m³).
const litresPerGallon = 3.785411784

// maxMLPerL is the strongest mix that is taken for meant: a tenth of it is product.
const maxMLPerL = 100.0

// dosePattern is a number, a unit of volume and the volume it goes into.
var dosePattern = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?|\.[0-9]+)\s*(?i:ml)\s*(?:/|(?i:per))\s*([A-Za-z. ]+)$`)

// commaPattern is a strength with a decimal comma, and weightPattern one by weight.
var (
	commaPattern  = regexp.MustCompile(`^([0-9]+),([0-9]+\s*[A-Za-z].*)$`)
	weightPattern = regexp.MustCompile(`^[0-9.,]+\s*(?i:m?g)\s*(?:/|(?i:per))`)
)

// ParseDose reads a strength such as "2 mL/L" or "7.5 mL/gal" and returns it in mL per litre. A gallon is the US gallon.
func ParseDose(s string) (float64, error) {
	const remedy = `write it like "2 mL/L" or "7.5 mL/gal"`
	s = strings.TrimSpace(s)
	if parts := commaPattern.FindStringSubmatch(s); parts != nil {
		return 0, fmt.Errorf("the dose %s has a comma: write a point for decimals: %s.%s", finding.Short(s), parts[1], parts[2])
	}
	if weightPattern.MatchString(s) {
		return 0, fmt.Errorf("the dose %q is a weight, but doses must be volumes: make a solution of the powder first, and enter the dose of that in mL", finding.Short(s))
	}
	m := dosePattern.FindStringSubmatch(s)
	if m == nil {
		return 0, fmt.Errorf("the dose %q cannot be read: %s", finding.Short(s), remedy)
	}
	ml, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.IsInf(ml, 0) {
		return 0, fmt.Errorf("the dose %q cannot be read: %s", finding.Short(s), remedy)
	}
	switch strings.ToLower(strings.TrimSuffix(m[2], ".")) {
	case "l", "litre", "liter":
	case "gal", "gallon", "us gal", "us gallon":
		ml /= litresPerGallon
	default:
		return 0, fmt.Errorf("the dose %q is per %q: %s", finding.Short(s), finding.Short(m[2]), remedy)
	}
	if ml == 0 {
		return 0, fmt.Errorf("the dose %q is zero: remove the product instead", finding.Short(s))
	}
	if ml > maxMLPerL {
		return 0, fmt.Errorf("the dose %q is too high (%.4g mL/L): the limit is %g mL/L", finding.Short(s), ml, maxMLPerL)
	}
	return ml, nil
}

// Words returns the strength as the plan writes it. One that is not per litre has the metric value behind it, to two digits:
// "7.5 mL/gal (2.0 mL/L)".
func (d Dose) Words() string {
	switch {
	case d.Written == "":
		return perLitre(d.MLPerL)
	case perLitrePattern.MatchString(d.Written):
		return d.Written
	}
	return fmt.Sprintf("%s (%s)", d.Written, perLitre(d.MLPerL))
}

var perLitrePattern = regexp.MustCompile(`(?i)(/|per)\s*(l|litre|liter)\.?$`)

// perLitre writes a strength to two digits, or more where the integer part has them.
func perLitre(mlPerL float64) string {
	decimals := 0
	for limit := 10.0; mlPerL < limit && decimals < 6; limit /= 10 {
		decimals++
	}
	return strconv.FormatFloat(mlPerL, 'f', decimals, 64) + " mL/L"
}

// MLPerGallon returns the dose in mL per US gallon.
func (d Dose) MLPerGallon() float64 { return d.MLPerL * litresPerGallon }

// MLFor returns how many mL of the product go into volumeML of the mix. The product is so little of the mix that mix and
// water count as one.
func (d Dose) MLFor(volumeML float64) float64 { return d.MLPerL * volumeML / 1000 }
