package measure

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
)

// folder makes a trial's folder with photos of plain grey, a different grey for each name.
func folder(t *testing.T, names ...string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, trialdir.PhotosFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		put(t, dir, name, greyPhoto(t, uint8(20*i)))
	}
	return dir
}

func put(t *testing.T, dir, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func greyPhoto(t *testing.T, grey uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = grey
	}
	img.SetGray(3, 3, color.Gray{Y: 255 - grey})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func measureAll(t *testing.T, dir string, o RunOptions) Result {
	t.Helper()
	result, err := Run(context.Background(), dir, testtray.WholePlan(t), o)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

func namesOf(readings []reading.Reading) []string {
	var names []string
	for _, r := range readings {
		names = append(names, r.Photo)
	}
	return names
}

// kindsOf returns the kinds of concern of the photo called name.
func kindsOf(t *testing.T, readings []reading.Reading, name string) string {
	t.Helper()
	for _, r := range readings {
		if r.Photo == name {
			var kinds []string
			for _, c := range r.Concerns {
				if c.Words == "" || c.Remedy == "" {
					t.Errorf("%s: a concern without words or remedy: %+v", name, c)
				}
				kinds = append(kinds, string(c.Kind))
			}
			return strings.Join(kinds, ", ")
		}
	}
	t.Errorf("%s has no reading among %v", name, namesOf(readings))
	return ""
}

// filesIn returns what a folder's files hold, by name, but for the lock.
func filesIn(t *testing.T, folder string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		if e.Name() == store.LockName {
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(text)
	}
	return files
}

func TestEveryPhotoGetsAReading(t *testing.T) {
	dir := folder(t, "b.jpg", "a.JPG", "day-7/phone/c.jpeg")
	put(t, dir, "day-7/.hidden.jpg", greyPhoto(t, 200))
	put(t, dir, ".trash/old.jpg", greyPhoto(t, 210))
	put(t, dir, "notes.txt", []byte("kale"))
	put(t, dir, "photo-without-ending", greyPhoto(t, 220))
	result := measureAll(t, dir, RunOptions{Version: "1"})
	if got, want := namesOf(result.Readings), []string{"a.JPG", "b.jpg", "day-7/phone/c.jpeg", "photo-without-ending"}; !slices.Equal(got, want) {
		t.Errorf("readings of %v, want %v", got, want)
	}
	if len(result.Skipped) != 1 || result.Skipped[0].File != "notes.txt" {
		t.Errorf("left out: %v, want notes.txt", result.Skipped)
	}
	for _, r := range result.Readings {
		if r.Version != "1" || r.Settings == "" || len(r.SHA256) != 64 || r.Taken.IsZero() || r.TakenFrom != "file" {
			t.Errorf("%s lacks what every reading has: %+v", r.Photo, r)
		}
	}
	back, errs := reading.LoadReadings(dir)
	if len(errs) > 0 || !slices.Equal(namesOf(back), namesOf(result.Readings)) {
		t.Errorf("read back %v, %v", namesOf(back), errs)
	}
}

func TestOddFilesAreAnsweredForAndHarmNothing(t *testing.T) {
	dir := folder(t, "good.jpg", "keep/fine.jpg")
	if err := os.Mkdir(filepath.Join(dir, trialdir.PhotosFolder, "folder.jpg"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "folder.jpg/inside.jpg", greyPhoto(t, 99))
	put(t, dir, "nothing.jpg", nil)
	put(t, dir, "twin.jpg", greyPhoto(t, 0)) // the bytes of good.jpg
	outside := filepath.Join(t.TempDir(), "secret.jpg")
	if err := os.WriteFile(outside, greyPhoto(t, 250), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{"link.jpg": outside, "lost.jpg": "gone.jpg", "twin-link.jpg": "good.jpg"} {
		if err := os.Symlink(to, filepath.Join(dir, trialdir.PhotosFolder, name)); err != nil {
			t.Skip("this system has no symbolic links")
		}
	}
	result := measureAll(t, dir, RunOptions{})
	for name, want := range map[string]string{
		"folder.jpg": "not a photo", "nothing.jpg": "empty file", "twin.jpg": "same photo twice",
		"link.jpg": "outside the trial", "lost.jpg": "unreadable", "twin-link.jpg": "same photo twice",
	} {
		if got := kindsOf(t, result.Readings, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	if result.Measured != 2 {
		t.Errorf("%d photos measured, want the two good ones", result.Measured)
	}
	if n := len(filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))); n != 2 {
		t.Errorf("%d readings kept, want 2: what cannot be read has no name to be kept by", n)
	}
}

func TestUnreadablePhoto(t *testing.T) {
	dir := folder(t, "good.jpg")
	path := put(t, dir, "locked.jpg", greyPhoto(t, 100))
	if err := os.Chmod(path, 0); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Open(path); err == nil {
		f.Close()
		t.Skip("this user may read everything")
	}
	if got := kindsOf(t, measureAll(t, dir, RunOptions{}).Readings, "locked.jpg"); got != "unreadable" {
		t.Errorf("a photo that may not be read: %q", got)
	}
}

func TestTheNumberOfWorkersChangesNothing(t *testing.T) {
	names := []string{"a.jpg", "b.jpg", "c.jpg", "d/e.jpg", "f.jpg"}
	one, four := folder(t, names...), folder(t, names...)
	for _, dir := range []string{one, four} { // the file's time stands in for the photo's
		for _, name := range names {
			when := time.Date(2026, 3, 9, 9, 0, 0, 0, time.UTC)
			if err := os.Chtimes(filepath.Join(dir, trialdir.PhotosFolder, name), when, when); err != nil {
				t.Fatal(err)
			}
		}
	}
	var told []string
	first := measureAll(t, one, RunOptions{Workers: 1})
	second := measureAll(t, four, RunOptions{Workers: 4, Each: func(r reading.Reading, _ bool) { told = append(told, r.Photo) }})
	if !slices.Equal(namesOf(first.Readings), namesOf(second.Readings)) || !slices.Equal(told, names) {
		t.Errorf("orders differ: %v, %v, told %v", namesOf(first.Readings), namesOf(second.Readings), told)
	}
	a, b := filesIn(t, filepath.Join(one, trialdir.ReadingsFolder)), filesIn(t, filepath.Join(four, trialdir.ReadingsFolder))
	for name, text := range a {
		if b[name] != text {
			t.Errorf("%s differs between one worker and four", name)
		}
	}
	if len(a) != len(names) || len(b) != len(names) {
		t.Errorf("%d and %d readings, want %d", len(a), len(b), len(names))
	}
}

func TestOnlyWhatIsNewOrChangedIsMeasured(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg")
	o := RunOptions{Version: "1"}
	step := func(what string, o RunOptions, measured, reused int) Result {
		t.Helper()
		r := measureAll(t, dir, o)
		if r.Measured != measured || r.Reused != reused {
			t.Errorf("%s: %d measured and %d kept, want %d and %d", what, r.Measured, r.Reused, measured, reused)
		}
		return r
	}
	step("first run", o, 2, 0)
	before := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))
	step("second run", o, 0, 2)
	for name, text := range filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder)) {
		if before[name] != text {
			t.Errorf("the second run changed %s", name)
		}
	}
	put(t, dir, "c.jpg", greyPhoto(t, 77))
	step("a new photo", o, 1, 2)
	step("all again", RunOptions{Version: "1", Again: true}, 3, 0)
	step("another version", RunOptions{Version: "2"}, 3, 0)

	if err := os.Rename(filepath.Join(dir, trialdir.PhotosFolder, "c.jpg"), filepath.Join(dir, trialdir.PhotosFolder, "d.jpg")); err != nil {
		t.Fatal(err)
	}
	r := step("a renamed photo", RunOptions{Version: "2"}, 0, 3)
	if got := namesOf(r.Readings); !slices.Contains(got, "d.jpg") || slices.Contains(got, "c.jpg") {
		t.Errorf("a renamed photo is still called as before: %v", got)
	}
	if err := os.Remove(filepath.Join(dir, trialdir.PhotosFolder, "d.jpg")); err != nil {
		t.Fatal(err)
	}
	step("a photo taken away", RunOptions{Version: "2"}, 0, 2)
	if back, _ := reading.LoadReadings(dir); len(back) != 2 {
		t.Errorf("the reading of a photo that is gone is still there: %v", namesOf(back))
	}
	if err := os.RemoveAll(filepath.Join(dir, trialdir.ReadingsFolder)); err != nil {
		t.Fatal(err)
	}
	step("the readings deleted", RunOptions{Version: "2"}, 2, 0)
}

func TestSettingsChangeWithWhatChangesAReading(t *testing.T) {
	base := SettingsOf(testtray.WholePlan(t), "1")
	for what, change := range map[string]func(p *plan.Plan){
		"tray's shape":   func(p *plan.Plan) { p.Tray.PitchMM++ },
		"leaves' height": func(p *plan.Plan) { p.Tray.LeafHeightMMDays[14] = 25 },
		"card":           func(p *plan.Plan) { p.Card.RuleMM = 99.5 },
		"limits":         func(p *plan.Plan) { p.Limits.ChlorosisHueDeg = 100 },
		"sowing day":     func(p *plan.Plan) { p.Sown = p.Sown.AddDate(0, 0, 1) },
	} {
		p := testtray.WholePlan(t)
		change(p)
		if SettingsOf(p, "1") == base {
			t.Errorf("another %s gives the same settings", what)
		}
	}
	p := testtray.WholePlan(t)
	p.Title, p.FeedDays, p.Trays[0].Position = "Other", []int{9}, 99
	if SettingsOf(p, "1") != base {
		t.Error("title, feeding days and places change the settings, but no reading")
	}
	if SettingsOf(p, "2") == base {
		t.Error("another version gives the same settings")
	}
}

func TestBrokenReadingIsNamedAndMadeAgain(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg")
	r := measureAll(t, dir, RunOptions{})
	broken := reading.Path(dir, r.Readings[0].SHA256)
	if err := os.WriteFile(broken, []byte(`{"photo": "a.jp`), 0o644); err != nil {
		t.Fatal(err)
	}
	back, errs := reading.LoadReadings(dir)
	if len(back) != 1 || len(errs) != 1 || !strings.Contains(errs[0].Error(), broken) || !strings.Contains(errs[0].Error(), "delete it") {
		t.Errorf("read back %v, %v", namesOf(back), errs)
	}
	if r := measureAll(t, dir, RunOptions{}); r.Measured != 1 || r.Reused != 1 {
		t.Errorf("%d measured, %d kept; want the broken one made again", r.Measured, r.Reused)
	}
	if err := store.WriteWhole(broken, func(w io.Writer) error {
		_, err := w.Write(bytes.Repeat([]byte(" "), reading.MostReadingBytes+1))
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if _, errs := reading.LoadReadings(dir); len(errs) != 1 {
		t.Errorf("a reading of more than %d bytes: %v", reading.MostReadingBytes, errs)
	}
}

func TestStoppingKeepsWhatIsDone(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg", "c.jpg", "d.jpg")
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	_, err := Run(ctx, dir, testtray.WholePlan(t), RunOptions{Workers: 1, Progress: func(done, total int, name string) {
		if done == 2 {
			stop()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("stopped with %v", err)
	}
	kept := len(filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder)))
	if r := measureAll(t, dir, RunOptions{}); kept < 2 || r.Reused != kept || r.Measured != 4-kept {
		t.Errorf("%d kept, then %d kept and %d measured", kept, r.Reused, r.Measured)
	}
}

func TestFolderTroubles(t *testing.T) {
	bare := t.TempDir()
	if _, err := Run(context.Background(), bare, testtray.WholePlan(t), RunOptions{}); err == nil || !strings.Contains(err.Error(), "no folder photos") {
		t.Errorf("a trial without photos/: %v", err)
	}
	away := folder(t, "a.jpg")
	if err := os.Symlink(filepath.Join(away, trialdir.PhotosFolder), filepath.Join(bare, trialdir.PhotosFolder)); err != nil {
		t.Skip("this system has no symbolic links")
	}
	if _, err := Run(context.Background(), bare, testtray.WholePlan(t), RunOptions{}); err == nil || !strings.Contains(err.Error(), "outside the trial") {
		t.Errorf("photos/ that leads elsewhere: %v", err)
	}
}

func TestOverlayThatCannotBeWritten(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg", "c.jpg")
	full := errors.New("no space left")
	result, err := Run(context.Background(), dir, testtray.WholePlan(t), RunOptions{Draw: func(_ Seen, r reading.Reading) error {
		if r.Photo == "b.jpg" {
			return full
		}
		return nil
	}})
	if !errors.Is(err, full) || !strings.HasPrefix(err.Error(), "b.jpg: ") {
		t.Errorf("an overlay that could not be written: %v", err)
	}
	if n := len(filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))); len(result.Readings) != 3 || n != 2 {
		t.Errorf("%d readings, %d of them kept; want 3, and those two kept whose overlays are there", len(result.Readings), n)
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
