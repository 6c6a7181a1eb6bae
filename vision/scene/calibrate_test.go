package scene

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/lens"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/synth"
)

// phone is what the drawn photos' EXIF says of their camera.
var phone = synth.EXIF{Focal35: 26, Make: "Maker", Model: "Phone 1"}

// cardShot is a photo of the card alone from the middle of the card plus (x, y) mm, tilted.
type cardShot struct{ x, y, height, tilt, lean, roll float64 }

// cardShots put the card into the corners, the middle and the sides of a picture of 400 × 300 mm, from several sides.
var cardShots = []cardShot{
	{110, 85, 300, 4, 30, 2}, {-110, 85, 300, 6, 120, -3}, {110, -85, 300, 5, 250, 1}, {-110, -85, 300, 4, 300, 4},
	{0, 0, 260, 20, 0, 0}, {0, 0, 260, 22, 90, 5}, {10, 0, 270, 20, 180, -4}, {0, 10, 270, 25, 270, 90},
	{0, 65, 300, 15, 60, 0}, {-85, 0, 290, 15, 200, 180}, {30, -30, 200, 12, 140, 30}, {20, 0, 210, 18, 320, 0},
}

// seenThrough draws the shots with distortion k1 and takes them through JPEG files.
func seenThrough(t *testing.T, k1 float64, shots []cardShot) (views []CardView) {
	t.Helper()
	for i, shot := range shots {
		e := phone
		e.Orientation = [12]int{4: 6, 5: 8, 6: 3}[i%12] // the phone held upright, and upside down; shot 7 is upright without saying so
		s := synth.Defaults(card.Shoots)
		s.Resize(1600, 1200)
		if e.Orientation == 6 || e.Orientation == 8 || i == 7 {
			s.Resize(1200, 1600)
		}
		s.Lines = []synth.Line{{Points: []card.Pt{{X: 300, Y: 300}, {X: 310, Y: 300}}, WidthMM: 1}} // no tray
		s.Number, s.Photo = 0, uint64(i)
		c := &s.Camera
		c.HeightMM, c.TiltDeg, c.TiltTurn, c.RollDeg, c.K1 = shot.height, shot.tilt, shot.lean, shot.roll, k1
		c.AimX, c.AimY = card.Width/2-270+shot.x, card.Height/2-190+shot.y
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), fmt.Sprintf("card%d.jpg", i))
		if err := synth.WriteJPEG(path, img, 95, e); err != nil {
			t.Fatal(err)
		}
		p, err := photo.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		v, err := SeeCard(p)
		p.Close()
		if err != nil {
			t.Errorf("shot %d: %v", i, err)
			continue
		}
		views = append(views, v)
	}
	return views
}

// The truth is the camera that drew the photos: its focal length, its distortion, its middle in the picture's middle.
func TestPhotosOfTheCardGiveTheLens(t *testing.T) {
	const k1 = -0.08
	p, odd, err := FitLens(seenThrough(t, k1, cardShots))
	if err != nil {
		t.Fatal(err)
	}
	focal := 26 / photo.FilmDiagonalMM
	bend := 100 * k1 * raster.Sq(0.5/focal)
	t.Logf("focal length %.5f ± %.5f diagonals, drawn %.5f; k1 %.5f, k2 %.5f; middle off by %.5f, %.5f ± %.5f; corners bent by %.3f ± %.3f %%, drawn %.3f; misfit %.3f px",
		p.Focal, p.Focal*p.FocalRelU(), focal, p.K1, p.K2, p.MiddleX, p.MiddleY, math.Sqrt(p.Covariance[1][1]), p.BendPct, p.BendUPct, bend, p.MisfitPx)
	if len(odd) > 0 || p.Photos != len(cardShots) {
		t.Errorf("%d photos used, %v left out", p.Photos, odd)
	}
	if !(math.Abs(p.BendPct-bend) < 0.03) || !(p.BendUPct > 0 && p.BendUPct < 0.03) {
		t.Errorf("the picture's corners are bent by %.3f ± %.3f %%, drawn with %.3f", p.BendPct, p.BendUPct, bend)
	}
	relative(t, "focal length", p.Focal, focal, 1e-3)
	for _, off := range []float64{p.MiddleX, p.MiddleY} {
		if !(math.Abs(off) < 3e-4) {
			t.Errorf("the lens's middle is %.5f diagonals off the picture's", off)
		}
	}
	showTrayThrough(t, p, k1)
}

// showTrayThrough finds the card beside a tray through a lens that bends by k1, with and without its profile, and compares what
// pixels over the tray are said to cover with what the drawing camera covers, straight down from its height.
func showTrayThrough(t *testing.T, profile lens.Profile, k1 float64) {
	t.Helper()
	s := synth.Defaults(card.Roots)
	s.Resize(2000, 1500)
	s.Camera.K1 = k1
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "tray.jpg")
	if err := synth.Save(path, img, truth, 95, phone); err != nil {
		t.Fatal(err)
	}
	photo, err := photo.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer photo.Close()
	for _, have := range [][]lens.Profile{nil, {profile}} {
		found, err := FindCard(photo, CardOptions{Lenses: have})
		if err != nil {
			t.Fatal(err)
		}
		if (found.Lens != nil) != (have != nil) {
			t.Fatalf("%d profiles at hand, used: %v", len(have), found.Lens)
		}
		least, most, sum, worst := math.Inf(1), math.Inf(-1), 0.0, 0.0
		for cell := range 50 {
			u, v := s.Tray.FirstU+s.Tray.PitchMM*float64(cell%10), s.Tray.FirstV+s.Tray.PitchMM*float64(cell/10)
			x, y, covers := drawnPixel(s, found.TrayPoint(u, v))
			off := found.Plane.PixelMM2(x, y)/covers - 1
			least, most, sum = math.Min(least, off), math.Max(most, off), sum+off/50
			worst = math.Max(worst, math.Abs(off)/math.Hypot(found.Plane.LensRelU(raster.Px{X: x, Y: y}), found.Plane.AreaRelU(found.TrayPoint(u, v), 0.03)))
		}
		t.Logf("tray photo with %d profiles: areas off by %+.2f %% over the tray, from %+.2f to %+.2f %%; at most %.1f of what the error bar's parts say; card's misfit %.2f px, height %.1f ± %.1f mm",
			len(have), 100*sum, 100*least, 100*most, worst, found.Plane.ResidualPx, found.Plane.HeightMM, found.Plane.HeightUMM)
		if have != nil && (!(most-least < 0.01) || !(math.Abs(sum) < 0.003)) {
			t.Errorf("with the profile areas are off by %+.2f %%, from %+.2f to %+.2f %%", 100*sum, 100*least, 100*most)
		}
		if have != nil && !(worst < 3) {
			t.Errorf("an area is off by %.1f standard uncertainties", worst)
		}
		if have == nil && !(most-least > 0.1) {
			t.Error("a lens that bends this much was taken for a pinhole's: the drawing shows nothing")
		}
	}
}

// drawnPixel is where the camera of an untilted scene shows a point of the plane, and the mm² that a pixel covers there: (Z/f)² for
// a pinhole, over r_d/r_u · dr_d/dr_u.
func drawnPixel(s synth.Spec, at card.Pt) (x, y, covers float64) {
	w, h := float64(s.Camera.Width), float64(s.Camera.Height)
	f := s.Camera.Focal35 / photo.FilmDiagonalMM * math.Hypot(w, h)
	a := s.Face.FromTray(0, 0)
	b := s.Face.FromTray(s.Tray.LengthMM, s.Tray.WidthMM)
	dx, dy := (at.X-(a.X+b.X)/2)/s.Camera.HeightMM, (at.Y-b.Y/2)/s.Camera.HeightMM
	r2 := dx*dx + dy*dy
	bend := 1 + s.Camera.K1*r2
	return (w-1)/2 + f*dx*bend, (h-1)/2 + f*dy*bend, raster.Sq(s.Camera.HeightMM/f) / (bend * (1 + 3*s.Camera.K1*r2))
}
