package scene

import (
	"math"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/lens"
	"traygauge/vision/raster"
)

const lensWidth, lensHeight = 4032, 3024

// curves of a 12-megapixel photo.
var curves = map[string]*lens.Curve{
	"none":       nil,
	"barrel":     lens.Lens{F: 3030, CX: 2015.5, CY: 1511.5, K1: -0.08}.Over(lensWidth, lensHeight),
	"pincushion": lens.Lens{F: 3030, CX: 1990, CY: 1530, K1: 0.05, K2: -0.01}.Over(lensWidth, lensHeight),
}

// lensPlane is a tilted plane seen through l.
func lensPlane(l *lens.Curve) Plane {
	h := raster.Matrix3{5.2, 0.3, 700, -0.2, 5.0, 400, 2e-5, -3e-5, 1}
	return Plane{toPx: h, toMM: h.Inverse(), lens: l}
}

// The area of a pixel against the area of the quadrilateral that its four corners make on the plane, by differences.
func TestThePixelsAreaIsThatOfItsCorners(t *testing.T) {
	for name, l := range curves {
		pl := lensPlane(l)
		for _, at := range []raster.Px{{X: 0, Y: 0}, {X: 4031, Y: 0}, {X: 2015, Y: 1511}, {X: 700, Y: 2900}, {X: 4031, Y: 3023}} {
			const d = 0.5
			var q [4]card.Pt
			for i, c := range [4][2]float64{{-d, -d}, {d, -d}, {d, d}, {-d, d}} {
				q[i] = pl.ToMM(raster.Px{X: at.X + c[0], Y: at.Y + c[1]})
			}
			sum := 0.0
			for i := range q {
				n := q[(i+1)%4]
				sum += (q[i].X*n.Y - n.X*q[i].Y) / 2
			}
			relative(t, name, pl.PixelMM2(at.X, at.Y), math.Abs(sum), 1e-5)
		}
	}
}
