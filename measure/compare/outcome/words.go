package outcome

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"traygauge/measure/wording"
)

// InWords returns a comparison as one sentence. It makes a claim about a treatment only if it is based on trays.
func (c Comparison) InWords() string {
	if c.Kind == Interaction {
		return c.togetherSentence()
	}
	trays := fmt.Sprintf(" (%s)", TraysAgainst(len(c.TrayNumbers), len(c.ControlTrays)))
	what := c.Quantity
	switch c.Verdict {
	case More, Less:
		return fmt.Sprintf("%s: %s %s %s, %s%s", c.Treatment, what, c.Size(), c.Control, c.Interval(), trays)
	case Unclear:
		return fmt.Sprintf("%s: no clear difference in %s from %s: %s, %s%s", c.Treatment, what, c.Control, c.SizeAlone(), c.Interval(), trays)
	case TheseTrays:
		return fmt.Sprintf("%s: %s in %s is %s %s (%s), %s for these trays, not for the treatments%s", c.Treatment, what,
			wording.Trays(c.TrayNumbers), c.sizeOfTray(), wording.Trays(c.ControlTrays), c.Control, c.Interval(), c.explained())
	}
	if float64(c.Estimate) == c.none() && c.Scale == Difference {
		return fmt.Sprintf("%s: %s is the same as with %s, %s", c.Treatment, what, c.Control, Amount(float64(c.Mean), c.Unit))
	}
	return fmt.Sprintf("%s: %s %s %s%s; uncertainty unknown", c.Treatment, what, c.Size(), c.Control, trays)
}

// togetherSentence returns the sentence for a combination compared with its parts.
func (c Comparison) togetherSentence() string {
	parts := fmt.Sprintf("%s and %s combined", c.Parts[0], c.Parts[1])
	size := fmt.Sprintf("%s times", c.Figure(c.Estimate))
	if c.Scale == Difference {
		size = WithUnit(c.Figure(c.Estimate), PointsOf(c.Unit))
	}
	switch c.Verdict {
	case More, Less:
		word := map[Verdict]string{More: "more than", Less: "less than"}[c.Verdict]
		return fmt.Sprintf("%s: %s is %s expected from %s if each works as it does alone: %s, %s", c.Treatment, c.Quantity, word, parts, size, c.Interval())
	case Unclear:
		return fmt.Sprintf("%s: unclear whether %s is more or less than expected from %s: %s, %s", c.Treatment, c.Quantity, parts, size, c.Interval())
	case TheseTrays:
		return fmt.Sprintf("%s: %s against %s: %s, %s for these trays, not for the treatments%s", c.Treatment, c.Quantity, parts, size,
			c.Interval(), c.explained())
	}
	return fmt.Sprintf("%s: %s against %s: %s; uncertainty unknown", c.Treatment, c.Quantity, parts, size)
}

// none returns the value for no difference.
func (c Comparison) none() float64 {
	if c.Scale == Ratio {
		return 1
	}
	return 0
}

// Size returns the size of the difference, as in "1.6 times that of" or "12 percentage points above".
func (c Comparison) Size() string {
	if c.Scale == Ratio {
		return c.Figure(c.Estimate) + " times that of"
	}
	word := "above"
	if c.Estimate < 0 {
		word = "below"
	}
	return WithUnit(c.unsigned(c.Estimate), PointsOf(c.Unit)) + " " + word
}

// SizeAlone is Size without a following name.
func (c Comparison) SizeAlone() string {
	if c.Scale == Ratio {
		return c.Figure(c.Estimate) + " times"
	}
	return WithUnit(c.Figure(c.Estimate), PointsOf(c.Unit))
}

// sizeOfTray is Size followed by a tray.
func (c Comparison) sizeOfTray() string {
	if c.Scale == Ratio {
		return c.Figure(c.Estimate) + " times that in"
	}
	return c.Size()
}

// Interval returns the interval, as in "95 % interval 1.3 to 2.0". If a difference is given as an amount below, so are its ends.
func (c Comparison) Interval() string {
	low, high := float64(c.Lower), float64(c.Upper)
	switch {
	case c.SaysNothing():
		return "the interval is too wide to use"
	case !c.Lower.Known():
		return "no interval"
	case c.Scale == Ratio:
		return fmt.Sprintf("95 %% interval %s to %s", c.Figure(c.Lower), c.Figure(c.Upper))
	case c.Kind != Interaction && (c.Verdict == More || low > 0):
		return fmt.Sprintf("95 %% interval %s to %s", c.unsigned(c.Lower), c.unsigned(c.Upper))
	case c.Kind != Interaction && (c.Verdict == Less || high < 0):
		return fmt.Sprintf("95 %% interval %s to %s", c.unsigned(c.Upper), c.unsigned(c.Lower))
	case c.Kind != Interaction && c.Verdict == TheseTrays:
		return fmt.Sprintf("95 %% interval from %s below to %s above", c.unsigned(c.Lower), c.unsigned(c.Upper))
	}
	return fmt.Sprintf("95 %% interval %s to %s", c.Figure(c.Lower), c.Figure(c.Upper))
}

// explained returns the variation between trays that is enough to explain a difference between two trays.
func (c Comparison) explained() string {
	switch {
	case !c.ExplainedBy.Known():
		return ""
	case c.ExplainedBy == 0:
		return "; the variation between plugs is enough to explain it"
	case c.Scale == Ratio:
		return fmt.Sprintf("; a variation of %s %% (CV) between trays treated alike is enough to explain it", plain(float64(c.ExplainedBy)))
	}
	return fmt.Sprintf("; a variation of %s (SD) between trays treated alike is enough to explain it", WithUnit(amountOnly(float64(c.ExplainedBy), c.Unit), PointsOf(c.Unit)))
}

// PointsOf returns the unit of a difference in words.
func PointsOf(unit string) string {
	switch unit {
	case "%":
		return "percentage points"
	case "% a day":
		return "percentage points a day"
	case "":
		return "units"
	}
	return unit
}

// amountOnly formats a value with the decimals for its unit.
func amountOnly(v float64, unit string) string {
	switch {
	case math.IsNaN(v):
		return "unknown"
	case unit == "":
		return trimZero(strconv.FormatFloat(v, 'f', 3, 64))
	case math.Abs(v) >= 100:
		return trimZero(strconv.FormatFloat(v, 'f', 0, 64))
	}
	return trimZero(strconv.FormatFloat(v, 'f', 1, 64))
}

// trimZero makes 0 of "-0.0" and "0.0".
func trimZero(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

func Amount(v float64, unit string) string {
	return WithUnit(amountOnly(v, unit), unit)
}

// WithUnit puts a unit behind a figure. Degrees of an angle follow without a space (SI Brochure, 9th ed., 5.4.3).
func WithUnit(figure, unit string) string {
	if unit == "°" {
		return figure + unit
	}
	return strings.TrimSpace(figure + " " + unit)
}

// signed is amountOnly with a sign.
func signed(v float64, unit string) string {
	s := amountOnly(v, unit)
	if v > 0 && s != "0" {
		return "+" + s
	}
	return s
}

// plain writes v with two significant digits, and whole from 10 on.
func plain(v float64) string {
	if v >= 10 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 2, 64)
}

// TraysAgainst returns the numbers of trays on both sides, as in "2 trays against 1".
func TraysAgainst(n, control int) string {
	return fmt.Sprintf("%s against %d", wording.Counted(n, "tray", "trays"), control)
}
