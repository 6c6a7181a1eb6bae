package measure

import (
	"math"

	"traygauge/measure/reading"
	"traygauge/vision"
)

// placeOf returns the place of what outline encloses, at the scale of plane. nil for no outline and for one out of sight.
func placeOf(s *vision.Scene, plane *vision.Plane, outline []vision.Px) *reading.Place {
	if len(outline) == 0 {
		return nil
	}
	left, right, top, low := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, q := range outline {
		left, right, top, low = math.Min(left, q.X), math.Max(right, q.X), math.Min(top, q.Y), math.Max(low, q.Y)
	}
	middle := vision.Px{X: (left + right) / 2, Y: (top + low) / 2}
	a1, along := s.TrayPoint(0, 0), s.TrayPoint(1, 0)
	at := plane.ToMM(middle)
	scale := plane.PxPerMM(at)
	at.X, at.Y = at.X+along.X-a1.X, at.Y+along.Y-a1.Y
	next := plane.ToPx(at)
	angle := math.Atan2(next.Y-middle.Y, next.X-middle.X)
	p := reading.Place{X: middle.X, Y: middle.Y, AlongX: scale * math.Cos(angle), AlongY: scale * math.Sin(angle)}
	for _, v := range []float64{p.X, p.Y, p.AlongX, p.AlongY} {
		if math.IsNaN(v) || math.IsInf(v, 0) { // JSON knows no such numbers
			return nil
		}
	}
	round := func(v float64, to float64) float64 { return math.Round(v*to) / to }
	return &reading.Place{X: round(p.X, 10), Y: round(p.Y, 10), AlongX: round(p.AlongX, 1000), AlongY: round(p.AlongY, 1000)}
}
