package canvas

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Lamp is the light over the drawing. Paper lying in the leaves' plane gets sun+sky = 1.
type Lamp struct {
	toward [3]float64 // unit step to the lamp: x and y as in the drawing, the third up
	Sun    float64    // the lamp's part of the light
	Sky    float64    // the part that comes from all over
	Soft   float64    // half the width of a shadow's edge, in mm for each mm between what casts it and what gets it
	wrap   float64    // how far a wide lamp reaches round a slope
	flat   float64    // what a level surface gets, before it is made 1
	half   num.Point  // the slope that sends the lamp straight up
}

// LampOf draws a lamp, from hard sun to a dull sky.
func LampOf(d num.Dice) Lamp {
	var l Lamp
	switch d.Pick(0.25, 0.45, 0.3) {
	case 0: // sun or one small lamp
		l.Sun, l.Soft, l.wrap = d.Between(0.65, 0.96), d.Between(0.01, 0.06), d.Between(0, 0.08)
	case 1: // lamps in a row, a panel, a window
		l.Sun, l.Soft, l.wrap = d.Between(0.4, 0.75), d.Between(0.1, 0.5), d.Between(0.1, 0.3)
	default: // dull sky, a room
		l.Sun, l.Soft, l.wrap = d.Between(0.15, 0.45), d.Between(0.4, 0.9), d.Between(0.25, 0.5)
	}
	l.Sky = 1 - l.Sun
	up := d.Between(35, 88) * math.Pi / 180
	flat := num.Heading(d.Angle()).Times(math.Cos(up))
	l.toward = [3]float64{flat.X, flat.Y, math.Sin(up)}
	l.flat = (l.toward[2] + l.wrap) / (1 + l.wrap)
	l.half = flat.Times(-1 / (1 + l.toward[2]))
	return l
}

// Direct is the lamp's light on a surface that rises by gx and gy mm for each mm to the right and down, over that on a level one.
func (l *Lamp) Direct(gx, gy float64) float64 {
	lit := (l.toward[2] - gx*l.toward[0] - gy*l.toward[1]) / math.Sqrt(1+gx*gx+gy*gy)
	return max(0, (lit+l.wrap)/(1+l.wrap)/l.flat)
}

// Around is the light from all over on a slope, over that on a level surface.
func (l *Lamp) Around(gx, gy float64) float64 {
	return 0.4 + 0.6/math.Sqrt(1+gx*gx+gy*gy)
}

// Gloss is how strongly a surface of the given roughness sends the lamp up, 1 for the steepness that sends most: the lobe of a
// surface of small facets whose slopes' spread is rough (Trowbridge and Reitz 1975).
func (l *Lamp) Gloss(gx, gy, rough float64) float64 {
	dx, dy := gx-l.half.X, gy-l.half.Y
	k := 1 + (dx*dx+dy*dy)/(rough*rough)
	return 1 / (k * k)
}

// Fall is how far to the side the lamp's shadow falls for each mm down, in mm.
func (l *Lamp) Fall() num.Point {
	return num.At(-l.toward[0], -l.toward[1]).Times(1 / l.toward[2])
}
