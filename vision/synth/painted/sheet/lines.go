package sheet

import (
	"fmt"
	"math"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/num"
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
	n := max(8, int(math.Ceil(radius*num.Rad(math.Abs(toDeg-fromDeg))/0.1)))
	points := make([]card.Pt, n+1)
	for i := range points {
		sin, cos := math.Sincos(num.Rad(fromDeg + (toDeg-fromDeg)*float64(i)/float64(n)))
		points[i] = CardPt(middle.X+radius*cos, middle.Y+radius*sin)
	}
	return points
}

// Comb returns parallel straight lines about a middle, one of each width, gapMM from centre line to centre line and turned
// by deg, clockwise from x.
func Comb(middle card.Pt, lengthMM, gapMM, deg float64, widthsMM ...float64) []Line {
	turn := Laid(card.Pt{}, middle, 1, deg)
	lines := make([]Line, len(widthsMM))
	for i, w := range widthsMM {
		y := gapMM * (float64(i) - float64(len(widthsMM)-1)/2)
		ax, ay := turn(-lengthMM/2, y)
		bx, by := turn(lengthMM/2, y)
		lines[i] = Line{Points: []card.Pt{CardPt(ax, ay), CardPt(bx, by)}, WidthMM: w}
	}
	return lines
}

// Check refuses a line that is none.
func (l Line) Check() error {
	if len(l.Points) < 2 || !(l.WidthMM > 0) {
		return fmt.Errorf("has %d points and is %g mm wide: give two points and a width", len(l.Points), l.WidthMM)
	}
	return nil
}

// movedBy returns the line with all its points so far away.
func (l Line) movedBy(d card.Pt) Line {
	points := make([]card.Pt, len(l.Points))
	for i, p := range l.Points {
		points[i] = CardPt(p.X+d.X, p.Y+d.Y)
	}
	l.Points = points
	return l
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

// InkOn prints the line on a sheet, all its points so far away; light is a factor on what it sends back.
func (l Line) InkOn(s Sheet, away card.Pt, light float64) {
	s.Ink(l.movedBy(away).outline(), l.reflects().Times(float32(light)))
}

// outline is the band's edge: up one side and down the other, with mitred turns.
func (l Line) outline() Outline {
	n := len(l.Points)
	loop := make([]card.Pt, 2*n)
	for i, p := range l.Points {
		a, b := l.direction(max(i-1, 0)), l.direction(min(i, n-2))
		x, y := a.X+b.X, a.Y+b.Y
		// The mitre: half the width divided by the cosine of half the turn, along the bisector's normal.
		k := l.WidthMM / 2 * 2 / (x*x + y*y)
		loop[i] = CardPt(p.X-y*k, p.Y+x*k)
		loop[2*n-1-i] = CardPt(p.X+y*k, p.Y-x*k)
	}
	return Outline{loop}
}

// direction is the unit vector of segment i.
func (l Line) direction(i int) card.Pt {
	p, q := l.Points[i], l.Points[i+1]
	d := math.Hypot(q.X-p.X, q.Y-p.Y)
	return CardPt((q.X-p.X)/d, (q.Y-p.Y)/d)
}

// reflects is what the line sends back.
func (l Line) reflects() num.RGB {
	if l.Colour == ([3]float64{}) {
		return num.RGB{0.58, 0.52, 0.40}
	}
	return num.RGB{float32(l.Colour[0]), float32(l.Colour[1]), float32(l.Colour[2])}
}
