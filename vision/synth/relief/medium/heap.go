package medium

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Heap lays a medium's particles, as many as its plugs have room for.
type Heap struct {
	num.Dice
	*solids.Relief
	*solids.Palette
	inside []int32       // nodes of the coarse grid that lie in a plug
	Area   float32       // mm² of plug in the drawing
	depth  solids.Coarse // mm inside the nearest plug's edge
	swell  solids.Coarse // mm of height on which particles lie
	seed   int           // where the particles' roughness is read in the noise tables
}

// NewHeap returns a heap without particles, for plugs of the given depth and surface, both mm.
func NewHeap(d num.Dice, f *solids.Relief, p *solids.Palette, plug, swell solids.Coarse) *Heap {
	h := &Heap{Dice: d, Relief: f, Palette: p, depth: plug, swell: swell}
	for i, in := range plug {
		if in > 0 {
			h.inside = append(h.inside, int32(i))
		}
	}
	h.Area = float32(len(h.inside)) * solids.CoarseStep * solids.CoarseStep
	return h
}

// spot is any place on the plugs for a particle of the given width, and the height there. Only some hang out over the edge.
func (h *Heap) spot(size float32) (x, y, z float32) {
	at := int(h.inside[h.IntN(len(h.inside))])
	for range 3 {
		if h.depth[at] >= 0.4*size {
			break
		}
		at = int(h.inside[h.IntN(len(h.inside))])
	}
	x = float32((float32(at%solids.CoarseSide) + h.Float32() - 0.5) * solids.CoarseStep)
	y = float32((float32(at/solids.CoarseSide) + h.Float32() - 0.5) * solids.CoarseStep)
	h.seed = h.Place()
	return x, y, h.swell[at]
}

// part is one kind of particle of a medium.
type part struct {
	cover float32 // mm² of particles laid a mm² of plug
	small float32 // mm, the least width
	large float32 // mm, the greatest
	kin   []uint16
	lay   func(h *Heap, p *part, size float32)
}

// Fill lays all that a medium is made of.
func (h *Heap) Fill(m *Medium) {
	for _, p := range m.parts {
		h.fillPart(p)
	}
}

// fillPart lays a part: as much area of small as of large particles, the large ones first.
func (h *Heap) fillPart(p part) {
	if len(h.inside) == 0 || p.cover <= 0 {
		return
	}
	octaves := max(1, int(num.Log2(p.large/p.small)+0.5))
	ratio := num.Exp2(num.Log2(p.large/p.small) / float32(octaves))
	top := p.large
	for range octaves {
		low := top / ratio
		for left := h.Area * p.cover / float32(octaves); left > 0; {
			size := h.Scaled(low, top)
			left -= float32(0.7 * size * size)
			if left > 0 || h.Chance(1+left/float32(0.7*size*size)) { // so that a part of one particle comes as often as it should
				p.lay(h, &p, size)
			}
		}
		top = low
	}
}

// crumbs are rough ellipsoids, well set into the heap.
func crumbs(rough, high float32) func(*Heap, *part, float32) {
	return func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.Facing()
		tall := size / 2 * high * h.Between(0.6, 1)
		h.Crumb(solids.Crumb{X: x, Y: y, Z: z - float32(tall*h.Between(0.5, 1.1)), Long: size / 2, Short: size / 2 * h.Between(0.55, 1), High: tall,
			AlongX: ax, AlongY: ay, Rough: rough, Bump: 0.25 * rough * min(size, 0.5), Solid: h.One(p.kin)}, h.seed)
	}
}

// grains are angular, with flat sides.
func grains(high float32) func(*Heap, *part, float32) {
	return func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		tall := size * high * h.Between(0.6, 1)
		h.Facet(solids.Facet{X: x, Y: y, Z: z - float32(tall*h.Between(0.4, 0.9)), Size: size / 2, High: tall, Sides: solids.NewCuts(h.Dice,
			h.Count(4, 7), size/2), Bump: 0.008, Solid: h.One(p.kin)}, h.seed)
	}
}

// chips are angular plates of bark or wood.
func chips(slender, groove float32) func(*Heap, *part, float32) {
	return func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.Facing()
		kind := h.One(p.kin)
		h.Plate(solids.Plate{X: x, Y: y, Z: z - float32(size*0.12*h.Float32()), Long: size / 2, Short: size / 2 * slender * h.Between(0.6, 1.4),
			AlongX: ax, AlongY: ay, TiltA: 0.12 * h.Bell(), TiltB: 0.2 * h.Bell(), Thick: min(0.3,
				size*0.15), Jag: size * 0.05, Skew: 0.4 * h.Bell(), Narrow: h.Between(-0.6, 0.6),
			Groove: groove * min(size, 1), Bend: 0.04 * h.Bell(), Solids: [2]uint16{kind, kind}}, h.seed)
	}
}

// flakes are stacks of glinting leaves, seen from the side or from above.
func flakes(h *Heap, p *part, size float32) {
	x, y, z := h.spot(size)
	ax, ay := h.Facing()
	a := h.IntN(len(p.kin))
	f := solids.Plate{X: x, Y: y, Z: z - float32(size*0.2*h.Float32()), Long: size / 2 * h.Between(0.7, 1.3), Short: size / 2 * h.Between(0.6, 1),
		AlongX: ax, AlongY: ay, TiltA: 0.3 * h.Bell(), TiltB: 0.2 * h.Bell(), Thick: size * 0.3, Jag: size * 0.06, Skew: 0.2 * h.Bell(),
		Narrow: h.Between(-0.3, 0.3), Groove: 0.01, Solids: [2]uint16{p.kin[a], p.kin[(a+1)%len(p.kin)]}}
	if h.Chance(0.7) {
		f.Layers = h.Between(3, 8)
	}
	h.Plate(f, h.seed)
}

// fibres are bent, kinked threads; size is their length.
func fibres(thin, thick float32, kinks int) func(*Heap, *part, float32) {
	return func(h *Heap, p *part, size float32) {
		x, y, z := h.spot(size)
		ax, ay := h.Facing()
		half := h.Scaled(thin, thick) / 2
		h.Strand(h.Dice, solids.Strand{X: x, Y: y, Z: z - float32(half*h.Between(-1, 2)), AlongX: ax, AlongY: ay, Long: size, Half: half,
			Kinks: h.Count(0, kinks), Sweep: h.Scaled(0.02, 0.3), Climb: 0.25, Solid: h.One(p.kin)})
	}
}
