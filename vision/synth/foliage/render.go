package foliage

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/foliage/ground"
	"traygauge/vision/synth/foliage/lighting"
	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
	"traygauge/vision/synth/foliage/tray"
)

// scene is all that a drawing shows.
type scene struct {
	land  tray.Land
	bed   ground.Bed
	dice  num.Dice // for what is strewn on the ground
	lamp  lighting.Lamp
	mesh  *surface.Mesh
	bases [][2]float64 // of each plant, mm
}

const (
	bandTexels = 16
	bandRows   = bandTexels * surface.Samples
	rowSamples = num.Side * surface.Samples
)

// show draws the scene over a ground, band by band from the top.
func (s *scene) show(g *ground.Ground) *closeup.Leaves {
	view := lighting.NewSkyview(s.mesh, s.lamp.Sky)
	view.Shine(s.mesh)
	g.Settle(view)
	p := painter{scene: s, ground: g, out: closeup.NewLeaves(num.Side, num.PerMM), shadows: lighting.NewShadows(s.mesh, &s.lamp),
		band: surface.NewLayer(rowSamples, bandRows), plants: make([]int32, num.Side*num.Side)}
	for n, faces := range s.mesh.InBands(bandTexels) {
		p.draw(n, faces)
	}
	p.keepPlants()
	return p.out
}

// painter turns a scene into a drawing.
type painter struct {
	scene   *scene
	ground  *ground.Ground
	out     *closeup.Leaves
	shadows *lighting.Shadows
	band    *surface.Layer
	plants  []int32                                          // 1 + the index of the plant on each texel
	parts   [surface.Samples * surface.Samples]surface.Share // of the texel in hand
}

func (p *painter) draw(n int, faces []int32) {
	p.band.Clear()
	for _, i := range faces {
		p.fill(i, n*bandRows*surface.Lattice)
	}
	for y := range bandTexels {
		for x := range num.Side {
			p.texel(x, n*bandTexels+y, y)
		}
	}
}

// fill draws a face into the band that begins at a row, in lattice steps.
func (p *painter) fill(i int32, from int) {
	m := p.scene.mesh
	f := m.Faces[i]
	var x, y [3]int
	var z [3]float64
	for k, c := range f.C {
		at := m.Corners[c].P
		x[k], y[k], z[k] = int(math.Round(at.X*surface.Fine)), int(math.Round(at.Y*surface.Fine))-from, at.Z
	}
	p.band.Fill(x, y, z, i, m.GateOf(f, from))
}

// texel mixes what the samples of a texel show; row is its row in the band.
func (p *painter) texel(x, y, row int) {
	n, bare := p.sort(x, row)
	parts := &p.parts
	i := y*num.Side + x
	light := num.RGB{}
	if bare > 0 {
		light = p.ground.Seen(x, y, &p.scene.lamp, p.shadows).Times(float64(bare) / (surface.Samples * surface.Samples))
	}
	own, dead, leaf, best, plant := num.RGB{}, 0.0, 0.0, 0.0, int32(0)
	for k := range parts[:n] {
		part := &parts[k]
		weight := float64(part.N) / (surface.Samples * surface.Samples)
		o := &p.scene.mesh.Organs[part.Organ]
		spot := p.scene.mesh.Spot(part, x, y)
		up, look := lighting.Seen(&spot, o.Coat, &p.scene.lamp, p.shadows, lighting.Away(x, y))
		light = light.Plus(up.Times(weight))
		if !o.Coat.IsPlant() {
			continue
		}
		own, dead, leaf = own.Plus(look.Own.Times(weight)), dead+weight*look.Dead, leaf+weight
		total := 0.0
		for j := range parts[:n] {
			if q := &p.scene.mesh.Organs[parts[j].Organ]; q.Coat.IsPlant() && q.Plant == o.Plant {
				total += float64(parts[j].N)
			}
		}
		if total > best {
			best, plant = total, o.Plant+1
		}
	}
	p.out.Light[i] = rounded(light)
	if leaf > 0 {
		p.out.Own[i] = rounded(own.Times(1 / leaf))
		p.out.Leaf[i] = float32(leaf)
		p.out.Dead[i] = min(float32(leaf), rounded(num.Grey(dead))[0])
		p.plants[i] = plant
	}
}

// sort puts the samples of a texel into parts by organ and counts those of the bare ground.
func (p *painter) sort(x, row int) (n, bare int) {
	parts, faces := &p.parts, p.scene.mesh.Faces
	last := int32(-1)
	at := 0
	for j := range surface.Samples {
		from := (row*surface.Samples+j)*rowSamples + x*surface.Samples
		zs, ids := p.band.Z[from:from+surface.Samples], p.band.Id[from:from+surface.Samples]
		for i := range surface.Samples {
			if zs[i] == surface.Nothing {
				bare++
				continue
			}
			if ids[i] != last || n == 0 {
				last = ids[i]
				organ := faces[last].Organ
				for at = 0; at < n && parts[at].Organ != organ; at++ {
				}
				if at == n {
					parts[n] = surface.Share{Organ: organ, Face: last}
					n++
				}
			}
			part := &parts[at]
			part.N++
			part.X += float64(i)
			part.Y += float64(j)
		}
	}
	return n, bare
}

// rounded keeps steps of 1/65536, which leaves nothing of the last bits, in which processors differ.
func rounded(c num.RGB) closeup.RGB {
	round := func(v float64) float32 { return float32(int(num.Clamp(v, 0, 4)*65536+0.5)) / 65536 }
	return closeup.RGB{round(c.R), round(c.G), round(c.B)}
}

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
		if seen[k] || (b[0] >= 0 && b[0] < num.Across && b[1] >= 0 && b[1] < num.Across) {
			p.out.Bases = append(p.out.Bases, [2]float64{b[0] * num.PerMM, b[1] * num.PerMM})
			number[k] = uint8(len(p.out.Bases))
		}
	}
	for i, n := range p.plants {
		if n > 0 {
			p.out.Plant[i] = number[n-1]
		}
	}
	p.out.Middle, p.out.Pitch = p.scene.land.Trays[0].Label()
}
