package relief

// bed is what roots come to rest on: the heap, and the roots laid before.
type bed struct {
	heap  coarse    // mm, the tops of the heap
	swell coarse    // mm, below which no root sinks where it hangs over an edge
	top   []float32 // mm, the tops of the roots in each texel; noRoot where there are none
	flat  float32   // a root's height as a share of its width
	pile  float32   // mm to which roots pile up at most
}

const noRoot = -100

func newBed(f *relief, swell coarse, flat, pile, ride float32) *bed {
	b := &bed{heap: tops(f, ride), swell: swell, top: make([]float32, side*side), flat: flat, pile: pile}
	for i := range b.top {
		b.top[i] = noRoot
	}
	return b
}

// tops is the height around each node of the coarse grid at which roots ride: the mean at ride 0, nearly the greatest at 1.
func tops(f *relief, ride float32) coarse {
	high, sum, number := make(coarse, coarseSide*coarseSide), make(coarse, coarseSide*coarseSide), make(coarse, coarseSide*coarseSide)
	for i := range high {
		high[i] = -1e3
	}
	for y := 0; y < across; y += 2 {
		j := (y + coarseEvery/2) / coarseEvery * coarseSide
		for x := 0; x < across; x += 2 {
			k, z := j+(x+coarseEvery/2)/coarseEvery, f.z[y*across+x]
			high[k] = max(high[k], z)
			sum[k] += z
			number[k]++
		}
	}
	for i := range high {
		high[i] = mix(sum[i]/max(1, number[i]), high[i], ride)
	}
	return high.evened()
}

// evened mixes each node with the four around it.
func (c coarse) evened() coarse {
	out := make(coarse, len(c))
	for i := range out {
		x, y := i%coarseSide, i/coarseSide
		left, right := y*coarseSide+max(0, x-1), y*coarseSide+min(coarseSide-1, x+1)
		up, down := max(0, y-1)*coarseSide+x, min(coarseSide-1, y+1)*coarseSide+x
		out[i] = float32(0.4*c[i]) + float32(0.15*(c[left]+c[right]+c[up]+c[down]))
	}
	return out
}

// settle gives a path its heights: on the heap, over what roots there are, less where it is buried.
func (b *bed) settle(p *path, sunk float32, stem *point) {
	rest := make([]float32, len(p.points))
	for i := range p.points {
		rest[i] = b.rest(&p.points[i], sunk)
	}
	b.stiffen(rest, p)
	for i := range p.points {
		q := &p.points[i]
		q.z = rest[i] + p.lift - float32(most(p.buried, q.along)*(0.3+float32(2.4*b.flat*q.radius)))
		if stem != nil {
			q.z = mix(stem.z-float32(0.3*stem.radius), q.z, smooth(p.lineFrom, p.lineFrom+float32(4*stem.radius), q.along))
		}
	}
	for i := range p.points {
		b.stamp(&p.points[i])
	}
}

// rest is the height at which a root's axis comes to rest at a point.
func (b *bed) rest(q *point, sunk float32) float32 {
	half := b.flat * q.radius
	sunk += float32(0.25 * clamp(q.radius-0.4, 0, 0.6)) // thick roots lie deeper
	ground := max(b.heap.at(q.x, q.y), b.swell.at(q.x, q.y)-0.4) + float32(half*(1-float32(2*sunk)))
	if i, ok := texelAt(q.x, q.y); ok && b.top[i] > noRoot {
		over := b.top[i] + float32(0.8*half) - ground
		if over > 0 {
			ground += over / (1 + over/b.pile)
		}
	}
	return ground
}

// stiffen evens a path's heights over about four times its width, since roots bend little.
func (b *bed) stiffen(z []float32, p *path) {
	every := max(0.05, p.points[1].along-p.points[0].along)
	passes := min(14, 2+int(16*p.points[0].radius*p.points[0].radius/(every*every)))
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
func (b *bed) stamp(q *point) {
	top := q.z + float32(b.flat*q.radius)
	n := int(q.radius * perMM)
	cx, cy := int(q.x*perMM), int(q.y*perMM)
	for y := max(0, cy-n); y <= min(side-1, cy+n); y++ {
		for x := max(0, cx-n); x <= min(side-1, cx+n); x++ {
			b.top[y*side+x] = max(b.top[y*side+x], top)
		}
	}
}

// texelAt is the index of the texel at a place, in mm.
func texelAt(x, y float32) (i int, ok bool) {
	if x < 0 || y < 0 || x >= width || y >= width {
		return 0, false
	}
	return int(y*perMM)*side + int(x*perMM), true
}

// topAt is the height of the roots at a place, very low where there are none.
func (b *bed) topAt(x, y float32) float32 {
	if i, ok := texelAt(x, y); ok {
		return b.top[i]
	}
	return noRoot
}
