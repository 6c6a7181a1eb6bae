package weave

import "math"

func sqrt(x float64) float64 { return math.Sqrt(x) }

// tray is where the plugs are: in a grid of holes, or one alone.
type tray struct {
	x, y   float64 // the middle plug's middle
	half   float64 // half a plug's width
	shape  int     // 0 box with round corners, 1 octagon
	corner float64 // radius of the corners
	turn   [2]float64
	pitch  float64
	bare   [121]bool // cells without a plug
}

func newTray(d dice) *tray {
	t := &tray{half: d.in(7.5, 19), pitch: 1e3}
	if d.chance(0.55) {
		t.half = d.in(13, 19)
	}
	switch d.pick(0.5, 0.12, 0.25, 0.13) {
	case 0:
		t.corner = t.half
	case 1:
		t.corner = d.in(0, 0.08) * t.half
	case 2:
		t.corner = d.in(0.1, 0.7) * t.half
	case 3:
		t.shape = 1
	}
	dx, dy := d.facing()
	off := d.in(0, 2)
	t.x, t.y = width/2+dx*off, width/2+dy*off
	t.turn = [2]float64{1, 0}
	if d.chance(0.4) {
		t.turn[0], t.turn[1] = d.facing()
	}
	if d.chance(0.75) {
		t.pitch = 2*t.half + d.log(1.5, 14)
		for i := range t.bare {
			t.bare[i] = d.chance(0.12)
		}
	}
	t.bare[60] = d.chance(0.015)
	return t
}

// local returns a place relative to the nearest cell's middle, and whether the cell holds a plug.
func (t *tray) local(x, y float64) (u, v float64, plug bool) {
	x, y = x-t.x, y-t.y
	u, v = x*t.turn[0]+y*t.turn[1], y*t.turn[0]-x*t.turn[1]
	i, j := math.Round(u/t.pitch), math.Round(v/t.pitch)
	k := 11*min(10, max(0, int(j)+5)) + min(10, max(0, int(i)+5))
	return u - i*t.pitch, v - j*t.pitch, !t.bare[k]
}

// hole is how far inside the nearest hole's edge a place is, in mm.
func (t *tray) hole(x, y float64) (in float64, plug bool) {
	u, v, plug := t.local(x, y)
	u, v = math.Abs(u), math.Abs(v)
	if t.shape == 1 {
		return t.half - max(u, v, (u+v)/math.Sqrt2), plug
	}
	u, v = u-(t.half-t.corner), v-(t.half-t.corner)
	return t.corner - min(0, max(u, v)) - math.Hypot(max(0, u), max(0, v)), plug
}

// inside is how far inside the nearest plug's edge a place is, in mm.
func (t *tray) inside(x, y float64) float64 {
	in, plug := t.hole(x, y)
	if !plug {
		return -max(1, math.Abs(in))
	}
	return in
}
