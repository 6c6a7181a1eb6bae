package scene

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

var errFlat = errors.New("the points do not span a plane")

// fitHomography returns the homography from the plane (mm) to the picture (px) that makes the sum of squared distances in
// the picture least (Hartley & Zisserman, Multiple View Geometry, 2nd ed. 2004, 4.2.3 and 4.5), the root mean square of
// those distances per point, and the 8 × 8 normal matrix JᵀJ of its first eight elements with the ninth held, for
// carrying corner noise. It takes four points or more, no three of four on a line.
func fitHomography(plane []card.Pt, picture []raster.Px) (h raster.Matrix3, rms float64, normal *mat.SymDense, err error) {
	if len(plane) < 4 || len(plane) != len(picture) {
		return h, 0, nil, errFlat
	}
	from, to := normaliser(len(plane), func(i int) (float64, float64) { return plane[i].X, plane[i].Y }),
		normaliser(len(picture), func(i int) (float64, float64) { return picture[i].X, picture[i].Y })
	a, b := make([]raster.Px, len(plane)), make([]raster.Px, len(plane))
	for i := range plane {
		a[i].X, a[i].Y = from.Apply(plane[i].X, plane[i].Y)
		b[i].X, b[i].Y = to.Apply(picture[i].X, picture[i].Y)
	}
	g, err := firstHomography(a, b)
	if err != nil {
		return h, 0, nil, err
	}
	for range 10 {
		step, ok := gaussNewtonStep(&g, a, b)
		if !ok {
			return h, 0, nil, errFlat
		}
		size := 0.0
		for i, s := range step {
			g[i] += s
			size = math.Max(size, math.Abs(s))
		}
		if size < 1e-13 {
			break
		}
	}
	back := to.Inverse()
	h = back.Times(&g)
	h = h.Times(&from)
	if math.Abs(h.Det()) < 1e-300 || math.IsNaN(h.Det()) {
		return h, 0, nil, errFlat
	}
	scale := h[8]
	for i := range h {
		h[i] /= scale
	}
	sum := 0.0
	for i := range plane {
		x, y := h.Apply(plane[i].X, plane[i].Y)
		sum += raster.Sq(x-picture[i].X) + raster.Sq(y-picture[i].Y)
	}
	return h, math.Sqrt(sum / float64(len(plane))), normalMatrix(&h, plane), nil
}

// normaliser moves points to zero mean and mean distance √2, which keeps the equations well-conditioned (Hartley &
// Zisserman 2004, 4.4.4).
func normaliser(n int, at func(int) (x, y float64)) raster.Matrix3 {
	var mx, my, d float64
	for i := range n {
		x, y := at(i)
		mx, my = mx+x/float64(n), my+y/float64(n)
	}
	for i := range n {
		x, y := at(i)
		d += math.Hypot(x-mx, y-my) / float64(n)
	}
	if d == 0 {
		d = 1
	}
	s := math.Sqrt2 / d
	return raster.Matrix3{s, 0, -s * mx, 0, s, -s * my, 0, 0, 1}
}

// firstHomography solves the linear equations with the last element 1: good enough to start from, since points moved to
// zero mean keep that element away from 0.
func firstHomography(a, b []raster.Px) (raster.Matrix3, error) {
	m, v := mat.NewDense(2*len(a), 8, nil), mat.NewVecDense(2*len(a), nil)
	for i := range a {
		x, y, u, w := a[i].X, a[i].Y, b[i].X, b[i].Y
		m.SetRow(2*i, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y})
		m.SetRow(2*i+1, []float64{0, 0, 0, x, y, 1, -w * x, -w * y})
		v.SetVec(2*i, u)
		v.SetVec(2*i+1, w)
	}
	var s mat.VecDense
	if err := s.SolveVec(m, v); err != nil {
		return raster.Matrix3{}, errFlat
	}
	var g raster.Matrix3
	copy(g[:8], s.RawVector().Data)
	g[8] = 1
	return g, nil
}

func gaussNewtonStep(g *raster.Matrix3, a, b []raster.Px) (step [8]float64, ok bool) {
	j, r := mat.NewDense(2*len(a), 8, nil), mat.NewVecDense(2*len(a), nil)
	for i := range a {
		rowX, rowY, x, y := homographyGradient(g, a[i].X, a[i].Y)
		j.SetRow(2*i, rowX[:])
		j.SetRow(2*i+1, rowY[:])
		r.SetVec(2*i, b[i].X-x)
		r.SetVec(2*i+1, b[i].Y-y)
	}
	var s mat.VecDense
	if err := s.SolveVec(j, r); err != nil {
		return step, false
	}
	copy(step[:], s.RawVector().Data)
	return step, true
}

// homographyGradient returns where g takes (x, y) and how both coordinates change with g's first eight elements.
func homographyGradient(g *raster.Matrix3, x, y float64) (rowX, rowY [8]float64, u, v float64) {
	w := g[6]*x + g[7]*y + g[8]
	u, v = g.Apply(x, y)
	rowX = [8]float64{x / w, y / w, 1 / w, 0, 0, 0, -u * x / w, -u * y / w}
	rowY = [8]float64{0, 0, 0, x / w, y / w, 1 / w, -v * x / w, -v * y / w}
	return rowX, rowY, u, v
}

func normalMatrix(h *raster.Matrix3, plane []card.Pt) *mat.SymDense {
	n := mat.NewSymDense(8, nil)
	for _, p := range plane {
		rowX, rowY, _, _ := homographyGradient(h, p.X, p.Y)
		n.SymRankOne(n, 1, mat.NewVecDense(8, rowX[:]))
		n.SymRankOne(n, 1, mat.NewVecDense(8, rowY[:]))
	}
	return n
}
