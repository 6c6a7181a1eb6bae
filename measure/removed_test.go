package measure

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
	"traygauge/vision/card"
)

// Where a measured photo's file is gone its figures leave the results, and the run names it: what counted must not vanish without a word. Of
// one that never counted nothing is said, nor of one that was only renamed. Until then its figures can be excluded by its former name.
func TestAPhotoThatIsGoneIsNamed(t *testing.T) {
	spec := testtray.Small(card.Roots)
	p := testtray.Plan(spec.Tray, 10)
	p.Treatments = []plan.Treatment{{Name: "water"}}
	p.Trays = []plan.Tray{{Number: 7, Treatment: "water"}}
	dir := t.TempDir()
	raw, _ := testtray.JPEG(t, spec, true)
	put(t, dir, "tray-07-roots.jpg", raw)
	put(t, dir, "grey.jpg", greyPhoto(t, 50))
	run := func() []string {
		t.Helper()
		r, err := Run(context.Background(), dir, p, RunOptions{Version: "1"})
		if err != nil {
			t.Fatal(err)
		}
		return r.Removed
	}
	file := func(name string) string { return filepath.Join(dir, trialdir.PhotosFolder, name) }
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	if removed := run(); len(removed) != 0 {
		t.Errorf("at first: %q", removed)
	}
	must(os.Remove(file("grey.jpg")))
	must(os.Rename(file("tray-07-roots.jpg"), file("tray-07-roots-b.jpg")))
	if removed := run(); len(removed) != 0 {
		t.Errorf("after renaming one and deleting another that never counted: %q", removed)
	}
	must(os.Remove(file("tray-07-roots-b.jpg")))
	// A folder without any photo is more likely a drive that is not connected: nothing is removed.
	if r, err := Run(context.Background(), dir, p, RunOptions{Version: "1"}); err == nil || !strings.Contains(err.Error(), "1 photo was measured before") || len(r.Removed) > 0 {
		t.Errorf("with no photo left: %q, %v", r.Removed, err)
	}
	put(t, dir, "another.jpg", greyPhoto(t, 60))
	c := correct.Correction{What: correct.Exclude, Who: "Ana", Why: "lost"}
	for _, name := range []string{"tray-07-roots-b.jpg", trialdir.HashOf(raw)[:8]} {
		list, err := Corrections(dir, p, c, name, []string{"A1"})
		if err != nil || len(list) != 1 || list[0].SHA256 != trialdir.HashOf(raw) || list[0].Photo != "tray-07-roots-b.jpg" {
			t.Errorf("%s: %+v, %v", name, list, err)
		}
	}
	put(t, dir, "day-14/tray-07-shoots.jpg", greyPhoto(t, 70))
	if _, err := Corrections(dir, p, c, "day-14/tray-07-shots.jpg", nil); err == nil || !strings.Contains(err.Error(), `did you mean "day-14/tray-07-shoots.jpg"?`) {
		t.Errorf("a misspelt name: %v", err)
	}
	if list, err := Corrections(dir, p, c, "day-14/tray-07-shoots.jpg", []string{"b2"}); err != nil || list[0].Plug != "B2" {
		t.Errorf("a plug in small letters: %+v, %v", list, err)
	}
	if _, err := Corrections(dir, p, c, "tray-08-roots.jpg", nil); err == nil {
		t.Error("a photo that never was can be corrected")
	}
	if removed := run(); !slices.Equal(removed, []string{"tray-07-roots-b.jpg"}) {
		t.Errorf("after deleting it: %q, want it named", removed)
	}
	if removed := run(); len(removed) != 0 {
		t.Errorf("once said it is said again: %q", removed)
	}
	if _, err := Corrections(dir, p, c, "tray-07-roots-b.jpg", nil); err == nil {
		t.Error("with its figures gone it can be corrected")
	}
	put(t, dir, "tray-07-roots-b.jpg", raw)
	run()
	list, err := Corrections(dir, p, c, "tray-07-roots-b.jpg", nil)
	must(err)
	_, _, err = reading.Keep(dir, list[0])
	must(err)
	must(os.Remove(file("tray-07-roots-b.jpg")))
	if removed := run(); len(removed) != 0 {
		t.Errorf("of an excluded photo, which counted nowhere: %q", removed)
	}
}
