package scene

import (
	"math"

	"traygauge/vision/card"
)

// Line is a flat-ended band of even width along a polyline on the card's plane, in mm. Its own area and length are known
// from geometry alone. Turns must be gentle: no sharper than 60°, and wider than the band.
type Line struct {
	Points  []card.Pt
	WidthMM float64
	Colour  [3]float64 // reflectance, linear; zero is the cream of a root
}

// Arc returns points along a circle's arc, a point every 0.1 mm or finer.
func Arc(middle card.Pt, radius, fromDeg, toDeg float64) []card.Pt {
	n := max(8, int(math.Ceil(radius*rad(math.Abs(toDeg-fromDeg))/0.1)))
	points := make([]card.Pt, n+1)
	for i := range points {
		sin, cos := math.Sincos(rad(fromDeg + (toDeg-fromDeg)*float64(i)/float64(n)))
		points[i] = cardPt(middle.X+radius*cos, middle.Y+radius*sin)
	}
	return points
}

// LengthMM is the length of l's centre line.
func (l Line) LengthMM() (length float64) {
	for i := 1; i < len(l.Points); i++ {
		length += math.Hypot(l.Points[i].X-l.Points[i-1].X, l.Points[i].Y-l.Points[i-1].Y)
	}
	return length
}

// AreaMM2 is the area of the band that is drawn (the shoelace formula on its outline).
func (l Line) AreaMM2() (area float64) {
	loop := l.outline()[0]
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		area += (p.X*q.Y - q.X*p.Y) / 2
	}
	return math.Abs(area)
}

// outline is the band's edge: up one side and down the other, with mitred turns.
func (l Line) outline() outline {
	n := len(l.Points)
	loop := make([]card.Pt, 2*n)
	for i, p := range l.Points {
		a, b := l.direction(max(i-1, 0)), l.direction(min(i, n-2))
		x, y := a.X+b.X, a.Y+b.Y
		// The mitre: half the width divided by the cosine of half the turn, along the bisector's normal.
		k := l.WidthMM / 2 * 2 / (x*x + y*y)
		loop[i] = cardPt(p.X-y*k, p.Y+x*k)
		loop[2*n-1-i] = cardPt(p.X+y*k, p.Y-x*k)
	}
	return outline{loop}
}

// direction is the unit vector of segment i.
func (l Line) direction(i int) card.Pt {
	p, q := l.Points[i], l.Points[i+1]
	d := math.Hypot(q.X-p.X, q.Y-p.Y)
	return cardPt((q.X-p.X)/d, (q.Y-p.Y)/d)
}

func (l Line) colour() rgb {
	if l.Colour == ([3]float64{}) {
		return rgb{0.58, 0.52, 0.40}
	}
	return rgb{float32(l.Colour[0]), float32(l.Colour[1]), float32(l.Colour[2])}
}

// linesGround is the medium's colour, a little uneven.
func linesGround(soft []float32, x, y float64) rgb {
	return rgb{0.040, 0.026, 0.018}.times(float32(1 + 0.08*cloud(soft, x*1.3, y*1.3)))
}
