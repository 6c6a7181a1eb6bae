package lighting

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Shadows tells what the lamp sees: the scene drawn along the lamp's rays onto the ground's plane, with the highest surface on
// each spot.
type Shadows struct {
	lay    *surface.Layer
	faces  []surface.Face
	x, y   float64 // the plane's place of the first sample, mm
	dx, dy float64 // mm that a ray moves for each mm that it falls
	spread float64

	blocks []float32 // greatest height in each block of samples and the blocks round it, mm
	across int       // blocks in a row
	block  int       // samples across a block
	reach  float64   // samples, how far off things in the lamp's way are looked for
}

const (
	shadowPerMM = 3.0
	ownShade    = 1.5 // mm above itself from which a surface shades itself
	anyShade    = 0.35
)

// NewShadows draws the mesh as the lamp sees it.
func NewShadows(m *surface.Mesh, l *Lamp) *Shadows {
	s := &Shadows{faces: m.Faces, dx: l.To.X / l.To.Z, dy: l.To.Y / l.To.Z, spread: l.Spread}
	low, high := -30.0, 1.0
	for i := range m.Corners {
		high = max(high, m.Corners[i].P.Z)
	}
	x0, x1 := min(-low*s.dx, -high*s.dx, 0), max(-low*s.dx, -high*s.dx, 0)
	y0, y1 := min(-low*s.dy, -high*s.dy, 0), max(-low*s.dy, -high*s.dy, 0)
	s.x, s.y = x0-2, y0-2
	s.reach = num.Clamp(25*s.spread*shadowPerMM, 1, 32)
	s.block = max(4, int(math.Ceil(s.reach)))
	s.lay = surface.NewLayer(int((num.Across+x1-x0+4)*shadowPerMM), int((num.Across+y1-y0+4)*shadowPerMM))
	for i, f := range m.Faces {
		var x, y [3]int
		var z [3]float64
		for k, c := range f.C {
			p := m.Corners[c].P
			px, py := s.meet(p)
			x[k], y[k], z[k] = int(math.Round(px*surface.Lattice)), int(math.Round(py*surface.Lattice)), p.Z
		}
		s.lay.Fill(x, y, z, int32(i), nil)
	}
	s.setBlocks()
	return s
}

// setBlocks finds where there is nothing to throw a shadow.
func (s *Shadows) setBlocks() {
	s.across = s.lay.W/s.block + 3
	down := s.lay.H/s.block + 3
	s.blocks = make([]float32, s.across*down)
	for i := range s.blocks {
		s.blocks[i] = -1000
	}
	for j := range s.lay.H {
		for i, z := range s.lay.Z[j*s.lay.W : (j+1)*s.lay.W] {
			if z == surface.Nothing {
				continue
			}
			h := float32(float64(z) / surface.PerZ)
			at := (j/s.block+1)*s.across + i/s.block + 1
			if s.blocks[at] >= h {
				continue
			}
			for _, n := range [...]int{at - s.across - 1, at - s.across, at - s.across + 1, at - 1, at, at + 1, at + s.across - 1,
				at + s.across, at + s.across + 1} {
				s.blocks[n] = max(s.blocks[n], h)
			}
		}
	}
}

// clear reports whether nothing near a place in samples is higher than z.
func (s *Shadows) clear(x, y, z float64) bool {
	i, j := int(x)/s.block+1, int(y)/s.block+1
	n := j*s.across + i
	return x < 0 || y < 0 || n >= len(s.blocks) || float64(s.blocks[n]) < z+anyShade
}

// meet is where the lamp's ray through p meets the plane, in samples.
func (s *Shadows) meet(p num.Vec) (x, y float64) {
	return (p.X - p.Z*s.dx - s.x) * shadowPerMM, (p.Y - p.Z*s.dy - s.y) * shadowPerMM
}

// rosette is 7 places spread evenly over a disc of radius 1.
var rosette = func() (r [7][2]float64) {
	for i := range r {
		s, c := math.Sincos(2.39996 * float64(i))
		k := math.Sqrt((float64(i) + 0.5) / float64(len(r)))
		r[i] = [2]float64{k * c, k * s}
	}
	return r
}()

// turns are sines and cosines of 64 turns of the rosette.
var turns = func() (t [64][2]float64) {
	for i := range t {
		t[i][0], t[i][1] = math.Sincos(2 * math.Pi * float64(i) / float64(len(t)))
	}
	return t
}()

// sight is a spot that looks for the lamp: its place in samples, its height in mm, and the organ that it is on, -1 for the ground.
type sight struct {
	x, y, z  float64
	organ    int32
	sin, cos float64 // the turn of the rosette
}

// Lit is the share of the lamp that p sees, p being on the organ given, or on the ground (-1). Turn, 0 to 1, turns the rosette.
func (s *Shadows) Lit(p num.Vec, organ int32, turn float64) float64 {
	x, y := s.meet(p)
	if s.clear(x, y, p.Z) {
		return 1
	}
	t := turns[int(turn*float64(len(turns)))%len(turns)]
	e := sight{x, y, p.Z, organ, t[0], t[1]}
	if s.reach == 1 {
		rim := rosette[len(rosette)-3:]
		switch dark, _ := s.look(&e, 1, rim); dark {
		case 0:
			return 1
		case len(rim):
			return 0
		}
	}
	dark, high := s.look(&e, s.reach, rosette[:])
	if dark == 0 {
		return 1
	}
	width := max(0.75, high/float64(dark)*s.spread*shadowPerMM)
	if dark == len(rosette) && width <= s.reach { // all dark further round than the penumbra is wide
		return 0
	}
	dark, _ = s.look(&e, width, rosette[:])
	return 1 - float64(dark)/float64(len(rosette))
}

// look counts the places of a rosette, so many samples wide, that are in the dark, and sums how high above the spot what darkens
// them is, mm.
func (s *Shadows) look(e *sight, width float64, places [][2]float64) (dark int, high float64) {
	for _, q := range places {
		if up := s.above(e.x+width*(q[0]*e.cos-q[1]*e.sin), e.y+width*(q[0]*e.sin+q[1]*e.cos), e.z, e.organ); up > 0 {
			high += up
			dark++
		}
	}
	return dark, high
}

// above is how many mm above z the highest surface over a place is, 0 where there is none.
func (s *Shadows) above(x, y, z float64, organ int32) float64 {
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= s.lay.W || j >= s.lay.H {
		return 0
	}
	n := j*s.lay.W + i
	h := s.lay.Z[n]
	if h == surface.Nothing {
		return 0
	}
	up := float64(h)/surface.PerZ - z
	if up < anyShade || (up < ownShade && organ >= 0 && s.faces[s.lay.Id[n]].Organ == organ) {
		return 0
	}
	return up
}
