package foliage

import "math"

// skyview tells how much of the sky each spot of the scene sees past the leaves. For each ray of the sky the scene is seen from
// there, coarsely: the highest leaf in each square of the ground as that ray meets it.
type skyview struct {
	rays [skies]ray
	maps [skies][]float32 // height of the highest leaf, mm
}

const (
	skySquare = 1.8     // mm
	skyMargin = 90.0    // mm seen beyond the drawing
	skySide   = 195     // squares, (across + 2 skyMargin) / skySquare
	skyClear  = -1000.0 // the height where no leaf is
)

func newSkyview(m *mesh, rays [skies]ray) *skyview {
	s := &skyview{rays: rays}
	for k := range rays {
		s.maps[k] = make([]float32, skySide*skySide)
		for i := range s.maps[k] {
			s.maps[k][i] = skyClear
		}
	}
	for _, f := range m.faces {
		p, q, r := m.corners[f.c[0]].p, m.corners[f.c[1]].p, m.corners[f.c[2]].p
		s.mark(p.plus(q).plus(r).times(1.0 / 3))
		if math.Abs((q.x-p.x)*(r.y-p.y)-(r.x-p.x)*(q.y-p.y)) > 4 {
			s.mark(p.to(q, 0.5))
			s.mark(q.to(r, 0.5))
			s.mark(r.to(p, 0.5))
		}
	}
	return s
}

func (s *skyview) mark(p vec) {
	for k := range s.rays {
		x, y := s.meet(k, p)
		if i, j := int(x+0.5), int(y+0.5); i >= 0 && j >= 0 && i < skySide && j < skySide && x > 0 && y > 0 {
			h := &s.maps[k][j*skySide+i]
			*h = max(*h, float32(p.z))
		}
	}
}

// meet is where the ray through p meets the ground, in squares.
func (s *skyview) meet(k int, p vec) (x, y float64) {
	to := s.rays[k].to
	return (p.x - p.z*to.x/to.z + skyMargin) / skySquare, (p.y - p.z*to.y/to.z + skyMargin) / skySquare
}

// open is the share of a ray that reaches p past leaves more than a little above it.
func (s *skyview) open(k int, p vec) float64 {
	x, y := s.meet(k, p)
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= skySide-1 || j >= skySide-1 {
		return 1
	}
	fx, fy := x-float64(i), y-float64(j)
	free := func(n int) float64 { return ramp(4.5, 1.2, float64(s.maps[k][n])-p.z) }
	n := j*skySide + i
	return mixed(mixed(free(n), free(n+1), fx), mixed(free(n+skySide), free(n+skySide+1), fx), fy)
}

// light is the sky's light on both sides of a surface at p with a normal: 1 is what open level ground gets.
func (s *skyview) light(p, normal vec) (above, below float64) {
	for k, r := range s.rays {
		slant := normal.dot(r.to) / r.to.z
		if slant > 0 {
			above += r.share * min(slant, 3) * s.open(k, p)
		} else {
			below -= r.share * max(slant, -3) * s.open(k, p)
		}
	}
	return above, below
}

// shine gives all corners their light from the sky.
func (s *skyview) shine(m *mesh) {
	for i := range m.corners {
		c := &m.corners[i]
		if c.p.x < -10 || c.p.y < -10 || c.p.x > across+10 || c.p.y > across+10 {
			continue
		}
		above, below := s.light(c.p, unpack(c.n))
		c.above, c.below = float32(above), float32(below)
	}
}
