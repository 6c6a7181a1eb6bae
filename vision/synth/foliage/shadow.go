package foliage

import "math"

// shadows tells what the lamp sees: the scene drawn along the lamp's rays onto the ground's plane, with the highest surface on
// each spot.
type shadows struct {
	lay    *layer
	faces  []face
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

func newShadows(m *mesh, l *lamp) *shadows {
	s := &shadows{faces: m.faces, dx: l.to.x / l.to.z, dy: l.to.y / l.to.z, spread: l.spread}
	low, high := -30.0, 1.0
	for i := range m.corners {
		high = max(high, m.corners[i].p.z)
	}
	x0, x1 := min(-low*s.dx, -high*s.dx, 0), max(-low*s.dx, -high*s.dx, 0)
	y0, y1 := min(-low*s.dy, -high*s.dy, 0), max(-low*s.dy, -high*s.dy, 0)
	s.x, s.y = x0-2, y0-2
	s.reach = clamp(25*s.spread*shadowPerMM, 1, 32)
	s.block = max(4, int(math.Ceil(s.reach)))
	s.lay = newLayer(int((across+x1-x0+4)*shadowPerMM), int((across+y1-y0+4)*shadowPerMM))
	for i, f := range m.faces {
		var x, y [3]int
		var z [3]float64
		for k, c := range f.c {
			p := m.corners[c].p
			px, py := s.meet(p)
			x[k], y[k], z[k] = int(math.Round(px*lattice)), int(math.Round(py*lattice)), p.z
		}
		s.lay.fill(x, y, z, int32(i), nil)
	}
	s.setBlocks()
	return s
}

// setBlocks finds where there is nothing to throw a shadow.
func (s *shadows) setBlocks() {
	s.across = s.lay.w/s.block + 3
	down := s.lay.h/s.block + 3
	s.blocks = make([]float32, s.across*down)
	for i := range s.blocks {
		s.blocks[i] = -1000
	}
	for j := range s.lay.h {
		for i, z := range s.lay.z[j*s.lay.w : (j+1)*s.lay.w] {
			if z == nothing {
				continue
			}
			h := float32(float64(z) / perZ)
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
func (s *shadows) clear(x, y, z float64) bool {
	i, j := int(x)/s.block+1, int(y)/s.block+1
	n := j*s.across + i
	return x < 0 || y < 0 || n >= len(s.blocks) || float64(s.blocks[n]) < z+anyShade
}

// meet is where the lamp's ray through p meets the plane, in samples.
func (s *shadows) meet(p vec) (x, y float64) {
	return (p.x - p.z*s.dx - s.x) * shadowPerMM, (p.y - p.z*s.dy - s.y) * shadowPerMM
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

// lit is the share of the lamp that p sees, p being on the organ given, or on the ground (-1). Turn, 0 to 1, turns the rosette.
func (s *shadows) lit(p vec, organ int32, turn float64) float64 {
	x, y := s.meet(p)
	if s.clear(x, y, p.z) {
		return 1
	}
	t := turns[int(turn*float64(len(turns)))%len(turns)]
	e := sight{x, y, p.z, organ, t[0], t[1]}
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
func (s *shadows) look(e *sight, width float64, places [][2]float64) (dark int, high float64) {
	for _, q := range places {
		if up := s.above(e.x+width*(q[0]*e.cos-q[1]*e.sin), e.y+width*(q[0]*e.sin+q[1]*e.cos), e.z, e.organ); up > 0 {
			high += up
			dark++
		}
	}
	return dark, high
}

// above is how many mm above z the highest surface over a place is, 0 where there is none.
func (s *shadows) above(x, y, z float64, organ int32) float64 {
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= s.lay.w || j >= s.lay.h {
		return 0
	}
	n := j*s.lay.w + i
	h := s.lay.z[n]
	if h == nothing {
		return 0
	}
	up := float64(h)/perZ - z
	if up < anyShade || (up < ownShade && organ >= 0 && s.faces[s.lay.id[n]].organ == organ) {
		return 0
	}
	return up
}
