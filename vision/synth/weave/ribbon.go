package weave

import "math"

// knot is a point of something long and thin.
type knot struct {
	x, y, r float64 // mm; r is half its width
	own     rgb
	bury    float32 // how deep it lies in the medium, 0..1
}

// ribbon is something long and thin.
type ribbon struct {
	knots      []knot
	cutA, cutB bool // ends with a straight edge; else round
}

// span is how many segments a place of a ribbon may be away and still be the same pass.
func (b *ribbon) span(k int) int32 {
	a, z := &b.knots[k], &b.knots[k+1]
	return int32(min(80, 3*max(a.r, z.r)/(math.Hypot(z.x-a.x, z.y-a.y)+1e-6))) + 3
}

// trace runs lay over each fine sample that a ribbon covers, once a pass: k is the segment, t where between its knots, u where
// across, -1 to 1, positive on the left. It returns the number of the first segment.
func (s *scene) trace(b *ribbon, lay func(i, k int, t, u float32)) int32 {
	first := s.next
	s.next += int32(len(b.knots)) + 100 // more than any span
	last := len(b.knots) - 2
	for k := 0; k <= last; k++ {
		a, z := &b.knots[k], &b.knots[k+1]
		long := math.Hypot(z.x-a.x, z.y-a.y) * perS
		if long < 1e-6 {
			continue
		}
		dx, dy := float32((z.x-a.x)*perS/long), float32((z.y-a.y)*perS/long)
		ra, rz, length := float32(a.r*perS), float32(z.r*perS), float32(long)
		before, after := b.joint(k)*ra, b.joint(k+1)*rz
		r := max(ra, rz)
		ax, ay, zx, zy := float32(a.x*perS), float32(a.y*perS), float32(z.x*perS), float32(z.y*perS)
		x0, x1 := max(0, int(min(ax, zx)-r-1)), min(fine-1, int(max(ax, zx)+r+1))
		y0, y1 := max(0, int(min(ay, zy)-r-1)), min(fine-1, int(max(ay, zy)+r+1))
		id, span := first+int32(k), b.span(k)
		for y := y0; y <= y1; y++ {
			py := float32(y) + 0.5 - ay
			for x := x0; x <= x1; x++ {
				px := float32(x) + 0.5 - ax
				along, off := px*dx+py*dy, py*dx-px*dy
				if along < -before || along > length+after {
					continue
				}
				t := clamp01(along / length)
				half := ra + (rz-ra)*t
				past := float32(0) // beyond a round end
				if k == 0 && along < 0 || k == last && along > length {
					past = along - t*length
				}
				if off*off+past*past > half*half {
					continue
				}
				i := y*fine + x
				if id-s.stamp[i] <= span && s.stamp[i] >= first {
					continue
				}
				s.stamp[i] = id
				lay(i, k, t, off/half)
			}
		}
	}
	return first
}

// joint is how far past a knot, in half widths, it reaches: over the outside of its bend, or into a round end.
func (b *ribbon) joint(k int) float32 {
	if k == 0 && b.cutA || k == len(b.knots)-1 && b.cutB {
		return 0
	}
	if k == 0 || k == len(b.knots)-1 {
		return 1
	}
	p, q, n := &b.knots[k-1], &b.knots[k], &b.knots[k+1]
	ax, ay, bx, by := q.x-p.x, q.y-p.y, n.x-q.x, n.y-q.y
	return float32(min(1, 0.1+math.Abs(ax*by-ay*bx)/(math.Hypot(ax, ay)*math.Hypot(bx, by)+1e-9)))
}

// lines adds a root's centre line to the texels where the root can be seen.
func (s *scene) lines(r *root) {
	const step = 0.4 // samples
	for k := range len(r.knots) - 1 {
		a, z := &r.knots[k], &r.knots[k+1]
		long := math.Hypot(z.x-a.x, z.y-a.y)
		n := int(long*perS/step) + 1
		span := r.span(k)
		for j := range n {
			t := (float64(j) + 0.5) / float64(n)
			x, y := int(math.Floor((a.x+t*(z.x-a.x))*perS)), int(math.Floor((a.y+t*(z.y-a.y))*perS))
			if x < 0 || y < 0 || x >= fine || y >= fine {
				continue
			}
			if off := s.fine.owner[y*fine+x] - r.first - int32(k); off <= span && off >= -span {
				s.out.Line[y/sub*side+x/sub] += float32(long / float64(n))
			}
		}
	}
}
