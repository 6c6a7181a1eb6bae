package roots

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Bed is what roots come to rest on: the heap, and the roots laid before.
type Bed struct {
	heap  solids.Coarse // mm, the tops of the heap
	swell solids.Coarse // mm, below which no root sinks where it hangs over an edge
	top   []float32     // mm, the tops of the roots in each texel; noRoot where there are none
	flat  float32       // a root's height as a share of its width
	pile  float32       // mm to which roots pile up at most
}

const noRoot = -100

// NewBed takes the heap's tops, at which roots ride from 0 at the mean to 1 at the highest; no root is on it yet.
func NewBed(f *solids.Relief, swell solids.Coarse, flat, pile, ride float32) *Bed {
	b := &Bed{heap: tops(f, ride), swell: swell, top: make([]float32, solids.Side*solids.Side), flat: flat, pile: pile}
	for i := range b.top {
		b.top[i] = noRoot
	}
	return b
}

// tops is the height around each node of the coarse grid at which roots ride: the mean at ride 0, nearly the greatest at 1.
func tops(f *solids.Relief, ride float32) solids.Coarse {
	high, sum, number := make(solids.Coarse, solids.CoarseSide*solids.CoarseSide), make(solids.Coarse,
		solids.CoarseSide*solids.CoarseSide), make(solids.Coarse, solids.CoarseSide*solids.CoarseSide)
	for i := range high {
		high[i] = -1e3
	}
	for y := 0; y < solids.Across; y += 2 {
		j := (y + solids.CoarseEvery/2) / solids.CoarseEvery * solids.CoarseSide
		for x := 0; x < solids.Across; x += 2 {
			k, z := j+(x+solids.CoarseEvery/2)/solids.CoarseEvery, f.Z[y*solids.Across+x]
			high[k] = max(high[k], z)
			sum[k] += z
			number[k]++
		}
	}
	for i := range high {
		high[i] = num.Mix(sum[i]/max(1, number[i]), high[i], ride)
	}
	return high.Evened()
}

// Settle brings all paths to rest in their order, laterals in their stems; sunk is the share of a root's height that lies in the medium.
func (b *Bed) Settle(paths []Path, sunk float32) {
	for i := range paths {
		p := &paths[i]
		var stem *Point
		if p.stem >= 0 {
			stem = &paths[p.stem].Points[p.fork]
		}
		b.settleOne(p, sunk, stem)
	}
}

// settleOne gives a path its heights: on the heap, over what roots there are, less where it is buried.
func (b *Bed) settleOne(p *Path, sunk float32, stem *Point) {
	rest := make([]float32, len(p.Points))
	for i := range p.Points {
		rest[i] = b.rest(&p.Points[i], sunk)
	}
	b.stiffen(rest, p)
	for i := range p.Points {
		q := &p.Points[i]
		q.Z = rest[i] + p.lift - float32(p.Sunk(q.Along)*(0.3+float32(2.4*b.flat*q.Radius)))
		if stem != nil {
			q.Z = num.Mix(stem.Z-float32(0.3*stem.Radius), q.Z, num.Smooth(p.lineFrom, p.lineFrom+float32(4*stem.Radius), q.Along))
		}
	}
	for i := range p.Points {
		b.stamp(&p.Points[i])
	}
}

// rest is the height at which a root's axis comes to rest at a point.
func (b *Bed) rest(q *Point, sunk float32) float32 {
	half := b.flat * q.Radius
	sunk += float32(0.25 * num.Clamp(q.Radius-0.4, 0, 0.6)) // thick roots lie deeper
	ground := max(b.heap.At(q.X, q.Y), b.swell.At(q.X, q.Y)-0.4) + float32(half*(1-float32(2*sunk)))
	if i, ok := texelAt(q.X, q.Y); ok && b.top[i] > noRoot {
		over := b.top[i] + float32(0.8*half) - ground
		if over > 0 {
			ground += over / (1 + over/b.pile)
		}
	}
	return ground
}

// stiffen evens a path's heights over about four times its width, since roots bend little.
func (b *Bed) stiffen(z []float32, p *Path) {
	every := max(0.05, p.Points[1].Along-p.Points[0].Along)
	passes := min(14, 2+int(16*p.Points[0].Radius*p.Points[0].Radius/(every*every)))
	for range passes {
		before := z[0]
		for i := 1; i+1 < len(z); i++ {
			now := z[i]
			z[i] = float32(0.5*now) + float32(0.25*(before+z[i+1]))
			before = now
		}
	}
}

// stamp marks a point of a root as something that later roots lie over.
func (b *Bed) stamp(q *Point) {
	top := q.Z + float32(b.flat*q.Radius)
	n := int(q.Radius * solids.PerMM)
	cx, cy := int(q.X*solids.PerMM), int(q.Y*solids.PerMM)
	for y := max(0, cy-n); y <= min(solids.Side-1, cy+n); y++ {
		for x := max(0, cx-n); x <= min(solids.Side-1, cx+n); x++ {
			b.top[y*solids.Side+x] = max(b.top[y*solids.Side+x], top)
		}
	}
}

// texelAt is the index of the texel at a place, in mm.
func texelAt(x, y float32) (i int, ok bool) {
	if x < 0 || y < 0 || x >= solids.Width || y >= solids.Width {
		return 0, false
	}
	return int(y*solids.PerMM)*solids.Side + int(x*solids.PerMM), true
}

// TopAt is the height of the roots at a place, very low where there are none.
func (b *Bed) TopAt(x, y float32) float32 {
	if i, ok := texelAt(x, y); ok {
		return b.top[i]
	}
	return noRoot
}
