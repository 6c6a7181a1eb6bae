package roots

import "traygauge/vision/synth/relief/num"

// Path is one root's centre line, from its base to its tip.
type Path struct {
	Points   []Point
	order    int     // 0 for a root of its own, 1 for its laterals, and so on
	stem     int     // the index of the root that it is a lateral of, -1 for none
	fork     int     // the stem's point at which it starts
	lineFrom float32 // mm along the path that lie within the parent's body
	cutBase  bool    // whether it begins and ends blunt rather than round
	cutTip   bool    //
	buried   []span  // where it dives into the medium
	lift     float32 // mm by which it lies higher than it would rest
}

// Point is a place on a root's centre line.
type Point struct {
	X, Y, Z float32 // mm; z is the height of the axis
	Radius  float32 // mm
	Along   float32 // mm from the root's base
	Own     num.RGB
}

// span is a part of a root's length, in mm from its base, with ends that fade over so many mm.
type span struct{ from, to, fade float32 }

// share is how much a place lies within the span.
func (s span) share(along float32) float32 {
	return num.Smooth(s.from-s.fade, s.from+s.fade, along) * (1 - num.Smooth(s.to-s.fade, s.to+s.fade, along))
}

// most is how much a place lies within any of the spans.
func most(spans []span, along float32) float32 {
	share := float32(0)
	for _, s := range spans {
		share = max(share, s.share(along))
	}
	return share
}

// Sunk is how much a place at so many mm from the base lies in the medium.
func (p *Path) Sunk(along float32) float32 { return most(p.buried, along) }

// Long is the path's length, mm.
func (p *Path) Long() float32 { return p.Points[len(p.Points)-1].Along }
