package brush

// within is the share of a texel that lies on the inner side of a straight edge: inside is the distance of the texel's middle from
// the edge in texels, positive inwards, and (nx, ny) the edge's unit normal. It is exact: the area of a unit square cut by a line.
func within(inside, nx, ny float32) float32 {
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
	return max(0, within(half-off, nx, ny)+within(half+off, nx, ny)-1)
}
