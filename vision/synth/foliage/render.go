package foliage

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// scene is all that a drawing shows.
type scene struct {
	land  land
	bed   bed
	dice  dice // for what is strewn on the ground
	lamp  lamp
	mesh  *mesh
	bases [][2]float64 // of each plant, mm
}

const (
	bandTexels = 16
	bandRows   = bandTexels * samples
	rowSamples = side * samples
)

// show draws the scene over a ground, band by band from the top.
func (s *scene) show(g *ground) *closeup.Leaves {
	view := newSkyview(s.mesh, s.lamp.sky)
	view.shine(s.mesh)
	g.settle(view)
	p := painter{scene: s, ground: g, out: closeup.NewLeaves(side, perMM), shadows: newShadows(s.mesh, &s.lamp),
		band: newLayer(rowSamples, bandRows), plants: make([]int32, side*side)}
	for n, faces := range s.mesh.inBands() {
		p.draw(n, faces)
	}
	p.keepPlants()
	return p.out
}

// inBands lists the faces that reach into each band.
func (m *mesh) inBands() [][]int32 {
	bands := make([][]int32, side/bandTexels)
	for i, f := range m.faces {
		p, q, r := m.corners[f.c[0]].p, m.corners[f.c[1]].p, m.corners[f.c[2]].p
		if max(p.x, q.x, r.x) < 0 || min(p.x, q.x, r.x) > across || max(p.y, q.y, r.y) < 0 || min(p.y, q.y, r.y) > across {
			continue
		}
		first := int(clamp(min(p.y, q.y, r.y)*perMM/bandTexels, 0, float64(len(bands)-1)))
		last := int(clamp(max(p.y, q.y, r.y)*perMM/bandTexels, 0, float64(len(bands)-1)))
		for b := first; b <= last; b++ {
			bands[b] = append(bands[b], int32(i))
		}
	}
	return bands
}

// hidden tells, for each square of 2 × 2 texels, whether plants cover it and all squares round it.
func (m *mesh) hidden() []bool {
	const n = side / 2
	l := newLayer(n, n)
	for i, f := range m.faces {
		var x, y [3]int
		for k, c := range f.c {
			at := m.corners[c].p
			x[k], y[k] = int(math.Round(at.x*perMM/2*lattice)), int(math.Round(at.y*perMM/2*lattice))
		}
		if len(m.organs[f.organ].holes) == 0 {
			l.fill(x, y, [3]float64{}, int32(i), nil)
		}
	}
	out := make([]bool, n*n)
	for i := range out {
		x, y := i%n, i/n
		out[i] = true
		for j := max(0, y-1); j <= min(n-1, y+1) && out[i]; j++ {
			for k := max(0, x-1); k <= min(n-1, x+1); k++ {
				out[i] = out[i] && l.z[j*n+k] != nothing
			}
		}
	}
	return out
}

// painter turns a scene into a drawing.
type painter struct {
	scene   *scene
	ground  *ground
	out     *closeup.Leaves
	shadows *shadows
	band    *layer
	plants  []int32                  // 1 + the index of the plant on each texel
	parts   [samples * samples]share // of the texel in hand
}

func (p *painter) draw(n int, faces []int32) {
	p.band.clear()
	for _, i := range faces {
		p.fill(i, n*bandRows*lattice)
	}
	for y := range bandTexels {
		for x := range side {
			p.texel(x, n*bandTexels+y, y)
		}
	}
}

// fill draws a face into the band that begins at a row, in lattice steps.
func (p *painter) fill(i int32, from int) {
	m := p.scene.mesh
	f := m.faces[i]
	var x, y [3]int
	var z [3]float64
	for k, c := range f.c {
		at := m.corners[c].p
		x[k], y[k], z[k] = int(math.Round(at.x*fine)), int(math.Round(at.y*fine))-from, at.z
	}
	p.band.fill(x, y, z, i, m.gateOf(f, from))
}

// gateOf lets samples of a face pass that lie in none of the organ's holes; nil where there are none near.
func (m *mesh) gateOf(f face, from int) gate {
	holes := m.organs[f.organ].holes
	if len(holes) == 0 {
		return nil
	}
	c := [3]*corner{&m.corners[f.c[0]], &m.corners[f.c[1]], &m.corners[f.c[2]]}
	a0, a1 := float64(min(c[0].a, c[1].a, c[2].a)), float64(max(c[0].a, c[1].a, c[2].a))
	b0, b1 := float64(min(c[0].b, c[1].b, c[2].b)), float64(max(c[0].b, c[1].b, c[2].b))
	var near []disc
	for _, h := range holes {
		if h.a+h.r > a0 && h.a-h.r < a1 && h.b+h.r > b0 && h.b-h.r < b1 {
			near = append(near, h)
		}
	}
	if len(near) == 0 {
		return nil
	}
	return func(i, j int) bool {
		w := m.weights(f, (float64(i)+0.5)/(perMM*samples), (float64(j*lattice+from)+lattice/2)/fine)
		a, b := mix32(w, c[0].a, c[1].a, c[2].a), mix32(w, c[0].b, c[1].b, c[2].b)
		for _, h := range near {
			if (a-h.a)*(a-h.a)+(b-h.b)*(b-h.b) < h.r*h.r {
				return false
			}
		}
		return true
	}
}

// share is the part of a texel that one organ has.
type share struct {
	organ, face int32
	n           int     // samples
	x, y        float64 // sum of the samples' places in the texel, samples
}

// texel mixes what the samples of a texel show; row is its row in the band.
func (p *painter) texel(x, y, row int) {
	n, bare := p.sort(x, row)
	parts := &p.parts
	i := y*side + x
	light := rgb{}
	if bare > 0 {
		light = p.ground.seen(x, y, &p.scene.lamp, p.shadows).times(float64(bare) / (samples * samples))
	}
	own, dead, leaf, best, plant := rgb{}, 0.0, 0.0, 0.0, int32(0)
	for k := range parts[:n] {
		part := &parts[k]
		weight := float64(part.n) / (samples * samples)
		o := &p.scene.mesh.organs[part.organ]
		spot := p.scene.mesh.spot(part, x, y)
		seen, look := spot.seen(o.coat, &p.scene.lamp, p.shadows, away(x, y))
		light = light.plus(seen.times(weight))
		if !o.coat.isPlant() {
			continue
		}
		own, dead, leaf = own.plus(look.own.times(weight)), dead+weight*look.dead, leaf+weight
		total := 0.0
		for j := range parts[:n] {
			if q := &p.scene.mesh.organs[parts[j].organ]; q.coat.isPlant() && q.plant == o.plant {
				total += float64(parts[j].n)
			}
		}
		if total > best {
			best, plant = total, o.plant+1
		}
	}
	p.out.Light[i] = rounded(light)
	if leaf > 0 {
		p.out.Own[i] = rounded(own.times(1 / leaf))
		p.out.Leaf[i] = float32(leaf)
		p.out.Dead[i] = min(float32(leaf), rounded(grey(dead))[0])
		p.plants[i] = plant
	}
}

// sort puts the samples of a texel into parts by organ and counts those of the bare ground.
func (p *painter) sort(x, row int) (n, bare int) {
	parts, faces := &p.parts, p.scene.mesh.faces
	last := int32(-1)
	at := 0
	for j := range samples {
		from := (row*samples+j)*rowSamples + x*samples
		zs, ids := p.band.z[from:from+samples], p.band.id[from:from+samples]
		for i := range samples {
			if zs[i] == nothing {
				bare++
				continue
			}
			if ids[i] != last || n == 0 {
				last = ids[i]
				organ := faces[last].organ
				for at = 0; at < n && parts[at].organ != organ; at++ {
				}
				if at == n {
					parts[n] = share{organ: organ, face: last}
					n++
				}
			}
			part := &parts[at]
			part.n++
			part.x += float64(i)
			part.y += float64(j)
		}
	}
	return n, bare
}

// spot is the middle of a part of a texel on its surface.
func (m *mesh) spot(part *share, x, y int) spot {
	f := m.faces[part.face]
	px := (float64(x) + (part.x/float64(part.n)+0.5)/samples) / perMM
	py := (float64(y) + (part.y/float64(part.n)+0.5)/samples) / perMM
	w := m.weights(f, px, py)
	a, b, c := &m.corners[f.c[0]], &m.corners[f.c[1]], &m.corners[f.c[2]]
	n := unpack(a.n).times(w[0]).plus(unpack(b.n).times(w[1])).plus(unpack(c.n).times(w[2])).unit()
	along := unpack(a.along).times(w[0]).plus(unpack(b.along).times(w[1])).plus(unpack(c.along).times(w[2]))
	along = along.minus(n.times(along.dot(n))).unit()
	return spot{
		p: vec{px, py, w[0]*a.p.z + w[1]*b.p.z + w[2]*c.p.z}, n: n, along: along, organ: f.organ,
		above: mix32(w, a.above, b.above, c.above), below: mix32(w, a.below, b.below, c.below),
		place: place{u: mix32(w, a.u, b.u, c.u), t: mix32(w, a.t, b.t, c.t), a: mix32(w, a.a, b.a, c.a), b: mix32(w, a.b, b.b, c.b)},
	}
}

// weights are the shares of a face's corners in a place, mm, kept within the face.
func (m *mesh) weights(f face, x, y float64) [3]float64 {
	p, q, r := m.corners[f.c[0]].p, m.corners[f.c[1]].p, m.corners[f.c[2]].p
	twice := (q.x-p.x)*(r.y-p.y) - (r.x-p.x)*(q.y-p.y)
	if math.Abs(twice) < 1e-6 {
		return [3]float64{1.0 / 3, 1.0 / 3, 1.0 / 3}
	}
	v := clamp(((x-p.x)*(r.y-p.y)-(r.x-p.x)*(y-p.y))/twice, 0, 1)
	w := clamp(((q.x-p.x)*(y-p.y)-(x-p.x)*(q.y-p.y))/twice, 0, 1)
	if v+w > 1 {
		v, w = v/(v+w), w/(v+w)
	}
	return [3]float64{1 - v - w, v, w}
}

func mix32(w [3]float64, a, b, c float32) float64 {
	return w[0]*float64(a) + w[1]*float64(b) + w[2]*float64(c)
}

// rounded keeps steps of 1/65536, which leaves nothing of the last bits, in which processors differ.
func rounded(c rgb) closeup.RGB {
	round := func(v float64) float32 { return float32(int(clamp(v, 0, 4)*65536+0.5)) / 65536 }
	return closeup.RGB{round(c.r), round(c.g), round(c.b)}
}

const mostPlants = 250

// keepPlants numbers the plants that are seen or that grow within the drawing, in their order.
func (p *painter) keepPlants() {
	bases := p.scene.bases
	seen := make([]bool, len(bases))
	for _, n := range p.plants {
		if n > 0 {
			seen[n-1] = true
		}
	}
	number := make([]uint8, len(bases))
	for k, b := range bases {
		if seen[k] || (b[0] >= 0 && b[0] < across && b[1] >= 0 && b[1] < across) {
			p.out.Bases = append(p.out.Bases, [2]float64{b[0] * perMM, b[1] * perMM})
			number[k] = uint8(len(p.out.Bases))
		}
	}
	for i, n := range p.plants {
		if n > 0 {
			p.out.Plant[i] = number[n-1]
		}
	}
	p.out.Middle, p.out.Pitch = p.scene.land.trays[0].label()
}
