package synth

import (
	"math"

	"traygauge/vision/card"
)

// view is a camera in its place. World coordinates are mm in the frame of an exactly docked card, z away from the camera;
// pixel centres are whole numbers.
type view struct {
	width, height int
	f, cx, cy     float64
	k1            float64
	r             [3][3]float64 // rows are the camera's axes in the world
	c             [3]float64    // its centre
	undistort     []float64     // r_u/r_d by r_d², see undistorted
	perEntry      float64
}

func newView(s Spec) *view {
	c := s.Camera
	w, h := float64(c.Width), float64(c.Height)
	v := &view{
		width: c.Width, height: c.Height, cx: (w - 1) / 2, cy: (h - 1) / 2, k1: c.K1,
		f: c.Focal35 / math.Hypot(36, 24) * math.Hypot(w, h),
	}
	sinT, cosT := math.Sincos(rad(c.TiltDeg))
	sinP, cosP := math.Sincos(rad(c.TiltTurn))
	// Rodrigues' rotation by the tilt about (−sin φ, cos φ, 0), which takes straight down to the tilted axis.
	x := [3]float64{cosT + sinP*sinP*(1-cosT), -sinP * cosP * (1 - cosT), -cosP * sinT}
	y := [3]float64{-sinP * cosP * (1 - cosT), cosT + cosP*cosP*(1-cosT), -sinP * sinT}
	z := [3]float64{cosP * sinT, sinP * sinT, cosT}
	sinR, cosR := math.Sincos(rad(c.RollDeg))
	for i := range 3 {
		v.r[0][i] = cosR*x[i] + sinR*y[i]
		v.r[1][i] = cosR*y[i] - sinR*x[i]
		v.r[2][i] = z[i]
	}
	ax, ay := middle(s)
	ax, ay = ax+c.AimX, ay+c.AimY
	v.c = [3]float64{ax - z[0]/z[2]*c.HeightMM, ay - z[1]/z[2]*c.HeightMM, -c.HeightMM}
	v.tabulateDistortion()
	return v
}

// middle is the middle of the smallest upright rectangle that holds tray and card.
func middle(s Spec) (x, y float64) {
	a := s.Face.FromTray(0, 0)
	b := s.Face.FromTray(math.Max(s.Tray.LengthMM, card.Width), s.Tray.WidthMM)
	return (a.X + b.X) / 2, b.Y / 2
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

// project returns where a point of the world is in the picture.
func (v *view) project(x, y, z float64) (px, py float64) {
	dx, dy, dz := x-v.c[0], y-v.c[1], z-v.c[2]
	r := &v.r
	depth := r[2][0]*dx + r[2][1]*dy + r[2][2]*dz
	a := (r[0][0]*dx + r[0][1]*dy + r[0][2]*dz) / depth
	b := (r[1][0]*dx + r[1][1]*dy + r[1][2]*dz) / depth
	d := 1 + v.k1*(a*a+b*b)
	return v.cx + v.f*a*d, v.cy + v.f*b*d
}

// tabulateDistortion fills the table that undistorted reads, up to the picture's corner.
func (v *view) tabulateDistortion() {
	if v.k1 == 0 {
		return
	}
	const entries = 2048
	most := (v.cx*v.cx + v.cy*v.cy) / (v.f * v.f) * 1.05
	v.perEntry = entries / most
	v.undistort = make([]float64, entries+2)
	for i := range v.undistort {
		rd := math.Sqrt(float64(i) / v.perEntry)
		ru := rd
		for range 30 { // Newton on r_u (1 + k1 r_u²) = r_d
			ru -= (ru*(1+v.k1*ru*ru) - rd) / (1 + 3*v.k1*ru*ru)
		}
		v.undistort[i] = 1
		if rd > 0 {
			v.undistort[i] = ru / rd
		}
	}
}

// undistorted returns r_u/r_d for a squared r_d.
func (v *view) undistorted(rd2 float64) float64 {
	at := rd2 * v.perEntry
	i := int(at)
	if i > len(v.undistort)-2 {
		i = len(v.undistort) - 2
	}
	return v.undistort[i] + (v.undistort[i+1]-v.undistort[i])*(at-float64(i))
}

// plane returns the point of the plane at height z that the picture shows at (px, py).
func (v *view) plane(px, py, z float64) (x, y float64) {
	a, b := (px-v.cx)/v.f, (py-v.cy)/v.f
	if v.k1 != 0 {
		s := v.undistorted(a*a + b*b)
		a, b = a*s, b*s
	}
	r := &v.r
	dz := r[0][2]*a + r[1][2]*b + r[2][2]
	k := (z - v.c[2]) / dz
	return v.c[0] + k*(r[0][0]*a+r[1][0]*b+r[2][0]), v.c[1] + k*(r[0][1]*a+r[1][1]*b+r[2][1])
}

// planeRow fills xs, ys with the plane's points under the pixels px0, px0+1, … of row py.
func (v *view) planeRow(px0, py int, z float64, xs, ys []float64) {
	for i := range xs {
		xs[i], ys[i] = v.plane(float64(px0+i), float64(py), z)
	}
}

// box returns the pixels that can show the rectangle of the plane z, cut to the picture; x1 and y1 are outside.
func (v *view) box(minX, minY, maxX, maxY, z float64) (x0, y0, x1, y1 int) {
	lowX, lowY, highX, highY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	const steps = 8 // along each side: distortion bends the sides
	for i := range steps + 1 {
		t := float64(i) / steps
		x, y := minX+(maxX-minX)*t, minY+(maxY-minY)*t
		for _, p := range [4][2]float64{{x, minY}, {x, maxY}, {minX, y}, {maxX, y}} {
			px, py := v.project(p[0], p[1], z)
			lowX, highX = math.Min(lowX, px), math.Max(highX, px)
			lowY, highY = math.Min(lowY, py), math.Max(highY, py)
		}
	}
	clamp := func(f float64, most int) int { return int(math.Max(0, math.Min(f, float64(most)))) }
	return clamp(math.Floor(lowX)-1, v.width), clamp(math.Floor(lowY)-1, v.height),
		clamp(math.Ceil(highX)+2, v.width), clamp(math.Ceil(highY)+2, v.height)
}
