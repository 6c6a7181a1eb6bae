package canvas

import "traygauge/vision/synth/brush/num"

// slab is a straight piece of a band: the texels whose middles lie within a length and within a reach to both sides.
type slab struct {
	ax, ay, dx, dy float32 // where it begins, and its unit direction
	lo, hi         float32 // from where to where along the direction, texels
	reach          float32 // to both sides, texels
	perX, perY     float32 // 1/dx and 1/dy, 0 where there is no limit
}

func newSlab(a, way num.Vec, lo, hi, reach float32) slab {
	s := slab{ax: float32(a.X), ay: float32(a.Y), dx: float32(way.X), dy: float32(way.Y), lo: lo, hi: hi, reach: reach}
	if s.dx > 1e-4 || s.dx < -1e-4 {
		s.perX = 1 / s.dx
	}
	if s.dy > 1e-4 || s.dy < -1e-4 {
		s.perY = 1 / s.dy
	}
	return s
}

// rows returns the rows that the slab passes.
func (s *slab) rows() (from, to int) {
	a, b := float32(s.dy*s.lo), float32(s.dy*s.hi)
	wide := float32(s.reach * max(s.dx, -s.dx))
	return Span(float64(s.ay+min(a, b)-wide-0.5), float64(s.ay+max(a, b)+wide))
}

// row returns the texels of row y that may lie in the slab, and how far the row's middle is below the slab's beginning.
func (s *slab) row(y int) (from, to int, ry float32) {
	ry = float32(y) + 0.5 - s.ay
	lo, hi := float32(-1e4), float32(1e4)
	if s.perY != 0 {
		middle := float32(float32(s.dx*ry) * s.perY)
		half := float32(s.reach * max(s.perY, -s.perY))
		lo, hi = middle-half, middle+half
	}
	if s.perX != 0 {
		a := float32((s.lo - float32(ry*s.dy)) * s.perX)
		b := float32((s.hi - float32(ry*s.dy)) * s.perX)
		lo, hi = max(lo, min(a, b)), min(hi, max(a, b))
	}
	lo, hi = s.ax+lo-0.5, s.ax+hi+0.5
	return int(max(0, min(Side, lo))), int(max(0, min(Side, hi))), ry
}
