package measure

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
)

// hostileNames are names that file systems take and that programs stumble over.
var hostileNames = []string{
	"line\nend.jpg", "bell\x07 and \x1b[2Jclear.jpg", `quote"s and 'more'.jpg`, "back\\slash.jpg", "\u202egpj.exe.jpg", "caf\xe9.jpg",
	"=1+1.jpg", "-rf.jpg", "--json.jpg", "$(reboot).jpg", "%s%n.jpg", " blank .jpg", "CON.jpg", "芥蓝.jpg",
	strings.Repeat("x", 251) + ".jpg", strings.Repeat("芥", 83) + ".jpg",
	"a/b.jpg", "a__b.jpg", "a/b__c.jpg", "a__b/c.jpg", "b.png", "b.png.jpg", "b.PNG.JPG",
}

func TestHostileNames(t *testing.T) {
	dir := folder(t)
	n := 0
	for _, name := range hostileNames {
		path := filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		n++
		if err := os.WriteFile(path, greyPhoto(t, uint8(8*n)), 0o644); err != nil {
			t.Logf("this file system does not take %q", name)
			n--
		}
	}
	draw := func(_ Seen, r reading.Reading) error {
		return os.WriteFile(trialdir.OverlayPath(dir, r.Photo), []byte("drawn"), 0o644)
	}
	first := measureAll(t, dir, RunOptions{Draw: draw})
	if len(first.Readings) != n || first.Measured != n {
		t.Fatalf("%d of %d photos measured: %q", first.Measured, n, namesOf(first.Readings))
	}
	if got := len(filesIn(t, filepath.Join(dir, trialdir.OverlaysFolder))); got != n {
		t.Errorf("%d overlays of %d photos", got, n)
	}
	back, errs := reading.LoadReadings(dir)
	if len(errs) > 0 || !slices.Equal(namesOf(back), namesOf(first.Readings)) {
		t.Errorf("read back %q, %v", namesOf(back), errs)
	}
	second := measureAll(t, dir, RunOptions{Draw: draw})
	if second.Measured != 0 || second.Reused != n {
		t.Errorf("the second run: %d measured, %d kept", second.Measured, second.Reused)
	}
	for _, r := range first.Readings {
		if err := Assign(dir, testtray.WholePlan(t), []Assignment{{Photo: r.Photo, What: correct.Tray, Number: 3, Who: "Ana", Why: "no tag"}}); err != nil {
			t.Errorf("assigning %q: %v", r.Photo, err)
		}
	}
}

// What is drawn of a photo goes with the photo, and nothing else in the folder does.
func TestOverlaysOfPhotosThatAreGone(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg", "c.jpg")
	draw := func(_ Seen, r reading.Reading) error {
		return os.WriteFile(trialdir.OverlayPath(dir, r.Photo), []byte("drawn"), 0o644)
	}
	measureAll(t, dir, RunOptions{Draw: draw})
	mine := filepath.Join(dir, trialdir.OverlaysFolder, "my notes.jpg")
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, trialdir.PhotosFolder, "a.jpg")); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, trialdir.PhotosFolder, "b.jpg"), filepath.Join(dir, trialdir.PhotosFolder, "d.jpg")); err != nil {
		t.Fatal(err)
	}
	measureAll(t, dir, RunOptions{Draw: draw})
	var names []string
	for name := range filesIn(t, filepath.Join(dir, trialdir.OverlaysFolder)) {
		names = append(names, name)
	}
	slices.Sort(names)
	if want := []string{"c.jpg", "d.jpg", "my notes.jpg"}; !slices.Equal(names, want) {
		t.Errorf("overlays: %q, want %q", names, want)
	}
}

// FuzzReading: whatever a reading's file holds, it is read or refused, and what was read can be corrected and written again.
func FuzzReading(f *testing.F) {
	sha := strings.Repeat("ab", 32)
	good := reading.Blank()
	good.SHA256, good.Photo, good.View, good.Tags = sha, "tray-07.jpg", "roots", []int{7}
	good.Plugs = []reading.Plug{reading.EmptyPlug("A1")}
	text, err := json.Marshal(good)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"photo": "a.jpg", "sha256": "` + sha + `", "plugs": [{"plug": "A1", "root_area_mm2": 1e308}], "taken": "0001-01-01T00:00:00Z"}`))
	f.Add([]byte(`{"photo": "a.jp`))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := reading.Parse(text, sha)
		if err != nil {
			return
		}
		r.Correct([]correct.Correction{{ID: 1, What: correct.Exclude, SHA256: sha}, {ID: 2, What: correct.Tray, Number: 4, SHA256: sha}})
		if r.View != "" && r.Tray != 4 {
			t.Fatalf("tray %d", r.Tray)
		}
		again, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := reading.Parse(again, sha); err != nil {
			t.Fatalf("cannot read what was written: %v", err)
		}
	})
}
