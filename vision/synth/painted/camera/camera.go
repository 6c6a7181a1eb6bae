// Package camera is a pinhole camera with radial distortion in its place above the card's plane. In goes a Camera in mm and degrees; a point
// of the world gives the pixel that shows it, and a pixel the point of a plane. It knows nothing of trays and light.
package camera

import (
	"math"

	"traygauge/vision/synth/painted/num"
)

// Camera is a pinhole camera with radial distortion, r_d = r_u (1 + k1 r_u²) in units of the focal length.
type Camera struct {
	Width, Height int     // px
	Focal35       float64 // focal length for a frame of 36 × 24 mm: f_px = Focal35 / 43.2666 × the picture's diagonal in px
	HeightMM      float64 // over the card's plane
	TiltDeg       float64 // between the optical axis and straight down
	TiltTurn      float64 // degrees, the way the axis leans: 0 to +x, 90 to +y
	RollDeg       float64 // about the optical axis, clockwise as the camera turns
	AimX, AimY    float64 // mm: what the camera aims at, from the middle of tray and card
	K1            float64
}

// View is a camera in its place. World coordinates are mm in the frame of an exactly docked card, z away from the camera;
// pixel centres are whole numbers.
type View struct {
	Width, Height int
	F, Cx, Cy     float64
	K1            float64
	R             [3][3]float64 // rows are the camera's axes in the world
	C             [3]float64    // its centre
	undistort     []float64     // r_u/r_d by r_d², see undistorted
	perEntry      float64
}

// NewView is the camera above (x, y) of the plane but for its own aim.
func NewView(c Camera, x, y float64) *View {
	w, h := float64(c.Width), float64(c.Height)
	v := &View{
		Width: c.Width, Height: c.Height, Cx: (w - 1) / 2, Cy: (h - 1) / 2, K1: c.K1,
		F: c.Focal35 / math.Hypot(36, 24) * math.Hypot(w, h),
	}
	sinT, cosT := math.Sincos(num.Rad(c.TiltDeg))
	sinP, cosP := math.Sincos(num.Rad(c.TiltTurn))
	// Rodrigues' rotation by the tilt about (−sin φ, cos φ, 0), which takes straight down to the tilted axis.
	right := [3]float64{cosT + sinP*sinP*(1-cosT), -sinP * cosP * (1 - cosT), -cosP * sinT}
	down := [3]float64{-sinP * cosP * (1 - cosT), cosT + cosP*cosP*(1-cosT), -sinP * sinT}
	away := [3]float64{cosP * sinT, sinP * sinT, cosT}
	sinR, cosR := math.Sincos(num.Rad(c.RollDeg))
	for i := range 3 {
		v.R[0][i] = cosR*right[i] + sinR*down[i]
		v.R[1][i] = cosR*down[i] - sinR*right[i]
		v.R[2][i] = away[i]
	}
	ax, ay := x+c.AimX, y+c.AimY
	v.C = [3]float64{ax - away[0]/away[2]*c.HeightMM, ay - away[1]/away[2]*c.HeightMM, -c.HeightMM}
	v.tabulateDistortion()
	return v
}

// Project returns where a point of the world is in the picture.
func (v *View) Project(x, y, z float64) (px, py float64) {
	dx, dy, dz := x-v.C[0], y-v.C[1], z-v.C[2]
	r := &v.R
	depth := r[2][0]*dx + r[2][1]*dy + r[2][2]*dz
	a := (r[0][0]*dx + r[0][1]*dy + r[0][2]*dz) / depth
	b := (r[1][0]*dx + r[1][1]*dy + r[1][2]*dz) / depth
	d := 1 + v.K1*(a*a+b*b)
	return v.Cx + v.F*a*d, v.Cy + v.F*b*d
}

// tabulateDistortion fills the table that undistorted reads, up to the picture's corner.
func (v *View) tabulateDistortion() {
	if v.K1 == 0 {
		return
	}
	const entries = 2048
	most := (v.Cx*v.Cx + v.Cy*v.Cy) / (v.F * v.F) * 1.05
	v.perEntry = entries / most
	v.undistort = make([]float64, entries+2)
	for i := range v.undistort {
		rd := math.Sqrt(float64(i) / v.perEntry)
		ru := rd
		for range 30 { // Newton on r_u (1 + k1 r_u²) = r_d
			ru -= (ru*(1+v.K1*ru*ru) - rd) / (1 + 3*v.K1*ru*ru)
		}
		v.undistort[i] = 1
		if rd > 0 {
			v.undistort[i] = ru / rd
		}
	}
}

// undistorted returns r_u/r_d for a squared r_d.
func (v *View) undistorted(rd2 float64) float64 {
	at := rd2 * v.perEntry
	i := int(at)
	if i > len(v.undistort)-2 {
		i = len(v.undistort) - 2
	}
	return v.undistort[i] + (v.undistort[i+1]-v.undistort[i])*(at-float64(i))
}

// Plane returns the point of the plane at height z that the picture shows at (px, py).
func (v *View) Plane(px, py, z float64) (x, y float64) {
	a, b := (px-v.Cx)/v.F, (py-v.Cy)/v.F
	if v.K1 != 0 {
		s := v.undistorted(a*a + b*b)
		a, b = a*s, b*s
	}
	r := &v.R
	dz := r[0][2]*a + r[1][2]*b + r[2][2]
	k := (z - v.C[2]) / dz
	return v.C[0] + k*(r[0][0]*a+r[1][0]*b+r[2][0]), v.C[1] + k*(r[0][1]*a+r[1][1]*b+r[2][1])
}

// PlaneRow fills xs, ys with the plane's points under the pixels px0, px0+1, … of row py.
func (v *View) PlaneRow(px0, py int, z float64, xs, ys []float64) {
	for i := range xs {
		xs[i], ys[i] = v.Plane(float64(px0+i), float64(py), z)
	}
}

// Box returns the pixels that can show the rectangle of the plane z, cut to the picture; x1 and y1 are outside.
func (v *View) Box(minX, minY, maxX, maxY, z float64) (x0, y0, x1, y1 int) {
	lowX, lowY, highX, highY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	const steps = 8 // along each side: distortion bends the sides
	for i := range steps + 1 {
		t := float64(i) / steps
		x, y := minX+(maxX-minX)*t, minY+(maxY-minY)*t
		for _, p := range [4][2]float64{{x, minY}, {x, maxY}, {minX, y}, {maxX, y}} {
			px, py := v.Project(p[0], p[1], z)
			lowX, highX = math.Min(lowX, px), math.Max(highX, px)
			lowY, highY = math.Min(lowY, py), math.Max(highY, py)
		}
	}
	clamp := func(f float64, most int) int { return int(math.Max(0, math.Min(f, float64(most)))) }
	return clamp(math.Floor(lowX)-1, v.Width), clamp(math.Floor(lowY)-1, v.Height),
		clamp(math.Ceil(highX)+2, v.Width), clamp(math.Ceil(highY)+2, v.Height)
}
