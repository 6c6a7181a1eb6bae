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
	v := newView(s)
	truth := newTruth(s, v)
	place := cardPlace(s)
	for i, m := range card.Markers() {
		c := truth.Markers[i]
		x, y := crossing(c[0], c[2], c[1], c[3])
		onX, onY := place(m.Centre().X, m.Centre().Y)
		px, py := v.project(onX, onY, 0)
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

func TestPlaneUndoesProject(t *testing.T) {
	s := small(card.Roots)
	s.Camera.TiltDeg, s.Camera.TiltTurn, s.Camera.RollDeg, s.Camera.K1 = 20, 250, 100, -0.04
	v := newView(s)
	for _, z := range []float64{0, -40} {
		px, py := v.project(-200, 150, z)
		x, y := v.plane(px, py, z)
		near(t, "x", x, -200, 1e-4)
		near(t, "y", y, 150, 1e-4)
	}
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

func TestLinesAreKnownFromGeometry(t *testing.T) {
	straight := Line{Points: []card.Pt{{X: -300, Y: 150}, {X: -200, Y: 150}}, WidthMM: 0.3}
	near(t, "straight line's area", straight.AreaMM2(), 100*0.3, 1e-9)
	near(t, "straight line's length", straight.LengthMM(), 100, 1e-9)
	// Half a ring from r − w/2 to r + w/2 is π r w.
	arc := Line{Points: Arc(card.Pt{X: -100, Y: 200}, 20, 0, 180), WidthMM: 0.5}
	near(t, "half ring's area", arc.AreaMM2(), math.Pi*20*0.5, 0.001)
	near(t, "half ring's length", arc.LengthMM(), math.Pi*20, 0.001)
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
	v := newView(s)
	p := newPicture(v.width, v.height)
	drawLines(s, p, v)
	for y := range p.h {
		for x := range p.w {
			if share := float64(p.p[3*(y*p.w+x)]); share > 0 {
				area += share * pixelMM2(v, x, y)
			}
		}
	}
	return area
}

// pixelMM2 is the area of the pixel's four corners on the card's plane.
func pixelMM2(v *view, x, y int) (area float64) {
	var c [4][2]float64
	for i, d := range [4][2]float64{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}} {
		c[i][0], c[i][1] = v.plane(float64(x)+d[0], float64(y)+d[1], 0)
	}
	for i, p := range c {
		q := c[(i+1)%4]
		area += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return math.Abs(area)
}

// A straight root of even width: area is width × length and the two round ends, length is what was laid down.
func TestStrokeAreaAndLength(t *testing.T) {
	var c canvas
	c.reset(0, 0, 40, 40, rootPerMM)
	c.withArc()
	r := &root{}
	const angle = 0.4
	for i := range 61 {
		s := float64(i) * rootStep
		r.path = append(r.path, node{x: 8 + s*math.Cos(angle), y: 12 + s*math.Sin(angle), half: 0.25})
	}
	paintRoots(&c, []*root{r})
	var cell CellTruth
	cell.countRoots(&c, 0, []*root{r})
	near(t, "area", cell.RootAreaMM2, 24*0.5+math.Pi*0.25*0.25, 0.06)
	near(t, "length", cell.RootLengthMM, 24, 0.02)
}

// Of two crossing roots the upper one is seen whole and hides a piece of the lower one as long as it is wide.
func TestUpperRootHidesLower(t *testing.T) {
	var c canvas
	c.reset(0, 0, 40, 40, rootPerMM)
	across, down := &root{}, &root{}
	for i := range 51 {
		s := float64(i) * rootStep
		across.path = append(across.path, node{x: 10 + s, y: 20, half: 0.2})
		down.path = append(down.path, node{x: 20, y: 10 + s, half: 0.4})
	}
	paintRoots(&c, []*root{across, down})
	near(t, "upper root", down.visibleLength(&c, 3), 20, 0.02)
	near(t, "lower root", across.visibleLength(&c, 2), 20-0.8, 0.1)
}

// A circle of diameter 34 has 907.92 mm²; a row of texels is 1/20 mm.
func TestPlugIsCounted(t *testing.T) {
	g := &plug{x: 20, y: 20}
	for i := range g.outline {
		g.outline[i] = 17
	}
	var c canvas
	c.reset(0, 0, 40, 40, rootPerMM)
	texels := g.paintMedium(&c, habit(1), mediumLook{perlite: 5})
	near(t, "area", float64(texels)*c.texelMM2(), math.Pi*17*17, 0.5)
}

// A blade whose half width is even is a rectangle.
func TestRectangularLeaf(t *testing.T) {
	l := &leaf{cell: "A1", x: 30, y: 30, azimuth: 25, length: 20, width: 8}
	l.finish(132, 40)
	for side := range l.sides {
		for i := range l.sides[side] {
			l.sides[side][i] = 4
		}
	}
	cells := map[string]*CellTruth{"A1": {}}
	newCanopy([]*leaf{l}).count(cells)
	near(t, "area", cells["A1"].LeafAreaMM2, 160, 0.8)
	if cells["A1"].ChloroticAreaMM2 != 0 {
		t.Errorf("a green leaf has %g mm² of yellow", cells["A1"].ChloroticAreaMM2)
	}
	yellow := &leaf{cell: "A1", x: 30, y: 30, azimuth: 25, length: 20, width: 8, yellow: 1}
	yellow.finish(132, 40)
	cells["A1"] = &CellTruth{}
	newCanopy([]*leaf{yellow}).count(cells)
	near(t, "a yellow blade's share", cells["A1"].ChloroticAreaMM2/(cells["A1"].LeafAreaMM2-cells["A1"].StalkAreaMM2), 1, 0.01)
}

func TestGrowthKeepsTheHabit(t *testing.T) {
	g := roundPlug(habit(3), 0, 0, 34)
	young, old := rootsOf(g, 99, 300, 0), rootsOf(g, 99, 800, 0)
	if len(old) <= len(young) {
		t.Errorf("%d roots grew to %d", len(young), len(old))
	}
	later := map[uint64]*root{}
	for _, r := range old {
		later[r.seed] = r
	}
	var length float64
	for _, r := range young {
		o := later[r.seed]
		if o == nil || len(o.path) < len(r.path) {
			t.Fatalf("root %d shrank or went", r.seed)
		}
		for i, n := range r.path {
			if n.x != o.path[i].x || n.y != o.path[i].y {
				t.Fatalf("root %d moved at node %d", r.seed, i)
			}
		}
		length += float64(len(r.path)-1) * rootStep
	}
	near(t, "length drawn", length, 300, 15)
}

func TestRootsStayOnThePlug(t *testing.T) {
	g := roundPlug(habit(3), 0, 0, 34)
	for _, r := range rootsOf(g, 5, 2500, 0.3) {
		for _, n := range r.path {
			if d := math.Hypot(n.x, n.y) + n.half; math.Hypot(n.x-g.x, n.y-g.y)+n.half > g.reach(math.Atan2(n.y-g.y, n.x-g.x)) {
				t.Fatalf("a root's edge is %.2f mm from the middle", d)
			}
		}
	}
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

// CIELAB of the sRGB primaries, D65 (B. Lindbloom's conversion formulas with these constants): pure green has C* 119.78 and
// h 136.02°, pure red 104.55 and 40.00°.
func TestChromaHue(t *testing.T) {
	c, h := chromaHue(rgb{0, 1, 0})
	near(t, "C* of green", c, 119.78, 0.02)
	near(t, "h of green", h, 136.02, 0.02)
	c, h = chromaHue(rgb{1, 0, 0})
	near(t, "C* of red", c, 104.55, 0.02)
	near(t, "h of red", h, 40.00, 0.02)
	c, h = chromaHue(fromLCh(55, 40, 120))
	near(t, "C* there and back", c, 40, 0.01)
	near(t, "h there and back", h, 120, 0.01)
}

// Paper reflects 0.85; at a level of 0.95 the code is 255 (1.055 · 0.8075^(1/2.4) − 0.055) = 232.1.
func TestPaperCode(t *testing.T) {
	s := small(card.Roots)
	s.Light.Clean, s.Light.Gradient = true, 1
	img, _ := draw(t, s)
	v := newView(s)
	x, y := v.project(card.WhiteWindow.Centre().X, card.WhiteWindow.Centre().Y, 0)
	near(t, "paper", float64(img.NRGBAAt(int(x), int(y)).G), 232, 1)
	x, y = v.project(card.EdgeSquareCentre.X, card.EdgeSquareCentre.Y, 0)
	// 0.035 · 0.95 = 0.03325: 255 (1.055 · 0.03325^(1/2.4) − 0.055) = 51.1.
	near(t, "black", float64(img.NRGBAAt(int(x), int(y)).G), 51, 1)
}

func TestBlurKeepsTheLight(t *testing.T) {
	p := newPicture(40, 30)
	p.blend(20, 15, rgb{1, 0.5, 0.25}, 1)
	var sum, square float64
	p.blurred(gaussian(1.5), func(y int, row []float32) {
		for x := range 40 {
			v := float64(row[3*x])
			sum += v
			square += v * float64((x-20)*(x-20))
		}
	})
	near(t, "light", sum, 1, 1e-5)
	// A normal kernel cut at 2.8 sigma and widened by a pixel's own 1/12.
	near(t, "variance", square/sum, 1.5*1.5+1.0/12, 0.2)
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
