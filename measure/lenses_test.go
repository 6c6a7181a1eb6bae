package measure

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/lens"
	"traygauge/vision/synth"
)

// bentK1 bends the corners of a picture with a 26 mm lens by 4 %, as a wide lens does that nothing straightens.
const bentK1 = -0.06

var drawnPhone = synth.EXIF{Focal35: 26, Make: "Maker", Model: "Phone 1"}

// cardPhotos draws up to nine photos of the card alone into folder: in the picture's corners and, tilted, in its middle.
func cardPhotos(t *testing.T, folder string, n int, e synth.EXIF) {
	t.Helper()
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for i, at := range [][4]float64{{110, 85, 4, 30}, {-110, 85, 6, 120}, {110, -85, 5, 250}, {-110, -85, 4, 300},
		{0, 0, 22, 0}, {0, 0, 22, 90}, {10, 0, 22, 180}, {0, 10, 25, 270}, {60, 20, 15, 45}}[:n] {
		s := synth.Defaults(card.Shoots)
		s.Resize(1200, 900)
		s.Lines = []synth.Line{{Points: []card.Pt{{X: 300, Y: 300}, {X: 310, Y: 300}}, WidthMM: 1}} // no tray
		s.Number, s.Photo = 0, uint64(i)
		c := &s.Camera
		c.HeightMM, c.TiltDeg, c.TiltTurn, c.K1 = 300, at[2], at[3], bentK1
		c.AimX, c.AimY = card.Width/2-270+at[0], card.Height/2-190+at[1]
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := synth.WriteJPEG(filepath.Join(folder, fmt.Sprintf("card%d.jpg", i)), img, 95, e); err != nil {
			t.Fatal(err)
		}
	}
}

func TestALensLearntFromTheCardStraightensTheTraysPhotos(t *testing.T) {
	dir := t.TempDir()
	cardPhotos(t, filepath.Join(dir, lensFolder), 9, drawnPhone)
	copyOf(t, filepath.Join(dir, lensFolder, "card0.jpg"), filepath.Join(dir, lensFolder, "card0-again.jpg"))
	if err := os.WriteFile(filepath.Join(dir, lensFolder, "tray.jpg"), greyPhoto(t, 90), 0o644); err != nil {
		t.Fatal(err)
	}
	result, err := FitLenses(context.Background(), dir, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Lenses) != 1 || result.Lenses[0].Profile == nil || result.Lenses[0].Photos != 9 {
		t.Fatalf("got %+v", result)
	}
	refused := map[string]string{}
	for _, s := range result.Shots {
		if s.Concern != nil {
			refused[filepath.Base(s.File)] = string(s.Concern.Kind)
		}
	}
	if fmt.Sprint(refused) != "map[card0.jpg:same photo twice tray.jpg:no card]" {
		t.Errorf("not used: %v", refused)
	}
	lenses, err := plan.LoadLenses(dir)
	if err != nil || len(lenses) != 1 || lenses[0] != *result.Lenses[0].Profile {
		t.Fatalf("%+v was written, %+v and %v read back", *result.Lenses[0].Profile, lenses, err)
	}
	trayThroughLens(t, lenses)
}

// trayThroughLens measures a tray's leaves through the bent lens without and with its profile, beside the same tray through a straight lens: what the
// leaves' own reading is off by is not the lens's.
func trayThroughLens(t *testing.T, lenses []lens.Profile) {
	t.Helper()
	s := synth.Defaults(card.Shoots)
	s.Resize(2000, 1500)
	s.Camera.K1 = bentK1
	s.Plants = map[string]synth.Plant{}
	for _, cell := range []string{"A1", "A5", "A10", "C1", "C5", "C10", "E1", "E5", "E10"} {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 18}
	}
	without, with := testtray.Plan(s.Tray, 0), testtray.Plan(s.Tray, 0)
	with.Lenses = lenses
	if SettingsOf(without, "1") == SettingsOf(with, "1") {
		t.Error("a reading made without the profile would be kept")
	}
	straight := s
	straight.Camera.K1 = 0
	base := leavesOver(t, straight, without)
	for _, p := range []*plan.Plan{without, with} {
		if off := leavesOver(t, s, p)/base - 1; p == with && !(math.Abs(off) < 0.02) || p == without && !(off < -0.04) {
			t.Errorf("%d profiles at hand, and leaf areas are off by %+.1f %% from those through a straight lens", len(p.Lenses), 100*off)
		}
	}
}

// leavesOver returns a drawn tray's measured leaf area as a ratio to the truth. The lens's profile has to be used where the plan has one.
func leavesOver(t *testing.T, s synth.Spec, p *plan.Plan) float64 {
	t.Helper()
	img, drawn, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	truth := drawnTruth(t, drawn)
	name := filepath.Join(t.TempDir(), "tray.jpg")
	if err := synth.WriteJPEG(name, img, 92, drawnPhone); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r := One(raw, time.Time{}, p, reading.Given{}, nil)
	if used := r.Lens != ""; used != (len(p.Lenses) > 0) {
		t.Errorf("%d profiles at hand, used: %q", len(p.Lenses), r.Lens)
	}
	var got, want float64
	for _, g := range r.Plugs {
		if leaf := truth.Cells[g.Name].Leaf; g.LeafAreaMM2.Known() && leaf > 0 {
			got, want = got+float64(g.LeafAreaMM2), want+leaf
		}
	}
	t.Logf("bend %g: leaf area off by %+.1f %% over the tray; %s", s.Camera.K1, 100*(got/want-1), r.Lens)
	return got / want
}

func copyOf(t *testing.T, from, to string) {
	t.Helper()
	raw, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, raw, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Photos that went through a messenger name no camera: nothing would tell which photos their profile is for.
func TestALensWithoutANameGetsNoProfile(t *testing.T) {
	dir := t.TempDir()
	cardPhotos(t, dir, 2, synth.EXIF{})
	result, err := FitLenses(context.Background(), t.TempDir(), []string{dir}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Lenses) != 0 {
		t.Errorf("got %+v", result.Lenses)
	}
	for _, s := range result.Shots {
		if s.Concern == nil || s.Concern.Kind != "camera not named" {
			t.Errorf("%s: %+v", s.File, s.Concern)
		}
	}
}

func TestLensPhotosThatAreNotThere(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "none")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	for words, paths := range map[string][]string{"has no folder lens": nil, "cannot open": {filepath.Join(dir, "gone.jpg")}, "no photos in": {empty}} {
		if _, err := FitLenses(context.Background(), dir, paths, nil); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%v: %v, want %q", paths, err, words)
		}
	}
}
