package vision

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/lens"
	"traygauge/vision/scene"
)

// phone is what the drawn photos' EXIF says of their camera.
var phone = scene.EXIF{Focal35: 26, Make: "Maker", Model: "Phone 1"}

// cardShot is a photo of the card alone from the middle of the card plus (x, y) mm, tilted.
type cardShot struct{ x, y, height, tilt, lean, roll float64 }

// cardShots put the card into the corners, the middle and the sides of a picture of 400 × 300 mm, from several sides.
var cardShots = []cardShot{
	{90, 70, 300, 4, 30, 2}, {-90, 70, 300, 6, 120, -3}, {90, -70, 300, 5, 250, 1}, {-90, -70, 300, 4, 300, 4},
	{0, 0, 260, 20, 0, 0}, {0, 0, 260, 22, 90, 5}, {10, 0, 270, 20, 180, -4}, {0, 10, 270, 25, 270, 90},
	{0, 65, 300, 15, 60, 0}, {-85, 0, 290, 15, 200, 180}, {30, -30, 200, 12, 140, 30}, {20, 0, 210, 18, 320, 0},
}

// seenThrough draws the shots with distortion k1 and takes them through JPEG files.
func seenThrough(t *testing.T, k1 float64, shots []cardShot) (views []CardView) {
	t.Helper()
	for i, shot := range shots {
		s := scene.Defaults(card.Shoots)
		s.Resize(2000, 1500)
		s.Lines = []scene.Line{{Points: []card.Pt{{X: 300, Y: 300}, {X: 310, Y: 300}}, WidthMM: 1}} // no tray
		s.Number, s.Photo = 0, uint64(i)
		c := &s.Camera
		c.HeightMM, c.TiltDeg, c.TiltTurn, c.RollDeg, c.K1 = shot.height, shot.tilt, shot.lean, shot.roll, k1
		c.AimX, c.AimY = card.Width/2-270+shot.x, card.Height/2-190+shot.y
		img, _, err := scene.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		e := phone
		e.Orientation = []int{1, 3, 6, 8}[i%4]
		if e.Orientation > 4 {
			e.Orientation = 1
		}
		path := filepath.Join(t.TempDir(), fmt.Sprintf("card%d.jpg", i))
		if err := scene.WriteJPEG(path, img, 95, e); err != nil {
			t.Fatal(err)
		}
		p, err := Open(path)
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

func TestPhotosOfTheCardGiveTheLens(t *testing.T) {
	for _, k1 := range []float64{-0.08, 0, 0.03} {
		views := seenThrough(t, k1, cardShots)
		p, odd, err := FitLens(views)
		t.Logf("k1 %v: %+v, odd %v, %v", k1, p, odd, err)
		if err != nil {
			t.Fatal(err)
		}
		want := scene.Defaults(card.Shoots).Camera.Focal35 / filmDiagonalMM
		t.Logf("focal %.5f want %.5f ± %.5f; k1 %.5f ± %.5f, k2 %.5f ± %.5f; middle %.5f %.5f ± %.5f", p.Focal, want, p.Focal*p.FocalRelU(), p.K1, math.Sqrt(p.Covariance[3][3]), p.K2, math.Sqrt(p.Covariance[4][4]), p.MiddleX, p.MiddleY, math.Sqrt(p.Covariance[1][1]))
		r2 := sq(0.5 / want)
		t.Logf("bend %.4f ± %.4f want %.4f", p.BendPct, p.BendUPct, 100*k1*r2)
		_ = lens.Key{}
	}
}
