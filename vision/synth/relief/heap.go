package relief

// heap lays a medium's particles, as many as its plugs have room for.
type heap struct {
	dice
	*relief
	*palette
	inside []int32 // nodes of the coarse grid that lie in a plug
	area   float32 // mm² of plug in the drawing
	depth  coarse  // mm inside the nearest plug's edge
	swell  coarse  // mm of height on which particles lie
	seed   int     // where the particles' roughness is read in the noise tables
}

func newHeap(d dice, f *relief, p *palette, plug, swell coarse) *heap {
	h := &heap{dice: d, relief: f, palette: p, depth: plug, swell: swell}
	for i, in := range plug {
		if in > 0 {
			h.inside = append(h.inside, int32(i))
		}
	}
	h.area = float32(len(h.inside)) * coarseStep * coarseStep
	return h
}

// spot is any place on the plugs for a particle of the given width, and the height there. Only some hang out over the edge.
func (h *heap) spot(size float32) (x, y, z float32) {
	at := int(h.inside[h.IntN(len(h.inside))])
	for range 3 {
		if h.depth[at] >= 0.4*size {
			break
		}
		at = int(h.inside[h.IntN(len(h.inside))])
	}
	x = float32((float32(at%coarseSide) + h.Float32() - 0.5) * coarseStep)
	y = float32((float32(at/coarseSide) + h.Float32() - 0.5) * coarseStep)
	h.seed = h.IntN(1 << 18)
	return x, y, h.swell[at]
}

// part is one kind of particle of a medium.
type part struct {
	cover float32 // mm² of particles laid a mm² of plug
	small float32 // mm, the least width
	large float32 // mm, the greatest
	kin   []uint16
	lay   func(h *heap, p *part, size float32)
}

// fill lays a part: as much area of small as of large particles, the large ones first.
func (h *heap) fill(p part) {
	if len(h.inside) == 0 || p.cover <= 0 {
		return
	}
	octaves := max(1, int(log2(p.large/p.small)+0.5))
	ratio := exp2(log2(p.large/p.small) / float32(octaves))
	top := p.large
	for range octaves {
		low := top / ratio
		for left := h.area * p.cover / float32(octaves); left > 0; {
			size := h.scaled(low, top)
			left -= float32(0.7 * size * size)
			if left > 0 || h.chance(1+left/float32(0.7*size*size)) { // so that a part of one particle comes as often as it should
				p.lay(h, &p, size)
			}
		}
		top = low
	}
}

// crumbs are rough ellipsoids, well set into the heap.
func crumbs(rough, high float32) func(*heap, *part, float32) {
	return func(h *heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.facing()
		tall := size / 2 * high * h.between(0.6, 1)
		h.crumb(crumb{x, y, z - float32(tall*h.between(0.5, 1.1)), size / 2, size / 2 * h.between(0.55, 1), tall,
			ax, ay, rough, 0.25 * rough * min(size, 0.5), h.one(p.kin)}, h.seed)
	}
}

// grains are angular, with flat sides.
func grains(high float32) func(*heap, *part, float32) {
	return func(h *heap, p *part, size float32) {
		x, y, z := h.spot(size)
		tall := size * high * h.between(0.6, 1)
		h.facet(facet{x, y, z - float32(tall*h.between(0.4, 0.9)), size / 2, tall, h.cuts(h.count(4, 7), size/2), 0.008, h.one(p.kin)}, h.seed)
	}
}

// chips are angular plates of bark or wood.
func chips(slender, groove float32) func(*heap, *part, float32) {
	return func(h *heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.facing()
		kind := h.one(p.kin)
		h.plate(plate{x: x, y: y, z: z - float32(size*0.12*h.Float32()), long: size / 2, short: size / 2 * slender * h.between(0.6, 1.4),
			alongX: ax, alongY: ay, tiltA: 0.12 * h.bell(), tiltB: 0.2 * h.bell(), thick: min(0.3, size*0.15), jag: size * 0.05, skew: 0.4 * h.bell(), narrow: h.between(-0.6, 0.6),
			groove: groove * min(size, 1), bend: 0.04 * h.bell(), solids: [2]uint16{kind, kind}}, h.seed)
	}
}

// flakes are stacks of glinting leaves, seen from the side or from above.
func flakes(h *heap, p *part, size float32) {
	x, y, z := h.spot(size)
	ax, ay := h.facing()
	a := h.IntN(len(p.kin))
	f := plate{x: x, y: y, z: z - float32(size*0.2*h.Float32()), long: size / 2 * h.between(0.7, 1.3), short: size / 2 * h.between(0.6, 1),
		alongX: ax, alongY: ay, tiltA: 0.3 * h.bell(), tiltB: 0.2 * h.bell(), thick: size * 0.3, jag: size * 0.06, skew: 0.2 * h.bell(), narrow: h.between(-0.3, 0.3), groove: 0.01,
		solids: [2]uint16{p.kin[a], p.kin[(a+1)%len(p.kin)]}}
	if h.chance(0.7) {
		f.layers = h.between(3, 8)
	}
	h.plate(f, h.seed)
}

// fibres are bent, kinked threads; size is their length.
func fibres(thin, thick float32, kinks int) func(*heap, *part, float32) {
	return func(h *heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.facing()
		half := h.scaled(thin, thick) / 2
		h.strand(h.dice, strand{x: x, y: y, z: z - float32(half*h.between(-1, 2)), alongX: ax, alongY: ay, long: size, half: half,
			kinks: h.count(0, kinks), sweep: h.scaled(0.02, 0.3), climb: 0.25, solid: h.one(p.kin)})
	}
}
