package measure

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
)

// sealedReading writes a reading as a run does, and returns its file.
func sealedReading(t *testing.T, dir string, r reading.Reading) string {
	t.Helper()
	if err := trialdir.MakeFolder(dir, trialdir.ReadingsFolder); err != nil {
		t.Fatal(err)
	}
	if err := reading.Save(dir, r); err != nil {
		t.Fatal(err)
	}
	return reading.Path(dir, r.SHA256)
}

// A reading whose file was edited is refused, also where the figure could be; so is one whose figures cannot be, however it came about.
func TestEditedAndImpossibleReadingsAreRefused(t *testing.T) {
	dir := t.TempDir()
	r := reading.Blank()
	r.Photo, r.SHA256 = "a.jpg", strings.Repeat("ab", 32)
	r.Plugs = []reading.Plug{reading.EmptyPlug("A1")}
	r.Plugs[0].RootAreaMM2 = 91.5
	file := sealedReading(t, dir, r)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if all, errs := reading.LoadReadings(dir); len(all) != 1 || len(errs) > 0 {
		t.Fatalf("as written: %d readings, %v", len(all), errs)
	}
	edited := strings.Replace(string(whole), "91.5", "95.5", 1)
	var unsealed map[string]any
	if err := json.Unmarshal(whole, &unsealed); err != nil {
		t.Fatal(err)
	}
	delete(unsealed, "seal")
	without := func(from, to string) string {
		text, err := json.Marshal(unsealed)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Replace(string(text), from, to, 1)
	}
	for what, c := range map[string]struct{ text, words string }{
		"another figure":  {edited, "was edited by hand"},
		"a negative area": {without("91.5", "-50"), "root_area_mm2 = -50 for plug A1"},
		"a huge area":     {without("91.5", "1e308"), "which is not possible"},
		"a strange state": {without(`"planted"`, `"thriving"`), `"thriving"`},
	} {
		if err := os.WriteFile(file, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		all, errs := reading.LoadReadings(dir)
		if len(all) != 0 || len(errs) != 1 || !strings.Contains(errs[0].Error(), c.words) || !strings.Contains(errs[0].Error(), "run `traygauge measure` again") {
			t.Errorf("%s: %d readings, %v", what, len(all), errs)
		}
	}
}

// Each reading that the trial does not vouch for is reported once, and so is a photo without one; a renamed photo is the same photo.
func TestAudit(t *testing.T) {
	dir, p := t.TempDir(), testtray.WholePlan(t)
	now := SettingsOf(p, "1")
	if err := os.MkdirAll(filepath.Join(dir, trialdir.PhotosFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	photo := func(name, content string) {
		if err := os.WriteFile(filepath.Join(dir, trialdir.PhotosFolder, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"good", "renamed to", "stale", "other", "new"} {
		photo(name+".jpg", name)
	}
	readingOf := func(photo, content, settings string) reading.Reading {
		return reading.Reading{Photo: photo + ".jpg", SHA256: trialdir.HashOf([]byte(content)), Settings: settings}
	}
	readings := []reading.Reading{
		readingOf("good", "good", now), readingOf("renamed from", "renamed to", now), readingOf("stale", "stale", "before"),
		readingOf("other", "what it was", now), readingOf("gone", "gone", now),
	}
	want := map[string]reading.Kind{"gone.jpg": reading.PhotoGone, "other.jpg": reading.PhotoGone, "stale.jpg": reading.MeasuredOtherwise, "new.jpg": reading.NotMeasured}
	for _, c := range Audit(dir, p, "1", readings) {
		if len(c.Photos) != 1 || c.Words == "" || !strings.Contains(c.Remedy, "traygauge measure "+dir) {
			t.Errorf("%+v", c)
		}
		if want[c.Photos[0]] != c.Kind {
			t.Errorf("%+v, want %q", c, want[c.Photos[0]])
		}
		delete(want, c.Photos[0])
	}
	if len(want) > 0 {
		t.Errorf("not told: %v", want)
	}
	if err := os.RemoveAll(filepath.Join(dir, trialdir.PhotosFolder)); err != nil {
		t.Fatal(err)
	}
	if got := Audit(dir, p, "1", readings); len(got) != 1 || got[0].Kind != reading.MeasuredOtherwise {
		t.Errorf("without photos/: %+v", got)
	}
}
