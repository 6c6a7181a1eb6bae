package scene

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"traygauge/vision/card"
	"traygauge/vision/lens"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// Plane ties a photo's pixels to a flat surface in mm: the card's own plane, or one parallel to it. It is the only place
// that knows both. Its mm are true ones: the card's nominal sizes times what its printer made of them.
type Plane struct {
	toPx, toMM raster.Matrix3 // to and from where a pinhole would show a point
	lens       *lens.Curve    // from there to the photo's pixels; nil where they are the same
	camera     *camera

	ResidualPx float64 // root mean square misfit of the card's corners
	ResidualMM float64
	TiltDeg    float64 // the camera's axis against the plane's normal
	HeightMM   float64 // the camera over the plane; 0 without a focal length
	HeightUMM  float64 // its standard uncertainty, from the focal length's

	normal *mat.SymDense // for carrying corner noise, see AreaRelU
	spread []Plane       // as it would be with lenses a standard deviation off, see LensRelU
}

// camera is a pinhole over the plane: K of focal length f with the principal point in the picture's middle or where the lens has
// it, and the plane's axes and origin as the camera sees them.
type camera struct {
	k          raster.Matrix3
	r1, r2, r3 [3]float64 // unit vectors along x, along y, and away from the camera
	t          [3]float64 // the plane's origin
}

// newPlane fits the plane to the card's sixteen corners, given in true mm, seen through l.
func newPlane(corners []card.Pt, seen []raster.Px, p *photo.Photo, l photoLens) (Plane, error) {
	h, rms, normal, err := fitHomography(corners, straightened(l.curve, seen))
	if err != nil {
		return Plane{}, err
	}
	pl := Plane{toPx: h, toMM: h.Inverse(), lens: l.curve, ResidualPx: rms, normal: normal}
	for _, c := range l.spread {
		if h, _, _, err := fitHomography(corners, straightened(c, seen)); err == nil {
			pl.spread = append(pl.spread, Plane{toMM: h.Inverse(), lens: c})
		}
	}
	sum := 0.0
	for i, s := range seen {
		at := pl.ToMM(s)
		sum += raster.Sq(at.X-corners[i].X) + raster.Sq(at.Y-corners[i].Y)
	}
	pl.ResidualMM = math.Sqrt(sum / float64(len(seen)))

	cam := newCamera(&h, l.f, l.middle)
	pl.TiltDeg = math.Acos(math.Min(1, math.Abs(cam.r3[2]))) * 180 / math.Pi
	if l.fRelU > 0 {
		pl.camera, pl.HeightMM, pl.HeightUMM = &cam, cam.height(), cam.height()*l.fRelU
	}
	return pl, nil
}

// newCamera takes a homography apart: H ~ K [r1 r2 t] (Hartley & Zisserman 2004, 8.1.1; Zhang 2000, IEEE TPAMI 22, 1330-1334).
func newCamera(h *raster.Matrix3, f float64, middle raster.Px) camera {
	k := raster.Matrix3{f, 0, middle.X, 0, f, middle.Y, 0, 0, 1}
	inv := k.Inverse()
	b := inv.Times(h)
	b1, b2, t := [3]float64{b[0], b[3], b[6]}, [3]float64{b[1], b[4], b[7]}, [3]float64{b[2], b[5], b[8]}
	scale := 1 / math.Sqrt(norm(b1)*norm(b2))
	if t[2] < 0 {
		scale = -scale
	}
	c := camera{k: k, r1: scaled(b1, scale), r2: scaled(b2, scale), t: scaled(t, scale)}
	c.r3 = cross(c.r1, c.r2)
	c.r3 = scaled(c.r3, 1/norm(c.r3))
	return c
}

// height is the distance of the camera's centre from the plane.
func (c *camera) height() float64 { return math.Abs(dot3(c.r3, c.t)) }

// Raised returns the plane that lies h mm nearer to the camera and has the same axes. ok is false, and the plane unchanged,
// when h is not 0 and the photo names no focal length. On it an object's area is by ((Z − h)/Z)² less than a pixel's
// share of the lower plane says, Z the camera's height.
func (p Plane) Raised(h float64) (raised Plane, ok bool) {
	if h == 0 {
		return p, true
	}
	if p.camera == nil || h >= p.HeightMM {
		return p, false
	}
	c := *p.camera
	for i := range c.t {
		c.t[i] -= h * c.r3[i]
	}
	m := raster.Matrix3{c.r1[0], c.r2[0], c.t[0], c.r1[1], c.r2[1], c.t[1], c.r1[2], c.r2[2], c.t[2]}
	raised = p
	raised.toPx = c.k.Times(&m)
	raised.toMM = raised.toPx.Inverse()
	raised.camera, raised.HeightMM = &c, p.HeightMM-h
	return raised, true
}

// ToPx returns where a point of the plane appears.
func (p *Plane) ToPx(m card.Pt) raster.Px {
	x, y := p.toPx.Apply(m.X, m.Y)
	if p.lens != nil {
		x, y = p.lens.Bent(x, y)
	}
	return raster.Px{X: x, Y: y}
}

// ToMM returns the point of the plane that appears at a pixel.
func (p *Plane) ToMM(q raster.Px) card.Pt {
	x, y := q.X, q.Y
	if p.lens != nil {
		x, y = p.lens.Straight(x, y)
	}
	x, y = p.toMM.Apply(x, y)
	return card.Pt{X: x, Y: y}
}

// PixelMM2 returns the area in mm² that the pixel at (x, y) covers: |det J| of the mapping from picture to plane at its
// centre, which for a homography G is |det G| / w³ with w = g₃₁x + g₃₂y + g₃₃, times the lens's own.
func (p *Plane) PixelMM2(x, y float64) float64 {
	bent := 1.0
	if p.lens != nil {
		x, y, bent = p.lens.StraightPixel(x, y)
	}
	w := math.Abs(p.toMM[6]*x + p.toMM[7]*y + p.toMM[8])
	return bent * math.Abs(p.toMM.Det()) / (w * w * w)
}

// PixelMM returns how many mm of the plane a pixel is wide and high.
func (p *Plane) PixelMM(q raster.Px) (x, y float64) {
	a, b := p.ToMM(raster.Px{X: q.X - 0.5, Y: q.Y}), p.ToMM(raster.Px{X: q.X + 0.5, Y: q.Y})
	c, d := p.ToMM(raster.Px{X: q.X, Y: q.Y - 0.5}), p.ToMM(raster.Px{X: q.X, Y: q.Y + 0.5})
	return math.Hypot(b.X-a.X, b.Y-a.Y), math.Hypot(d.X-c.X, d.Y-c.Y)
}

// PxPerMM returns the scale at a point of the plane: the square root of how many pixels a mm² takes there.
func (p *Plane) PxPerMM(m card.Pt) float64 {
	at := p.ToPx(m)
	return 1 / math.Sqrt(p.PixelMM2(at.X, at.Y))
}

// LensRelU returns the relative standard uncertainty of an area at a pixel from what is not known of the lens: how much the area
// changes with lenses a standard deviation off, the plane fitted anew to the card through each. It grows with the distance
// from the card.
func (p *Plane) LensRelU(q raster.Px) float64 {
	sum, own := 0.0, p.PixelMM2(q.X, q.Y)
	for i := range p.spread {
		sum += raster.Sq(math.Log(p.spread[i].PixelMM2(q.X, q.Y) / own))
	}
	return math.Sqrt(sum)
}

// AreaRelU returns the relative standard uncertainty of an area at a point of the plane from noise of the standard deviation
// cornerPx on each coordinate of the card's corners. The scale there moves with H's eight elements h as
// Var = g·σ²(JᵀJ)⁻¹·g, g the gradient of ln|det J|, taken by differences (JCGM 100:2008, 5.2.2, eq. 13).
func (p *Plane) AreaRelU(at card.Pt, cornerPx float64) float64 {
	if p.normal == nil {
		return math.NaN()
	}
	lnArea := func(h raster.Matrix3) float64 {
		w := h[6]*at.X + h[7]*at.Y + h[8]
		return math.Log(math.Abs(h.Det())) - 3*math.Log(math.Abs(w))
	}
	grad := mat.NewVecDense(8, nil)
	for i := range 8 {
		step := 1e-6 * math.Max(math.Abs(p.toPx[i]), 1e-6)
		up, down := p.toPx, p.toPx
		up[i] += step
		down[i] -= step
		grad.SetVec(i, (lnArea(up)-lnArea(down))/(2*step))
	}
	var s mat.VecDense
	if err := s.SolveVec(p.normal, grad); err != nil {
		return math.NaN()
	}
	return cornerPx * math.Sqrt(math.Max(0, mat.Dot(grad, &s)))
}

// straightened returns all points as a pinhole would show them; without a lens they are that already.
func straightened(l *lens.Curve, seen []raster.Px) []raster.Px {
	if l == nil {
		return seen
	}
	out := make([]raster.Px, len(seen))
	for i, q := range seen {
		out[i].X, out[i].Y = l.Straight(q.X, q.Y)
	}
	return out
}

func norm(v [3]float64) float64    { return math.Sqrt(dot3(v, v)) }
func dot3(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func scaled(v [3]float64, k float64) [3]float64 { return [3]float64{v[0] * k, v[1] * k, v[2] * k} }
