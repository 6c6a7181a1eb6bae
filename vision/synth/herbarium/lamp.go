package herbarium

import "math"

// lamp is the light over the drawing. Paper lying in the leaves' plane gets sun+sky = 1.
type lamp struct {
	toward [3]float64 // unit step to the lamp: x and y as in the drawing, the third up
	sun    float64    // the lamp's part of the light
	sky    float64    // the part that comes from all over
	soft   float64    // half the width of a shadow's edge, in mm for each mm between what casts it and what gets it
	wrap   float64    // how far a wide lamp reaches round a slope
	flat   float64    // what a level surface gets, before it is made 1
	half   point      // the slope that sends the lamp straight up
}

// lampOf draws a lamp, from hard sun to a dull sky.
func lampOf(d dice) lamp {
	var l lamp
	switch d.pick(0.25, 0.45, 0.3) {
	case 0: // sun or one small lamp
		l.sun, l.soft, l.wrap = d.between(0.65, 0.96), d.between(0.01, 0.06), d.between(0, 0.08)
	case 1: // lamps in a row, a panel, a window
		l.sun, l.soft, l.wrap = d.between(0.4, 0.75), d.between(0.1, 0.5), d.between(0.1, 0.3)
	default: // dull sky, a room
		l.sun, l.soft, l.wrap = d.between(0.15, 0.45), d.between(0.4, 0.9), d.between(0.25, 0.5)
	}
	l.sky = 1 - l.sun
	up := d.between(35, 88) * math.Pi / 180
	flat := heading(d.angle()).times(math.Cos(up))
	l.toward = [3]float64{flat.x, flat.y, math.Sin(up)}
	l.flat = (l.toward[2] + l.wrap) / (1 + l.wrap)
	l.half = flat.times(-1 / (1 + l.toward[2]))
	return l
}

// direct is the lamp's light on a surface that rises by gx and gy mm for each mm to the right and down, over that on a level one.
func (l *lamp) direct(gx, gy float64) float64 {
	lit := (l.toward[2] - gx*l.toward[0] - gy*l.toward[1]) / math.Sqrt(1+gx*gx+gy*gy)
	return max(0, (lit+l.wrap)/(1+l.wrap)/l.flat)
}

// around is the light from all over on a slope, over that on a level surface.
func (l *lamp) around(gx, gy float64) float64 {
	return 0.4 + 0.6/math.Sqrt(1+gx*gx+gy*gy)
}

// gloss is how strongly a surface of the given roughness sends the lamp up, 1 for the steepness that sends most: the lobe of a
// surface of small facets whose slopes' spread is rough (Trowbridge and Reitz 1975).
func (l *lamp) gloss(gx, gy, rough float64) float64 {
	dx, dy := gx-l.half.x, gy-l.half.y
	k := 1 + (dx*dx+dy*dy)/(rough*rough)
	return 1 / (k * k)
}

// fall is how far to the side the lamp's shadow falls for each mm down, in mm.
func (l *lamp) fall() point {
	return point{-l.toward[0], -l.toward[1]}.times(1 / l.toward[2])
}
