package canvas

import "traygauge/vision/synth/brush/num"

// Within is the share of a texel that lies on the inner side of a straight edge: inside is the distance of the texel's middle from
// the edge in texels, positive inwards, and (nx, ny) the edge's unit normal. It is exact: the area of a unit square cut by a line.
func Within(inside, nx, ny float32) float32 {
	a, b := max(nx, -nx), max(ny, -ny)
	if a < b {
		a, b = b, a
	}
	t := max(inside, -inside)
	share := float32(1)
	if flat := float32((a - b) * 0.5); t <= flat {
		share = 0.5 + t/a
	} else if corner := float32((a+b)*0.5) - t; corner > 0 {
		share = 1 - float32(corner*corner)/float32(2*a*b)
	}
	if inside < 0 {
		return 1 - share
	}
	return share
}

// strip is the share of a texel that a straight strip covers: off is the distance of the texel's middle from the strip's middle
// line, half the strip's half width, both in texels. It is exact for strips narrower than a texel too.
func strip(off, half, nx, ny float32) float32 {
	return max(0, Within(half-off, nx, ny)+Within(half+off, nx, ny)-1)
}

// RimShare is the share of texel i inside an outline given by distances.
func RimShare(inside []float32, i int) float32 {
	in := inside[i]
	if in > 2 || in < -2 {
		return num.Within01(in)
	}
	x, y := i%Side, i/Side
	dx := inside[i+min(Side-1-x, 1)] - inside[i-min(x, 1)]
	dy := inside[i+Side*min(Side-1-y, 1)] - inside[i-Side*min(y, 1)]
	slope := num.Sqrt32(float32(dx*dx) + float32(dy*dy))
	if slope < 0.2 {
		return num.Within01(in + 0.5)
	}
	return Within(in/max(1, 0.5*slope), dx/slope, dy/slope)
}

// Outward is the unit direction in which distances fall.
func Outward(inside []float32, i int) (dx, dy float32) {
	x, y := i%Side, i/Side
	dx = inside[i-min(x, 1)] - inside[i+min(Side-1-x, 1)]
	dy = inside[i-Side*min(y, 1)] - inside[i+Side*min(Side-1-y, 1)]
	n := num.Sqrt32(float32(dx*dx) + float32(dy*dy))
	if n < 1e-4 {
		return 0, 0
	}
	return dx / n, dy / n
}
