package synth

import (
	"bytes"
	"encoding/json"
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/bep/imagemeta"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/exposure"
)

// small is a quick picture of a few plugs.
func small(face card.Face) Spec {
	s := Defaults(face)
	s.Resize(800, 600)
	s.Plants = map[string]Plant{
		"A1": {Plug: true, Leaves: 4, RootLengthMM: 400, RootBrown: 0.3, LeafLengthMM: 18},
		"A2": {Plug: true},
		"C5": {Plug: true, Leaves: 7, RootLengthMM: 900, LeafLengthMM: 26, Yellow: 0.4, BrownTip: 0.4},
		"C6": {Plug: true, Leaves: 7, RootLengthMM: 60, LeafLengthMM: 26, Interveinal: 0.8},
	}
	return s
}

func draw(t *testing.T, s Spec) (*image.NRGBA, Truth) {
	t.Helper()
	img, truth, err := Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return img, truth
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}

func TestTheSameSpecGivesTheSamePicture(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		a, ta := draw(t, small(face))
		b, tb := draw(t, small(face))
		if !bytes.Equal(a.Pix, b.Pix) {
			t.Errorf("%v: two drawings differ", face)
		}
		ja, _ := json.Marshal(ta)
		jb, _ := json.Marshal(tb)
		if !bytes.Equal(ja, jb) {
			t.Errorf("%v: two truths differ:\n%s\n%s", face, ja, jb)
		}
	}
}

func TestEmptyCellsAndBarePlugs(t *testing.T) {
	_, roots := draw(t, small(card.Roots))
	if roots.Present != 4 || roots.Cells["B1"].Present || !roots.Cells["A2"].Present || roots.Cells["A2"].RootAreaMM2 != 0 {
		t.Errorf("roots: %d plugs, A2 %+v, B1 %+v", roots.Present, *roots.Cells["A2"], *roots.Cells["B1"])
	}
	_, shoots := draw(t, small(card.Shoots))
	a2 := shoots.Cells["A2"]
	if shoots.Present != 3 || a2.Present || !a2.PlugPresent || shoots.Cells["B1"].PlugPresent {
		t.Errorf("shoots: %d plants, A2 %+v, B1 %+v", shoots.Present, *a2, *shoots.Cells["B1"])
	}
	if len(roots.Cells) != 50 {
		t.Errorf("%d cells, want 50", len(roots.Cells))
	}
}

// Straight down without distortion a pixel is height / f_px mm on the plane. For 800 × 600 the diagonal is 1000 px and
// f = 26 / √(36² + 24²) · 1000 = 600.925 px.
func TestMarkerCornersOfAPlainView(t *testing.T) {
	s := small(card.Shoots)
	s.Camera.HeightMM = 600.925
	_, truth := draw(t, s)
	perPX := 600.925 / (26 / math.Hypot(36, 24) * 1000)
	// The middle of tray and card on the shoots face: x from 0 to 540, y from 0 to 380.
	near(t, "first corner x", truth.Markers[0][0][0], 399.5+(6-270)/perPX, 1e-6)
	near(t, "first corner y", truth.Markers[0][0][1], 299.5+(6-190)/perPX, 1e-6)
	near(t, "third marker's third corner x", truth.Markers[2][2][0], 399.5+(144-270)/perPX, 1e-6)
	near(t, "tray corner E10 x", truth.Corners["E10"][0], 399.5+270/perPX, 1e-6)
}

// On a tilted, turned picture the corners must obey one homography: the intersections of the diagonals of squares do.
func TestMarkerCornersOfATiltedViewKeepCrossings(t *testing.T) {
	s := small(card.Roots)
	s.Camera.TiltDeg, s.Camera.TiltTurn, s.Camera.RollDeg = 22, 140, 33
	s.CardX, s.CardY, s.CardTurn = 1.5, -0.5, 0.7
	v := viewOf(s)
	truth := newTruth(s, v)
	place := cardPlace(s)
	for i, m := range card.Markers() {
		c := truth.Markers[i]
		x, y := crossing(c[0], c[2], c[1], c[3])
		onX, onY := place(m.Centre().X, m.Centre().Y)
		px, py := v.Project(onX, onY, 0)
		near(t, "crossing x", x, px, 1e-6)
		near(t, "crossing y", y, py, 1e-6)
	}
}

// crossing is where the lines ab and cd meet.
func crossing(a, b, c, d [2]float64) (x, y float64) {
	rx, ry, sx, sy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	k := ((c[0]-a[0])*sy - (c[1]-a[1])*sx) / (rx*sy - ry*sx)
	return a[0] + k*rx, a[1] + k*ry
}

// The truth's R, t and K must put the tray's corner where the truth says, also after the pixels are stored turned.
func TestStoredCamera(t *testing.T) {
	s := small(card.Shoots)
	s.Camera.TiltDeg, s.Camera.RollDeg = 9, 20
	_, upright := draw(t, s)
	for _, o := range []int{1, 3, 6, 8} {
		truth := upright.stored(o)
		c, world := truth.Camera, [3]float64{540, 100, 0} // A10 on the shoots face
		var cam [3]float64
		for i := range cam {
			cam[i] = c.T[i]
			for j := range world {
				cam[i] += c.R[i][j] * world[j]
			}
		}
		near(t, "x", c.K[0][0]*cam[0]/cam[2]+c.K[0][2], truth.StoredCorner["A10"][0], 1e-6)
		near(t, "y", c.K[1][1]*cam[1]/cam[2]+c.K[1][2], truth.StoredCorner["A10"][1], 1e-6)
		if turned := o >= 5; turned != (c.Width == 600) {
			t.Errorf("orientation %d: stored width %d", o, c.Width)
		}
	}
}

// On a black plane a line that reflects all light gives each pixel its share of the line. So the shares, weighed with what
// each pixel covers on the plane, sum to the line's area: tilted or not, thinner than a pixel or not.
func TestLinesCoverTheirArea(t *testing.T) {
	s := Defaults(card.Roots)
	s.Resize(1200, 900)
	s.Card, s.Number, s.Light.Clean = false, 0, true
	s.Camera.TiltDeg, s.Camera.TiltTurn, s.Camera.RollDeg = 18, 60, 12
	for _, width := range []float64{0.15, 0.4, 2} {
		line := Line{Points: []card.Pt{{X: -250, Y: 150}, {X: -80, Y: 210}}, WidthMM: width, Colour: [3]float64{1, 1, 1}}
		s.Lines = []Line{line}
		near(t, "area", coveredMM2(s)/line.AreaMM2(), 1, 0.004)
	}
}

// coveredMM2 draws the lines alone, white on black, and sums share times pixel area.
func coveredMM2(s Spec) (area float64) {
	v := viewOf(s)
	p := exposure.NewPicture(v.Width, v.Height)
	drawLines(s, p, v)
	for y := range p.H {
		for x := range p.W {
			if share := float64(p.P[3*(y*p.W+x)]); share > 0 {
				area += share * pixelMM2(v, x, y)
			}
		}
	}
	return area
}

// pixelMM2 is the area of the pixel's four corners on the card's plane.
func pixelMM2(v *camera.View, x, y int) (area float64) {
	var c [4][2]float64
	for i, d := range [4][2]float64{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}} {
		c[i][0], c[i][1] = v.Plane(float64(x)+d[0], float64(y)+d[1], 0)
	}
	for i, p := range c {
		q := c[(i+1)%4]
		area += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return math.Abs(area)
}

func TestBrownShare(t *testing.T) {
	s := small(card.Roots)
	p := s.Plants["C5"]
	p.RootBrown = 0.4
	s.Plants["C5"] = p
	_, truth := draw(t, s)
	c := truth.Cells["C5"]
	// The share is of drawn length; of visible area it depends on what lies on top and how wide it is.
	near(t, "brown share", c.BrownRootAreaMM2/c.RootAreaMM2, 0.4, 0.2)
}

// Paper reflects 0.85; at a level of 0.95 the code is 255 (1.055 · 0.8075^(1/2.4) − 0.055) = 232.1.
func TestPaperCode(t *testing.T) {
	s := small(card.Roots)
	s.Light.Clean, s.Light.Gradient = true, 1
	img, _ := draw(t, s)
	v := viewOf(s)
	x, y := v.Project(card.WhiteWindow.Centre().X, card.WhiteWindow.Centre().Y, 0)
	near(t, "paper", float64(img.NRGBAAt(int(x), int(y)).G), 232, 1)
	x, y = v.Project(card.EdgeSquareCentre.X, card.EdgeSquareCentre.Y, 0)
	// 0.035 · 0.95 = 0.03325: 255 (1.055 · 0.03325^(1/2.4) − 0.055) = 51.1.
	near(t, "black", float64(img.NRGBAAt(int(x), int(y)).G), 51, 1)
}

func TestEXIF(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tray1.jpg")
	s := small(card.Roots)
	img, truth := draw(t, s)
	taken := time.Date(2025, 4, 12, 9, 30, 15, 0, time.FixedZone("", 2*3600))
	e := EXIF{Taken: taken, WithZone: true, Focal35: 26, Make: "Example", Model: "Phone 1", Orientation: 6}
	if err := Save(path, img, truth, 90, e); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var tags imagemeta.Tags
	_, err = imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: imagemeta.JPEG, Sources: imagemeta.EXIF,
		HandleTag: func(ti imagemeta.TagInfo) error { tags.Add(ti); return nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	got := tags.EXIF()
	for name, want := range map[string]any{
		"Make": "Example", "Model": "Phone 1", "Orientation": uint16(6), "FocalLengthIn35mmFilm": uint16(26),
		"DateTimeOriginal": "2025:04:12 09:30:15", "OffsetTimeOriginal": "+02:00",
	} {
		found := false
		for tag, info := range got {
			if tag == name || (name == "FocalLengthIn35mmFilm" && info.Tag == "FocalLengthIn35mmFormat") {
				found = true
				if info.Value != want {
					t.Errorf("%s = %v (%T), want %v", name, info.Value, info.Value, want)
				}
			}
		}
		if !found {
			t.Errorf("no %s among %d tags", name, len(got))
		}
	}
	cfg, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || cfg.Width != 600 || cfg.Height != 800 {
		t.Errorf("stored %d × %d, %v; want 600 × 800", cfg.Width, cfg.Height, err)
	}
	var back struct {
		Photo string
		Date  string
		Cells map[string]struct {
			Area float64 `json:"root_area_mm2"`
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, "tray1.truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	near(t, "area in the file", back.Cells["A1"].Area, truth.Cells["A1"].RootAreaMM2, 0.001)
	if back.Photo != "tray1.jpg" || back.Date != "2025-04-12" {
		t.Errorf("photo %q of %q", back.Photo, back.Date)
	}
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	for name, spoil := range map[string]func(s *Spec){
		"no face":        func(s *Spec) { s.Face = 0 },
		"no size":        func(s *Spec) { s.Camera.Width = 0 },
		"tag 241":        func(s *Spec) { s.Number = 241 },
		"cell F1":        func(s *Spec) { s.Plants["F1"] = Plant{Plug: true} },
		"camera too low": func(s *Spec) { s.LeafHeight = 500 },
		"one-point line": func(s *Spec) { s.Lines = []Line{{Points: []card.Pt{{X: 1, Y: 1}}, WidthMM: 1}} },
	} {
		s := small(card.Roots)
		spoil(&s)
		if _, _, err := Draw(s); err == nil {
			t.Errorf("%s: drawn", name)
		}
	}
}
