package marker

import (
	"math"
	"testing"

	"gocv.io/x/gocv"

	"traygauge/vision/card"
)

// The card prints its markers from its own table; what finds them has the library's.
func TestCardPrintsTheLibrarysCodes(t *testing.T) {
	for id := range 250 {
		want, err := code(id)
		if err != nil {
			t.Fatal(err)
		}
		var got uint32
		for row := 1; row <= 5; row++ {
			for col := 1; col <= 5; col++ {
				got <<= 1
				if card.White(id, row, col) {
					got |= 1
				}
			}
		}
		if got != want {
			t.Errorf("marker %d is printed as %07x, the library has %07x", id, got, want)
		}
	}
}

func TestCodeOutsideTheDictionaryIsAnError(t *testing.T) {
	for _, id := range []int{-1, 250, math.MaxInt32} {
		if _, err := code(id); err == nil {
			t.Errorf("marker %d has a code", id)
		}
	}
}

func TestFindRefusesWhatIsNoGreyPicture(t *testing.T) {
	empty := gocv.NewMat()
	defer empty.Close()
	colour := gocv.NewMatWithSize(40, 40, gocv.MatTypeCV8UC3)
	defer colour.Close()
	deep := gocv.NewMatWithSize(40, 40, gocv.MatTypeCV16UC1)
	defer deep.Close()
	for name, m := range map[string]gocv.Mat{"zero": {}, "empty": empty, "three channels": colour, "16 bits": deep} {
		if quads, err := Find(m, 50); err == nil {
			t.Errorf("%s: no error, %d markers", name, len(quads))
		}
	}
}

func TestFindSurvivesTinyPictures(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 300}, {300, 1}, {7, 7}} {
		m := gocv.NewMatWithSize(size[0], size[1], gocv.MatTypeCV8UC1)
		if quads, err := Find(m, 0); err != nil || len(quads) != 0 {
			t.Errorf("%v: %d markers, %v", size, len(quads), err)
		}
		m.Close()
	}
}

// A marker of 7 modules of 12 px about (100, 100), turned: its first corner stays the printed top left.
func TestFindGivesCornersAsPrintedHoweverTurned(t *testing.T) {
	const half = 42.0
	for _, id := range []int{0, 7, 10, 249} {
		for _, deg := range []float64{10, 100, 190, 280} {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			quads := findDrawn(t, id, sin, cos, half)
			if len(quads) != 1 || quads[0].ID != id {
				t.Errorf("marker %d turned %v°: found %+v", id, deg, quads)
				continue
			}
			for k, c := range [4][2]float64{{-half, -half}, {half, -half}, {half, half}, {-half, half}} {
				x, y := 100+c[0]*cos-c[1]*sin, 100+c[0]*sin+c[1]*cos
				if off := math.Hypot(quads[0].Corners[k][0]-x, quads[0].Corners[k][1]-y); off > 1.5 {
					t.Errorf("marker %d turned %v°: corner %d is %.2f px off", id, deg, k, off)
				}
			}
		}
	}
}

func findDrawn(t *testing.T, id int, sin, cos, half float64) []Quad {
	t.Helper()
	const side = 201
	pix := make([]byte, side*side)
	for y := range side {
		for x := range side {
			dx, dy := float64(x)-100, float64(y)-100
			u, v := dx*cos+dy*sin, -dx*sin+dy*cos
			col, row := int(math.Floor((u+half)/12)), int(math.Floor((v+half)/12))
			if math.Abs(u) > half || math.Abs(v) > half || card.White(id, row, col) {
				pix[y*side+x] = 255
			}
		}
	}
	m, err := gocv.NewMatFromBytes(side, side, gocv.MatTypeCV8UC1, pix)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	quads, err := Find(m, 50)
	if err != nil {
		t.Fatal(err)
	}
	return quads
}
