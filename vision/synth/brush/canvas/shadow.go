package canvas

import "traygauge/vision/synth/brush/num"

// Shadow is cast by a ribbon: a soft band moved away from the lamp.
type Shadow struct {
	Depth float32 // 0..1
	Lift  float32 // height of the ribbon's middle above the ground, half widths
	Bury  []float32
	Gone  func(at num.Vec) bool // whether the ribbon is not to be seen at a place; may be nil
}

// CastRibbon darkens what lies below a ribbon by its shadow.
func (p *Painting) CastRibbon(b *Ribbon, s *Shadow, l *Lamp) {
	stride := max(1, int(8/b.Step))
	for k := 0; k < len(b.Points)-1; k += stride {
		z := min(k+stride, len(b.Points)-1)
		half := b.Half[k]
		depth := s.Depth
		if s.Bury != nil {
			depth = float32(depth * (1 - num.Within01(s.Bury[k])))
		}
		if depth < 0.02 || s.Gone != nil && s.Gone(b.Points[k]) {
			continue
		}
		height := float32(s.Lift * half)
		reach := float32(l.Direct*1.3) * height
		away := l.ShadowOf(min(1, float32(l.Direct*1.3)) * height)
		spread := float32(l.Soft*reach) + float32(0.35*half) + 0.7
		p.castPiece(b.Points[k].Plus(away), b.Points[z].Plus(away), half, spread, float32(depth*min(1, half+0.2)))
	}
	p.castShade()
}

// castPiece notes the shadow of a straight piece: full within its half width less spread, none beyond its half width and spread.
func (p *Painting) castPiece(a, z num.Vec, half, spread, depth float32) {
	d := z.Minus(a)
	length := float32(d.Length())
	way := d.Unit()
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
			t := min(1, float32((outer-num.Sqrt32(far))*scale))
			p.shadeAt(y*Side+x, float32(depth*t)*float32(t*(3-2*t)))
		}
	}
}

// CastDisc darkens what lies below by the shadow of a thing of a radius and a height, texels.
func (p *Painting) CastDisc(at num.Vec, radius, height, depth float32, l *Lamp) {
	away := l.ShadowOf(float32(min(1, float32(l.Direct*1.3)) * height))
	spread := float32(float32(l.Soft*height)*l.Direct) + float32(0.25*radius) + 0.7
	at = at.Plus(away)
	p.castPiece(at, at, radius, spread, depth)
	p.castShade()
}
