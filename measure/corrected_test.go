package measure

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// threePlugs is a reading of a planted, an empty and a hidden plug, which was measured before it was found covered.
func threePlugs() reading.Reading {
	r := reading.Blank()
	r.Photo, r.SHA256, r.View, r.Tags, r.CanopyCoverPct = "a.jpg", strings.Repeat("ab", 32), "shoots", []int{7}, 40
	r.SettleTray(0)
	for i, state := range []reading.State{reading.Planted, reading.Empty, reading.Hidden} {
		p := reading.EmptyPlug([]string{"A1", "A2", "A3"}[i])
		p.State = state
		r.Plugs = append(r.Plugs, p)
	}
	covered := reading.EmptyPlug("A3")
	covered.State, covered.LeafAreaMM2 = reading.Planted, 90
	r.Covered = []reading.Plug{covered}
	r.Plugs[2].Flags = []string{reading.Covered}
	r.Plugs[0].LeafAreaMM2, r.Plugs[0].LeafAreaUMM2, r.Plugs[0].Flags = 250, 8, []string{"shared"}
	return r
}

func made(id int, what correct.Kind, plug string) correct.Correction {
	return correct.Correction{ID: id, Who: "Ana", Why: "looked again", What: what, SHA256: strings.Repeat("ab", 32), Photo: "a.jpg", Plug: plug}
}

func text(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestCorrect(t *testing.T) {
	measured := text(t, threePlugs())
	for _, c := range []struct {
		what  string
		made  []correct.Correction
		state string         // of A1, A2, A3
		leaf  reading.Number // of A1
		flags string         // of A1
	}{
		{"nothing", nil, "planted empty hidden", 250, "shared"},
		{"a plug excluded", []correct.Correction{made(1, correct.Exclude, "A1")}, "excluded empty hidden", 250, "shared, excluded by hand"},
		{"set empty", []correct.Correction{made(1, correct.Empty, "A1")}, "empty empty hidden", reading.Missing, "shared, empty by hand"},
		{"set planted", []correct.Correction{made(1, correct.Planted, "A2"), made(2, correct.Planted, "A3")}, "planted planted planted", 250, "shared"},
		{"planted set planted", []correct.Correction{made(1, correct.Planted, "A1")}, "planted empty hidden", 250, "shared, planted by hand"},
		{"the last one counts", []correct.Correction{made(1, correct.Empty, "A1"), made(2, correct.Planted, "A1")}, "planted empty hidden", 250, "shared, planted by hand"},
		{"planted and empty plugs included", []correct.Correction{made(1, correct.Include, "A1"), made(2, correct.Include, "A2")}, "planted empty hidden", 250, "shared"},
		{"the covered plug included", []correct.Correction{made(1, correct.Include, "A3")}, "planted empty planted", 250, "shared"},
		{"and excluded after that", []correct.Correction{made(1, correct.Include, "A3"), made(2, correct.Exclude, "A3")}, "planted empty excluded", 250, "shared"},
		{"the photo excluded", []correct.Correction{made(1, correct.Exclude, ""), made(2, correct.Empty, "A1")}, "excluded excluded excluded", 250, "shared, excluded by hand"},
	} {
		r := threePlugs()
		for range 2 { // once more changes nothing
			r.Correct(c.made)
			var states []string
			for _, p := range r.Plugs {
				states = append(states, string(p.State))
			}
			a1 := r.Plugs[0]
			if got := strings.Join(states, " "); got != c.state || strings.Join(a1.Flags, ", ") != c.flags || a1.LeafAreaMM2.Known() != c.leaf.Known() ||
				c.leaf.Known() && a1.LeafAreaMM2 != c.leaf || len(r.Corrections) != len(c.made) {
				t.Errorf("%s: %s, %v mm², %v; want %s, %v mm², %s", c.what, got, a1.LeafAreaMM2, a1.Flags, c.state, c.leaf, c.flags)
			}
		}
		if out := r.ExcludedBy() != nil; out == r.CanopyCoverPct.Known() {
			t.Errorf("%s: excluded %v, and a canopy cover of %v", c.what, out, r.CanopyCoverPct)
		}
		var back reading.Reading
		if err := json.Unmarshal([]byte(text(t, r)), &back); err != nil {
			t.Fatal(err)
		}
		for _, r := range []reading.Reading{r, back} {
			if r.Correct(nil); text(t, r) != measured {
				t.Errorf("%s, then all undone: %s, want %s", c.what, text(t, r), measured)
			}
		}
	}
}

// A covered plug has no figure, nor has one set planted; one that is included has the figure that was measured, and both flags.
func TestACoveredPlugIsIncludedWithItsFigure(t *testing.T) {
	for _, c := range []struct {
		what  correct.Kind
		leaf  reading.Number
		flags string
	}{{correct.Include, 90, "covered, included by hand"}, {correct.Planted, reading.Missing, "covered, planted by hand"}, {correct.Exclude, reading.Missing, "covered, excluded by hand"}} {
		r := threePlugs()
		r.Correct([]correct.Correction{made(1, c.what, "A3")})
		if p := r.Plugs[2]; p.LeafAreaMM2.Known() != c.leaf.Known() || c.leaf.Known() && p.LeafAreaMM2 != c.leaf || strings.Join(p.Flags, ", ") != c.flags {
			t.Errorf("%s: %v mm², %v", c.what, p.LeafAreaMM2, p.Flags)
		}
	}
}

// What draws the overlay gets the reading, and so knows which plugs are covered. The strap lies over A1 to A4, whose middles are 40 mm from the tray's side.
func TestTheOverlayIsDrawnFromTheReading(t *testing.T) {
	s := testtray.Small(card.Roots)
	s.Things = []synth.Thing{testtray.Box(0, 36, 240, 44, [3]uint8{32, 32, 33})}
	dir := t.TempDir()
	raw, _ := testtray.JPEG(t, s, true)
	put(t, dir, "tray-07-roots.jpg", raw)
	var drawn []reading.Reading
	o := RunOptions{Version: "1", Draw: func(_ Seen, r reading.Reading) error { drawn = append(drawn, r); return nil }}
	if _, err := Run(context.Background(), dir, testtray.Plan(s.Tray, 10), o); err != nil || len(drawn) != 1 || drawn[0].Photo != "tray-07-roots.jpg" {
		t.Fatalf("drawn for %+v, %v", drawn, err)
	}
	var hidden []string
	for _, p := range drawn[0].Plugs {
		if p.State == reading.Hidden {
			hidden = append(hidden, p.Name)
		}
	}
	if got := strings.Join(hidden, " "); got != "A1 A2 A3 A4" {
		t.Errorf("drawn as hidden: %q", got)
	}
}

// Only a plug that was measured and then left out as covered can be included: of others there is no figure.
func TestOnlyCoveredPlugsAreIncluded(t *testing.T) {
	dir, raw := t.TempDir(), []byte("a photo")
	put(t, dir, "a.jpg", raw)
	p := testtray.Plan(testtray.Small(card.Shoots).Tray, 10)
	include := func(plug string) error {
		_, err := Corrections(dir, p, correct.Correction{What: correct.Include, Who: "Ana", Why: "nothing covers it"}, "a.jpg", []string{plug})
		return err
	}
	if err := include("A3"); err == nil || !strings.Contains(err.Error(), "has not been measured") {
		t.Errorf("before it is measured: %v", err)
	}
	r := threePlugs()
	r.SHA256 = trialdir.HashOf(raw)
	if err := os.MkdirAll(filepath.Join(dir, trialdir.ReadingsFolder), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := reading.Save(dir, r); err != nil {
		t.Fatal(err)
	}
	if err := include("A3"); err != nil {
		t.Error(err)
	}
	if err := include("A1"); err == nil || !strings.Contains(err.Error(), "plug A1 has nothing to include") {
		t.Errorf("a plug that counts: %v", err)
	}
}

func TestCorrectionsThatCannotBeShownAreConcerns(t *testing.T) {
	r := threePlugs()
	moved := made(2, correct.Move, "")
	moved.Corners = &correct.Corners{{1, 2}, {3, 4}, {5, 6}, {7, 8}}
	r.Correct([]correct.Correction{made(1, correct.Exclude, "F3"), moved})
	if got := kindsOf(t, []reading.Reading{r}, "a.jpg"); got != string(reading.CorrectionNotUsed+", "+reading.GridMovedSince) {
		t.Errorf("a plug that is not there, and a grid moved since: %q", got)
	}
	r.Grid = moved.Corners // as after measuring again
	r.Correct([]correct.Correction{moved})
	if len(r.Concerns) > 0 {
		t.Errorf("measured by its grid: %v", r.Concerns)
	}
	if r.Correct(nil); kindsOf(t, []reading.Reading{r}, "a.jpg") != string(reading.GridMovedSince) {
		t.Errorf("measured by a grid that was undone: %v", r.Concerns)
	}
	lost := reading.Blank()
	lost.SHA256 = strings.Repeat("ab", 32)
	lost.Correct([]correct.Correction{made(1, correct.Exclude, "A1")})
	if len(lost.Concerns) > 0 {
		t.Errorf("a photo without plugs: %v", lost.Concerns)
	}
}

// keep adds a correction to the trial in folder dir.
func keep(t *testing.T, dir string, c correct.Correction) correct.Correction {
	t.Helper()
	c, err := correct.Append(dir, c)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestAMovedGridIsMeasuredAgain(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg")
	sha := measureAll(t, dir, RunOptions{}).Readings[0].SHA256
	before := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))
	step := func(what string, measured int, grid bool) {
		t.Helper()
		old, errs := reading.LoadReadings(dir)
		if len(errs) > 0 || (kindsOf(t, old, "a.jpg") != "no card") != (measured > 0) {
			t.Errorf("%s, before measuring again: %v, %v", what, kindsOf(t, old, "a.jpg"), errs)
		}
		r := measureAll(t, dir, RunOptions{})
		if r.Measured != measured || (r.Readings[0].Grid != nil) != grid {
			t.Errorf("%s: %d measured again, want %d; the grid is %v", what, r.Measured, measured, r.Readings[0].Grid)
		}
		if again := measureAll(t, dir, RunOptions{}); again.Measured > 0 {
			t.Errorf("%s: measured twice", what)
		}
	}
	move := made(0, correct.Move, "")
	move.SHA256, move.Corners = sha, &correct.Corners{{1, 2}, {3, 4}, {5, 6}, {7, 8}}
	first := keep(t, dir, move)
	step("moved", 1, true)
	move.Corners = &correct.Corners{{1, 2}, {3, 4}, {5, 6}, {7, 9}}
	second := keep(t, dir, move)
	step("moved again", 1, true)
	exclude := made(0, correct.Exclude, "A1")
	exclude.SHA256 = sha
	third := keep(t, dir, exclude)
	step("a plug excluded", 0, true)
	for _, c := range []correct.Correction{first, second, third} {
		keep(t, dir, correct.Correction{Who: "Ben", Why: "only tried", What: correct.Undo, Undoes: c.ID})
	}
	step("all undone", 1, false)
	if after := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder)); len(after) != 2 || after[sha+".json"] != before[sha+".json"] {
		t.Errorf("all undone, the reading is another one:\n%s\n%s", after[sha+".json"], before[sha+".json"])
	}
}

func TestReadingsShowCorrectionsAsTheyStandNow(t *testing.T) {
	dir := folder(t, "a.jpg")
	sha := measureAll(t, dir, RunOptions{}).Readings[0].SHA256
	out := made(0, correct.Exclude, "")
	out.SHA256 = sha
	keep(t, dir, out)
	back, errs := reading.LoadReadings(dir)
	if len(errs) > 0 || back[0].ExcludedBy() == nil {
		t.Errorf("before the next run: %v, %v", back, errs)
	}
	if err := reading.ShowCorrections(dir, sha); err != nil {
		t.Fatal(err)
	}
	if text := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))[sha+".json"]; !strings.Contains(text, `"why": "looked again"`) {
		t.Errorf("the reading's file does not show it: %s", text)
	}
	f, err := os.OpenFile(filepath.Join(dir, correct.FileName), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString("{\"id\":2,\n")
	f.Close()
	if back, errs := reading.LoadReadings(dir); len(errs) != 1 || !strings.Contains(errs[0].Error(), "corrections.jsonl:2") || back[0].ExcludedBy() == nil {
		t.Errorf("a line that cannot be read: %v, %v", back, errs)
	}
	result := measureAll(t, dir, RunOptions{})
	if last := result.Concerns[len(result.Concerns)-1]; last.Kind != reading.CorrectionNotUsed || result.Readings[0].ExcludedBy() == nil {
		t.Errorf("measuring: %v", result.Concerns)
	}
}

func TestPhotoNamed(t *testing.T) {
	dir := folder(t, "day-7/a.jpg", "day-14/a.jpg", "b.jpg")
	put(t, dir, "z-twin.jpg", greyPhoto(t, 40)) // the bytes of b.jpg
	sha := trialdir.HashOf(greyPhoto(t, 40))
	for name, want := range map[string]string{"day-7/a.jpg": "day-7/a.jpg", "b.jpg": "b.jpg", sha: "b.jpg", sha[:8]: "b.jpg", "z-twin.jpg": "z-twin.jpg",
		filepath.Join(dir, "photos", "b.jpg"): "b.jpg", "photos/b.jpg": "b.jpg"} {
		if photo, got, err := trialdir.PhotoNamed(dir, name); err != nil || photo != want || want != "day-7/a.jpg" && got != sha {
			t.Errorf("%s: %s, %s, %v; want %s", name, photo, got, err, want)
		}
	}
	for name, say := range map[string]string{
		"a.jpg": `several photos are named "a.jpg": give the path of one: "day-14/a.jpg", "day-7/a.jpg"`,
		"B.jpg": `there is no photo "B.jpg"`, "": "there is no photo", sha[:7]: "there is no photo", "../trial.yaml": "there is no photo",
		"day-14/b.jpg": `did you mean "b.jpg"?`, // its name, in another folder
	} {
		if _, _, err := trialdir.PhotoNamed(dir, name); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v, want %q", name, err, say)
		}
	}
}
