package lighting

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Skyview tells how much of the sky each spot of the scene sees past the leaves. For each ray of the sky the scene is seen from
// there, coarsely: the highest leaf in each square of the ground as that ray meets it.
type Skyview struct {
	rays [skies]Ray
	maps [skies][]float32 // height of the highest leaf, mm
}

const (
	skySquare = 1.8     // mm
	skyMargin = 90.0    // mm seen beyond the drawing
	skySide   = 195     // squares, (across + 2 skyMargin) / skySquare
	skyClear  = -1000.0 // the height where no leaf is
)

// NewSkyview draws the mesh as each of the sky's rays sees it.
func NewSkyview(m *surface.Mesh, rays [skies]Ray) *Skyview {
	s := &Skyview{rays: rays}
	for k := range rays {
		s.maps[k] = make([]float32, skySide*skySide)
		for i := range s.maps[k] {
			s.maps[k][i] = skyClear
		}
	}
	for _, f := range m.Faces {
		p, q, r := m.Corners[f.C[0]].P, m.Corners[f.C[1]].P, m.Corners[f.C[2]].P
		s.mark(p.Plus(q).Plus(r).Times(1.0 / 3))
		if math.Abs((q.X-p.X)*(r.Y-p.Y)-(r.X-p.X)*(q.Y-p.Y)) > 4 {
			s.mark(p.To(q, 0.5))
			s.mark(q.To(r, 0.5))
			s.mark(r.To(p, 0.5))
		}
	}
	return s
}

func (s *Skyview) mark(p num.Vec) {
	for k := range s.rays {
		x, y := s.meet(k, p)
		if i, j := int(x+0.5), int(y+0.5); i >= 0 && j >= 0 && i < skySide && j < skySide && x > 0 && y > 0 {
			h := &s.maps[k][j*skySide+i]
			*h = max(*h, float32(p.Z))
		}
	}
}

// meet is where the ray through p meets the ground, in squares.
func (s *Skyview) meet(k int, p num.Vec) (x, y float64) {
	to := s.rays[k].to
	return (p.X - p.Z*to.X/to.Z + skyMargin) / skySquare, (p.Y - p.Z*to.Y/to.Z + skyMargin) / skySquare
}

// open is the share of a ray that reaches p past leaves more than a little above it.
func (s *Skyview) open(k int, p num.Vec) float64 {
	x, y := s.meet(k, p)
	i, j := int(x), int(y)
	if x < 0 || y < 0 || i >= skySide-1 || j >= skySide-1 {
		return 1
	}
	fx, fy := x-float64(i), y-float64(j)
	free := func(n int) float64 { return num.Ramp(4.5, 1.2, float64(s.maps[k][n])-p.Z) }
	n := j*skySide + i
	return num.Mixed(num.Mixed(free(n), free(n+1), fx), num.Mixed(free(n+skySide), free(n+skySide+1), fx), fy)
}

// Light is the sky's light on both sides of a surface at p with a normal: 1 is what open level ground gets.
func (s *Skyview) Light(p, normal num.Vec) (above, below float64) {
	for k, r := range s.rays {
		slant := normal.Dot(r.to) / r.to.Z
		if slant > 0 {
			above += r.share * min(slant, 3) * s.open(k, p)
		} else {
			below -= r.share * max(slant, -3) * s.open(k, p)
		}
	}
	return above, below
}

// Shine gives all corners their light from the sky.
func (s *Skyview) Shine(m *surface.Mesh) {
	for i := range m.Corners {
		c := &m.Corners[i]
		if c.P.X < -10 || c.P.Y < -10 || c.P.X > num.Across+10 || c.P.Y > num.Across+10 {
			continue
		}
		above, below := s.Light(c.P, surface.Unpack(c.N))
		c.Above, c.Below = float32(above), float32(below)
	}
}
