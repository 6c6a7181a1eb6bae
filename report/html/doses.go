package html

import (
	"fmt"
	"math"
	"strconv"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report/html/axis"
	"traygauge/report/table"
)

// doseBlock is a product's dose in words and, from three doses on, as a curve.
type doseBlock struct {
	Words string
	Panel *growthPanel
}

func doseBlocks(r *outcome.Result) []doseBlock {
	var blocks []doseBlock
	for _, d := range r.Doses {
		blocks = append(blocks, doseBlock{Words: d.Words, Panel: dosePanel(d)})
	}
	return blocks
}

// dosePanel draws a dose's curve as a line, its interval's ends dashed, and the doses' means as dots; nil where there is no curve.
func dosePanel(d outcome.DoseTrend) *growthPanel {
	if len(d.Curve) == 0 {
		return nil
	}
	last := d.Curve[len(d.Curve)-1].MLPerL
	top := 0.0
	for _, p := range d.Curve {
		top = math.Max(top, float64(p.Upper))
	}
	for _, s := range d.Steps {
		top = math.Max(top, float64(s.Mean))
	}
	g := grid{0, 1, niceTop(top)}
	x := func(dose float64) string {
		return strconv.FormatFloat(growthLeft+(growthRight-growthLeft)*dose/last, 'f', 2, 64) + "%"
	}
	y := func(v float64) int { return g.y(math.Max(0, v)) }
	panel := &growthPanel{Treatment: d.Product, Colour: "k-more", Against: d.Quantity + ", " + d.Unit, YTicks: g.yTicks(),
		Alt: fmt.Sprintf("%s by dose of %s, with a fitted curve and its 95 %% interval up to the highest dose", d.Quantity, d.Product)}
	for _, end := range []struct {
		control bool
		of      func(outcome.CurvePoint) float64
	}{{true, func(p outcome.CurvePoint) float64 { return float64(p.Lower) }}, {true, func(p outcome.CurvePoint) float64 { return float64(p.Upper) }},
		{false, func(p outcome.CurvePoint) float64 { return float64(p.Value) }}} {
		l := growthLine{Control: end.control}
		for i, p := range d.Curve[1:] {
			before := d.Curve[i]
			l.Pieces = append(l.Pieces, growthPiece{x(before.MLPerL), x(p.MLPerL), y(end.of(before)), y(end.of(p))})
		}
		panel.Lines = append(panel.Lines, l)
	}
	dots := growthLine{}
	panel.XTicks = append(panel.XTicks, axis.Tick{At: x(0), Label: "0"})
	for _, s := range d.Steps {
		dots.Dots = append(dots.Dots, growthDot{x(s.MLPerL), y(float64(s.Mean)), fmt.Sprintf("%s, %s: %s %s", s.Treatment, s.Dose, table.WithU(s.Mean, reading.Missing), d.Unit)})
		panel.XTicks = append(panel.XTicks, axis.Tick{At: x(s.MLPerL), Label: wording.ToPlace(s.MLPerL, wording.PlaceOf(s.MLPerL, 2))})
	}
	panel.Lines = append(panel.Lines, dots)
	return panel
}
