package synth

import (
	"fmt"
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

// Comb returns parallel straight lines about a middle, one of each width, gapMM from centre line to centre line and turned
// by deg, clockwise from x.
func Comb(middle card.Pt, lengthMM, gapMM, deg float64, widthsMM ...float64) []Line {
	turn := laid(card.Pt{}, middle, 1, deg)
	lines := make([]Line, len(widthsMM))
	for i, w := range widthsMM {
		y := gapMM * (float64(i) - float64(len(widthsMM)-1)/2)
		ax, ay := turn(-lengthMM/2, y)
		bx, by := turn(lengthMM/2, y)
		lines[i] = Line{Points: []card.Pt{cardPt(ax, ay), cardPt(bx, by)}, WidthMM: w}
	}
	return lines
}

func (l Line) check() error {
	if len(l.Points) < 2 || !(l.WidthMM > 0) {
		return fmt.Errorf("has %d points and is %g mm wide: give two points and a width", len(l.Points), l.WidthMM)
	}
	return nil
}

// checkLines refuses lines that would leave the plug, or roots beside them.
func (p Plant) checkLines(t Tray) error {
	if len(p.Lines) > 0 && (!p.Plug || p.RootLengthMM != 0) {
		return fmt.Errorf("%d lines need a plug without roots", len(p.Lines))
	}
	for i, l := range p.Lines {
		if err := l.check(); err != nil {
			return fmt.Errorf("line %d %w", i, err)
		}
		for _, at := range l.Points {
			if d := math.Hypot(at.X, at.Y) + l.WidthMM/2; d > 0.44*t.PlugBottomMM {
				return fmt.Errorf("line %d comes to %.1f mm from the middle: stay within %.1f mm", i, d, 0.44*t.PlugBottomMM)
			}
		}
	}
	return nil
}

// inkLines lays the plant's lines on its plug and adds up their truth.
func (p Plant) inkLines(at card.Pt, flat sheet, light float64, truth *CellTruth) {
	for _, l := range p.Lines {
		flat.ink(l.movedBy(at).outline(), l.colour().times(float32(light)))
		truth.RootAreaMM2 += l.AreaMM2()
		truth.RootLengthMM += l.LengthMM()
	}
}

func (l Line) movedBy(d card.Pt) Line {
	points := make([]card.Pt, len(l.Points))
	for i, p := range l.Points {
		points[i] = cardPt(p.X+d.X, p.Y+d.Y)
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
