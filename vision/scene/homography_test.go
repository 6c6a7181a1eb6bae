package scene

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// refs is testdata/refs/homography.json, worked out apart from this program.
type refs struct {
	FourPoint []struct {
		Name   string
		H      [3][3]float64 `json:"H_plane_to_image"`
		Plane  [][2]float64  `json:"plane_corners_mm"`
		Image  [][2]float64  `json:"image_corners_px"`
		AreaPX float64       `json:"quad_area_image_px2"`
		AreaMM float64       `json:"quad_area_plane_mm2"`
		Points []struct {
			Plane  [2]float64 `json:"plane_mm"`
			Image  [2]float64 `json:"image_px"`
			MM2    float64    `json:"mm2_per_px2"`
			UnitPx float64    `json:"area_of_unit_pixel_mm2"`
		}
	} `json:"four_point"`
	LeastSquares []struct {
		Name         string
		Plane, Image [][2]float64
		H            [3][3]float64
		RMS          float64 `json:"rms_px"`
	} `json:"least_squares"`
	Pinhole []struct {
		Name   string
		K, R   [3][3]float64
		Z      float64       `json:"height_Z_mm"`
		H      [3][3]float64 `json:"H_plane_to_image"`
		Raised []struct {
			H        float64 `json:"h_mm"`
			Area     float64 `json:"true_area_mm2"`
			Apparent float64 `json:"apparent_area_mm2"`
			Factor   float64 `json:"factor_to_apply"`
		} `json:"raised_patch"`
	}
}

func readRefs(t *testing.T) (r refs) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "refs", "homography.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func planePoints(v [][2]float64) (p []card.Pt) {
	for _, c := range v {
		p = append(p, card.Pt{X: c[0], Y: c[1]})
	}
	return p
}

func picturePoints(v [][2]float64) (p []raster.Px) {
	for _, c := range v {
		p = append(p, raster.Px{X: c[0], Y: c[1]})
	}
	return p
}

// sameMatrix compares two homographies by where they take the card's corners.
func sameMatrix(t *testing.T, name string, got raster.Matrix3, want [3][3]float64, within float64) {
	t.Helper()
	w := raster.Matrix3{want[0][0], want[0][1], want[0][2], want[1][0], want[1][1], want[1][2], want[2][0], want[2][1], want[2][2]}
	for _, c := range (card.Rect{Max: card.Pt{X: card.Width, Y: card.Height}}).Corners() {
		gx, gy := got.Apply(c.X, c.Y)
		wx, wy := w.Apply(c.X, c.Y)
		if d := math.Hypot(gx-wx, gy-wy); !(d <= within) {
			t.Errorf("%s: %v goes to (%v, %v), %g px from the reference", name, c, gx, gy, d)
		}
	}
}

func relative(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s is %.12g, want %.12g within %g of it", what, got, want, within)
	}
}

func TestFourCornersGiveTheHomographyAndThePixelsAreas(t *testing.T) {
	for _, r := range readRefs(t).FourPoint {
		h, rms, _, err := fitHomography(planePoints(r.Plane), picturePoints(r.Image))
		if err != nil {
			t.Fatalf("%s: %v", r.Name, err)
		}
		sameMatrix(t, r.Name, h, r.H, 1e-8)
		if !(rms < 1e-9) {
			t.Errorf("%s: four corners miss by %g px", r.Name, rms)
		}
		pl := Plane{toPx: h, toMM: h.Inverse()}
		for _, p := range r.Points {
			relative(t, r.Name+": |det J|", pl.PixelMM2(p.Image[0], p.Image[1]), p.MM2, 1e-9)
			// The area of the whole unit pixel differs from |det J| at its middle by the curvature within one pixel.
			relative(t, r.Name+": unit pixel", pl.PixelMM2(p.Image[0], p.Image[1]), p.UnitPx, 1e-5)
			relative(t, r.Name+": scale", pl.PxPerMM(card.Pt{X: p.Plane[0], Y: p.Plane[1]}), 1/math.Sqrt(p.MM2), 1e-9)
		}
	}
}

func TestSixteenCornersGiveTheLeastSquareDistanceInThePicture(t *testing.T) {
	for _, r := range readRefs(t).LeastSquares {
		h, rms, _, err := fitHomography(planePoints(r.Plane), picturePoints(r.Image))
		if err != nil {
			t.Fatalf("%s: %v", r.Name, err)
		}
		sameMatrix(t, r.Name, h, r.H, 1e-4)
		if !(math.Abs(rms-r.RMS) < 1e-8) {
			t.Errorf("%s: rms %.10f px, want %.10f", r.Name, rms, r.RMS)
		}
	}
}

func TestPointsOnALineGiveNoPlane(t *testing.T) {
	onLine := []card.Pt{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}}
	at := []raster.Px{{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 20, Y: 20}, {X: 30, Y: 30}}
	if h, _, _, err := fitHomography(onLine, at); err == nil {
		t.Errorf("four points on a line gave %v", h)
	}
	if _, _, _, err := fitHomography(onLine[:3], at[:3]); err == nil {
		t.Error("three points gave a plane")
	}
	same := []raster.Px{{X: 5, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 5}}
	if h, _, _, err := fitHomography([]card.Pt{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}, same); err == nil {
		t.Errorf("one pixel four times gave %v", h)
	}
}

// pinholePlane is the plane that a reference camera's card corners give, from a photo that names its focal length.
func pinholePlane(t *testing.T, h, k [3][3]float64) Plane {
	t.Helper()
	p := &photo.Photo{Width: int(2*k[0][2]) + 1, Height: int(2*k[1][2]) + 1} // the principal point is the picture's middle
	p.Meta.Focal35 = k[0][0] * photo.FilmDiagonalMM / math.Hypot(float64(p.Width), float64(p.Height))
	m := raster.Matrix3{h[0][0], h[0][1], h[0][2], h[1][0], h[1][1], h[1][2], h[2][0], h[2][1], h[2][2]}
	var corners []card.Pt
	var seen []raster.Px
	for _, r := range card.Markers() {
		for _, c := range r.Corners() {
			x, y := m.Apply(c.X, c.Y)
			corners, seen = append(corners, c), append(seen, raster.Px{X: x, Y: y})
		}
	}
	pl, err := newPlane(corners, seen, p, lensOf(p, nil))
	if err != nil {
		t.Fatal(err)
	}
	return pl
}

func TestHeightAndTiltOfAKnownCamera(t *testing.T) {
	for _, r := range readRefs(t).Pinhole {
		pl := pinholePlane(t, r.H, r.K)
		relative(t, r.Name+": height", pl.HeightMM, r.Z, 1e-7)
		// The optical axis is the third row of R; the plane's normal is the z axis.
		if tilt := math.Acos(math.Min(1, r.R[2][2])) * 180 / math.Pi; !(math.Abs(pl.TiltDeg-tilt) < 1e-4) {
			t.Errorf("%s: tilt %v°, want %v°", r.Name, pl.TiltDeg, tilt)
		}
	}
}

// A patch h above the card looks larger by (Z/(Z−h))². Measured on the raised plane it has its true area.
func TestRaisedPlaneTakesTheHeightOutOfAnArea(t *testing.T) {
	for _, r := range readRefs(t).Pinhole {
		pl := pinholePlane(t, r.H, r.K)
		for _, patch := range r.Raised {
			raised, ok := pl.Raised(patch.H)
			if !ok {
				t.Fatalf("%s: no plane %v mm up", r.Name, patch.H)
			}
			relative(t, r.Name+": height", raised.HeightMM, r.Z-patch.H, 1e-7)
			// A pixel on the raised plane against the same pixel on the card's plane.
			for _, q := range []raster.Px{{X: 0, Y: 0}, {X: 1500, Y: 1000}, pl.ToPx(card.Pt{X: 75, Y: 50})} {
				relative(t, r.Name+": factor", raised.PixelMM2(q.X, q.Y)/pl.PixelMM2(q.X, q.Y), patch.Factor, 1e-6)
			}
			relative(t, r.Name+": reference", patch.Apparent*patch.Factor, patch.Area, 1e-6)
		}
	}
}

func TestWithoutAFocalLengthNoPlaneIsRaised(t *testing.T) {
	r := readRefs(t).Pinhole[0]
	pl := pinholePlane(t, r.H, r.K)
	pl.camera = nil
	if _, ok := pl.Raised(20); ok {
		t.Error("a plane was raised without a known camera")
	}
	if _, ok := pl.Raised(0); !ok {
		t.Error("nothing to raise needs no camera")
	}
	if up, ok := pinholePlane(t, r.H, r.K).Raised(r.Z + 1); ok {
		t.Errorf("a plane above the camera: %v mm", up.HeightMM)
	}
}
