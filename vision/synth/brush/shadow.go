package brush

// shadow is cast by a ribbon: a soft band moved away from the lamp.
type shadow struct {
	depth float32 // 0..1
	lift  float32 // height of the ribbon's middle above the ground, half widths
	bury  []float32
	gone  func(at vec) bool // whether the ribbon is not to be seen at a place; may be nil
}

// castRibbon darkens what lies below a ribbon by its shadow.
func (p *painting) castRibbon(b *ribbon, s *shadow, l *lamp) {
	stride := max(1, int(8/b.step))
	for k := 0; k < len(b.points)-1; k += stride {
		z := min(k+stride, len(b.points)-1)
		half := b.half[k]
		depth := s.depth
		if s.bury != nil {
			depth = float32(depth * (1 - within01(s.bury[k])))
		}
		if depth < 0.02 || s.gone != nil && s.gone(b.points[k]) {
			continue
		}
		height := float32(s.lift * half)
		reach := float32(l.direct*1.3) * height
		away := l.shadowOf(min(1, float32(l.direct*1.3)) * height)
		spread := float32(l.soft*reach) + float32(0.35*half) + 0.7
		p.castPiece(b.points[k].plus(away), b.points[z].plus(away), half, spread, float32(depth*min(1, half+0.2)))
	}
	p.castShade()
}

// castPiece notes the shadow of a straight piece: full within its half width less spread, none beyond its half width and spread.
func (p *painting) castPiece(a, z vec, half, spread, depth float32) {
	d := z.minus(a)
	length := float32(d.length())
	way := d.unit()
	outer := half + spread
	inner := half - spread
	limit := float32(outer * outer)
	scale := 1 / (outer - inner)
	piece := newSlab(a, way, -outer, length+outer, outer)
	ax, dx, dy := piece.ax, piece.dx, piece.dy
	y0, y1 := piece.rows()
	for y := y0; y < y1; y++ {
		x0, x1, ry := piece.row(y)
		for x := x0; x < x1; x++ {
			rx := float32(x) + 0.5 - ax
			past := float32(rx*dx) + float32(ry*dy)
			past -= min(length, max(0, past))
			off := float32(dx*ry) - float32(dy*rx)
			far := float32(past*past) + float32(off*off)
			if far >= limit {
				continue
			}
			t := min(1, float32((outer-sqrt32(far))*scale))
			p.shadeAt(y*side+x, float32(depth*t)*float32(t*(3-2*t)))
		}
	}
}

// castDisc darkens what lies below by the shadow of a thing of a radius and a height, texels.
func (p *painting) castDisc(at vec, radius, height, depth float32, l *lamp) {
	away := l.shadowOf(float32(min(1, float32(l.direct*1.3)) * height))
	spread := float32(float32(l.soft*height)*l.direct) + float32(0.25*radius) + 0.7
	at = at.plus(away)
	p.castPiece(at, at, radius, spread, depth)
	p.castShade()
}
