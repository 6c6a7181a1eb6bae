package main

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/report/terminal"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// smallTrial is a trial whose trays have six plugs, so that photos of them are small and quick.
const smallTrial = `title: Small kale
crop: kale
sown: 2026-03-02
zone: Europe/Lisbon
tray: {rows: 2, columns: 3, length_mm: 180, width_mm: 130, pitch_mm: 50, first_plug_mm: [40, 40], plug_bottom_mm: 34, leaf_height_mm: 0}
card: {rule_mm: 100, rule_u_mm: 0.2}
treatments:
  water only:
    gets: []
  base feed:
    gets:
      - {product: base feed, dose: 2 mL/L, from_day: 7}
    compare_with: water only
trays:
  - {tray: 1, treatment: water only, position: 2}
  - {tray: 7, treatment: base feed, position: 1}
review_days: [10]
`

// smallSpec lays a scene of a tray of smallTrial: a plant and a plug in each cell but B3, which is empty.
func smallSpec(face card.Face, tray int) synth.Spec {
	s := synth.Defaults(face)
	s.Number = tray
	s.Tray = synth.Tray{Rows: 2, Columns: 3, LengthMM: 180, WidthMM: 130, PitchMM: 50, FirstU: 40, FirstV: 40, PlugBottomMM: 34}
	s.Resize(1600, 1200)
	s.Camera.HeightMM = 250
	s.Seed, s.Photo = uint64(tray), uint64(tray)
	s.Plants = map[string]synth.Plant{}
	for _, name := range s.Tray.Cells() {
		if name != "B3" {
			s.Plants[name] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 14, RootLengthMM: 150}
		}
	}
	return s
}

// drawn keeps the pictures that several tests look at.
var drawn sync.Map

// drawPhoto writes a photo of smallTrial, taken on its review day, and returns what it shows.
func drawPhoto(t *testing.T, path string, s synth.Spec) synth.Truth {
	t.Helper()
	type picture struct {
		img   *image.NRGBA
		truth synth.Truth
		err   error
	}
	once, _ := drawn.LoadOrStore(fmt.Sprintf("%+v", s), sync.OnceValue(func() (p picture) {
		p.img, p.truth, p.err = synth.Draw(s)
		return p
	}))
	p := once.(func() picture)()
	if p.err != nil {
		t.Fatal(p.err)
	}
	exif := synth.EXIF{Taken: time.Date(2026, 3, 12, 9, 30, 0, 0, time.UTC), WithZone: true, Focal35: 26}
	if err := synth.WriteJPEG(path, p.img, 92, exif); err != nil {
		t.Fatal(err)
	}
	return p.truth
}

// smallFolder makes smallTrial with its four photos.
func smallFolder(t *testing.T) (dir string, truth map[string]synth.Truth) {
	t.Helper()
	dir, truth = trialWith(t, smallTrial, ""), map[string]synth.Truth{}
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, tray := range []int{1, 7} {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			name := fmt.Sprintf("tray-%d-%v.jpg", tray, face)
			truth[name] = drawPhoto(t, filepath.Join(dir, "photos", name), smallSpec(face, tray))
		}
	}
	return dir, truth
}

func TestMeasure(t *testing.T) {
	dir, truth := smallFolder(t)
	code, out, errs := traygauge("measure", dir, "--all")
	if code != exitOK {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	for name := range truth {
		if !strings.Contains(out, name+": ") {
			t.Errorf("no verdict on %s:\n%s", name, out)
		}
		if info, err := os.Stat(filepath.Join(dir, "overlays", name)); err != nil || info.Size() == 0 {
			t.Errorf("no overlay of %s: %v", name, err)
		}
	}
	if n := strings.Count(out, ": good\n"); n != 4 {
		t.Errorf("%d photos are good, want 4:\n%s", n, out)
	}
	if strings.Contains(errs, "\r") || strings.Contains(errs, "%") {
		t.Errorf("a progress bar where nobody can watch it: %q", errs)
	}
	code, out, errs = traygauge("measure", dir)
	if code != exitOK || !strings.Contains(errs, "0 measured, 4 unchanged") || out != "day 10: 4 photos, all good\n" {
		t.Errorf("the second run: exit %d, %q, %q", code, out, errs)
	}
	if err := os.Remove(filepath.Join(dir, "overlays", "tray-1-roots.jpg")); err != nil {
		t.Fatal(err)
	}
	if code, _, errs = traygauge("measure", dir); code != exitOK || !strings.Contains(errs, "1 measured, 3 unchanged") {
		t.Errorf("without one of the overlays: exit %d, %q", code, errs)
	}
}

func TestMeasureJSONAgreesWithTheTruth(t *testing.T) {
	dir, truth := smallFolder(t)
	code, out, errs := traygauge("measure", dir, "--json")
	var got terminal.Measured
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitOK {
		t.Fatalf("exit %d, %v: %s%s", code, err, out, errs)
	}
	if len(got.Photos) != 4 || len(got.Trays) != 2 || got.Measured != 4 {
		t.Fatalf("%+v", got)
	}
	for _, row := range got.Trays {
		for column, total := range map[string]float64{"root_area_mean_mm2": truth[row["roots_photo"].(string)].Totals.RootAreaMM2, "leaf_area_mean_mm2": truth[row["leaves_photo"].(string)].Totals.LeafAreaMM2} {
			// Five plugs of six. A fifth is far less than a mix-up of views, trays or plugs would make; how exact the measuring is
			// is held elsewhere.
			if mean, _ := row[column].(float64); mean < 0.8*total/5 || mean > 1.2*total/5 {
				t.Errorf("tray %v: %s is %v mm², the truth is %.1f", row["tray"], column, row[column], total/5)
			}
		}
	}
}

func TestMeasureGivesTheSameWithOneWorkerAndTwo(t *testing.T) {
	var first map[string][]byte
	for _, workers := range []string{"1", "2"} {
		dir, _ := smallFolder(t)
		if code, out, errs := traygauge("measure", dir, "--workers", workers); code != exitOK {
			t.Fatalf("exit %d: %s%s", code, out, errs)
		}
		files := resultsIn(t, dir)
		if len(files) != 8 {
			t.Errorf("%d readings and overlays of 4 photos", len(files))
		}
		if first == nil {
			first = files
		}
		sameResults(t, "with "+workers+" workers", files, first)
	}
}

// hugePNG is the beginning of a PNG that claims 20 000 × 10 000 pixels, with an end.
func hugePNG() []byte {
	chunk := func(kind string, data []byte) []byte {
		out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		out = append(append(out, kind...), data...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
	}
	head := binary.BigEndian.AppendUint32(nil, 20000)
	head = append(binary.BigEndian.AppendUint32(head, 10000), 8, 2, 0, 0, 0) // 8 bits, RGB
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head), chunk("IEND", nil))
}

// Each bad photo gets a message with its name and what to do, and the good ones beside it are measured.
func TestMeasureBadPhotos(t *testing.T) {
	dir, _ := smallFolder(t)
	at := func(name string) string { return filepath.Join(dir, "photos", name) }
	whole, err := os.ReadFile(at("tray-1-roots.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{
		"bad-text.jpg": []byte("this is a letter, not a photo"), "bad-cut.jpg": whole[:len(whole)/2], "bad-empty.jpg": nil,
		"bad-huge.png": hugePNG(), "bad-twin.jpg": whole,
	} {
		if err := os.WriteFile(at(name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(at("bad-folder.jpg"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*synth.Spec){
		"bad-no-card.jpg": func(s *synth.Spec) { s.Card = false },
		"bad-no-tag.jpg":  func(s *synth.Spec) { s.Number = 0 },
	} {
		s := smallSpec(card.Shoots, 7)
		change(&s)
		drawPhoto(t, at(name), s)
	}
	locked := at("bad-locked.jpg")
	if err := os.WriteFile(locked, append(slices.Clone(whole), 0), 0); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Open(locked); err == nil { // this user may read everything
		f.Close()
		os.Remove(locked)
	}
	code, out, errs := traygauge("measure", dir, "--all")
	if code != exitAttention || !strings.Contains(errs, "photos need attention") {
		t.Errorf("exit %d, want %d; %s", code, exitAttention, errs)
	}
	for name, say := range map[string]string{
		"bad-text.jpg":    "not usable: is not a photo in a known format: remove it",
		"bad-cut.jpg":     "not usable: is a JPEG file with its end missing: copy it from the phone again",
		"bad-empty.jpg":   "not usable: is an empty file (0 bytes): copy it from the phone again",
		"bad-huge.png":    "200 megapixels; limit 120): photograph with",
		"bad-twin.jpg":    "", // it comes first by name, so the other one is reported as the same
		"bad-folder.jpg":  "not usable: is a folder, not a photo: rename the folder",
		"bad-no-card.jpg": "retake: no card found: put the card",
		"bad-no-tag.jpg":  "tag",
		"bad-locked.jpg":  "not usable: cannot be opened",
	} {
		if _, err := os.Lstat(at(name)); err != nil {
			continue
		}
		if line := lineAbout(out, name); line == "" || !strings.Contains(line, say) {
			t.Errorf("%s: %q, want %q", name, line, say)
		}
	}
	if line := lineAbout(out, "tray-1-roots.jpg"); !strings.Contains(line, "is the same photo as bad-twin.jpg: remove one") {
		t.Errorf("the second of two equal photos: %q", line)
	}
	for _, name := range []string{"tray-1-shoots.jpg", "tray-7-roots.jpg", "tray-7-shoots.jpg"} {
		if line := lineAbout(out, name); !strings.HasSuffix(line, ": good") {
			t.Errorf("a good photo beside bad ones: %q", line)
		}
	}
}

// A photo without a tag waits for its tray, which its name or someone may say; both are counted as what they are.
func TestMeasureAPhotoWithoutATag(t *testing.T) {
	dir := trialWith(t, smallTrial, "")
	photos := filepath.Join(dir, "photos")
	if err := os.MkdirAll(filepath.Join(photos, "tray 1"), 0o755); err != nil {
		t.Fatal(err)
	}
	s := smallSpec(card.Roots, 7)
	s.Number = 0
	drawPhoto(t, filepath.Join(photos, "IMG_0412.jpg"), s)
	other := smallSpec(card.Roots, 1)
	other.Number = 0
	drawPhoto(t, filepath.Join(photos, "tray 1", "IMG_0413.jpg"), other)

	code, out, _ := traygauge("measure", dir, "--all")
	if line := lineAbout(out, "IMG_0412.jpg"); code != exitAttention || !strings.Contains(line, "doubt: no tray tag found") || !strings.Contains(line, "--assign") {
		t.Errorf("exit %d, %q", code, line)
	}
	if line := lineAbout(out, "tray 1/IMG_0413.jpg"); line != "tray 1/IMG_0413.jpg: tray 1, day 10, roots: good" {
		t.Errorf("by its folder's name: %q", line)
	}
	code, out, errs := traygauge("measure", dir, "--assign", "IMG_0412.jpg=7", "--who", "Ana", "--json")
	var got terminal.Measured
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatalf("exit %d, %v: %s%s", code, err, out, errs)
	}
	if got.Measured != 0 || len(got.Photos) != 2 || got.Photos[0].Tray != 7 || got.Photos[0].TrayFrom != "hand" || got.Photos[0].Verdict != good {
		t.Errorf("assigned: %+v", got.Photos)
	}
	if got.Photos[1].TrayFrom != "name" || len(got.Trays) != 2 {
		t.Errorf("by its folder's name: %+v, %d trays", got.Photos[1], len(got.Trays))
	}
	for _, args := range [][]string{{"--assign", "IMG_0412.jpg"}, {"--assign", "=7"}, {"--assign-day", "IMG_0412.jpg=Monday"}} {
		if code, _, errs := traygauge(append([]string{"measure", dir}, args...)...); code != exitUsage || !strings.Contains(errs, "such as IMG_0412.HEIC=7") {
			t.Errorf("%v: exit %d, %s", args, code, errs)
		}
	}
}

// lineAbout returns the first line of out that begins with name.
func lineAbout(out, name string) string {
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, name+": ") {
			return strings.TrimSuffix(line, "\n")
		}
	}
	return ""
}

func TestMeasureWithAFaultyPlan(t *testing.T) {
	for _, c := range []struct{ what, old, new, say string }{
		{"unknown key", "crop: kale", "crop: kale\ncolour: green", `colour`},
		{"unknown control", "compare_with: water only", "compare_with: watr only", `watr only`},
		{"tray twice", "{tray: 7,", "{tray: 1,", "tray 1 is listed twice"},
	} {
		dir := trialWith(t, strings.Replace(smallTrial, c.old, c.new, 1), "")
		code, out, errs := traygauge("measure", dir)
		if code != exitFailed || out != "" || !strings.Contains(errs, "trial.yaml:") || !strings.Contains(errs, c.say) {
			t.Errorf("%s: exit %d, %q, %q", c.what, code, out, errs)
		}
		if _, err := os.Stat(filepath.Join(dir, "readings")); err == nil {
			t.Errorf("%s: the folder was changed all the same", c.what)
		}
	}
}

func TestMeasureWrongUse(t *testing.T) {
	dir := trialWith(t, smallTrial, "")
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitUsage, []string{"measure"}, "give the trial’s folder: traygauge measure kale-trial, or traygauge measure ."},
		{exitUsage, []string{"measure", "kale", "trial"}, "give one folder, not 2"},
		{exitUsage, []string{"measure", dir, "--workers", "-1"}, "--workers -1"},
		{exitUsage, []string{"measure", dir, "--workers", "0"}, "--workers 0: give a number from 1 to 64, or leave it out"},
		{exitUsage, []string{"demo", dir + "-demo", "--workers", "0"}, "--workers 0: give a number from 1 to 64, or leave it out"},
		{exitUsage, []string{"measure", dir, "--shard", "9/8"}, "--shard: \"9/8\" is not a part: give, for example, 2/8"},
		{exitUsage, []string{"measure", dir, "--fast"}, "--fast"},
		{exitFailed, []string{"measure", filepath.Join(dir, "gone")}, "traygauge new"},
		{exitFailed, []string{"measure", dir}, "no folder photos"},
		{exitUsage, []string{"demo"}, "give the trial’s folder: traygauge demo kale-trial"},
		{exitFailed, []string{"demo", dir}, "not empty"},
	} {
		if code, _, errs := traygauge(c.args...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit %d, want %d: %s", c.args, code, c.want, errs)
		}
	}
}
