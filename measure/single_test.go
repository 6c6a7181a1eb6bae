package measure

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
)

// One photo by itself is answered for as in a run over all, and a copy of another one does not take its reading away.
func TestRunOne(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg")
	put(t, dir, "copy.jpg", greyPhoto(t, 0))
	p := testtray.WholePlan(t)
	all, err := Run(context.Background(), dir, p, RunOptions{Version: "one"})
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, trialdir.ReadingsFolder, "*.json"))
	if err != nil || len(files) != 2 {
		t.Fatalf("%v, %v", files, err)
	}
	for _, f := range files {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		for i, name := range []string{"a.jpg", "b.jpg", "copy.jpg"} {
			got, err := RunOne(context.Background(), dir, p, name, RunOptions{Version: "one"})
			if err != nil || !reading.SameJSON(got, all.Readings[i]) {
				t.Errorf("%s: %+v, %v; in a run over all %+v", name, got, err, all.Readings[i])
			}
		}
	}
	if readings, errs := reading.LoadReadings(dir); len(readings) != 2 || len(errs) > 0 || readings[0].Photo != "a.jpg" {
		t.Errorf("%d readings, %v", len(readings), errs)
	}
	if _, err := RunOne(context.Background(), dir, p, "../trial.yaml", RunOptions{}); err == nil || !strings.Contains(err.Error(), "there is no photo") {
		t.Errorf("a file that is no photo of the trial: %v", err)
	}
	unlock, err := store.Lock(filepath.Join(dir, trialdir.ReadingsFolder), false)
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	if _, err := RunOne(context.Background(), dir, p, "a.jpg", RunOptions{}); !errors.Is(err, store.ErrLocked) {
		t.Errorf("while all are measured: %v", err)
	}
}

// A reading that would come out the same is given without measuring; a photo that has to be measured gets none, and one that cannot be gets its reason at once.
func TestKept(t *testing.T) {
	dir := folder(t, "a.jpg")
	put(t, dir, "letter.jpg", []byte("this is a letter"))
	put(t, dir, "copy.jpg", greyPhoto(t, 0))
	p := testtray.WholePlan(t)
	kept := func(photo, version string) (reading.Reading, bool) {
		t.Helper()
		r, there, err := Kept(context.Background(), dir, p, photo, RunOptions{Version: version})
		if err != nil {
			t.Fatal(err)
		}
		return r, there
	}
	if r, there := kept("a.jpg", "one"); there {
		t.Errorf("before it is measured: %+v", r)
	}
	if r, there := kept("copy.jpg", "one"); !there || r.Verdict() != reading.VerdictUnusable { // of a.jpg
		t.Errorf("a copy: %v, %+v", there, r)
	}
	measured, err := RunOne(context.Background(), dir, p, "a.jpg", RunOptions{Version: "one"})
	if err != nil {
		t.Fatal(err)
	}
	if r, there := kept("a.jpg", "one"); !there || !reading.SameJSON(r, measured) {
		t.Errorf("measured: %v, %+v, want %+v", there, r, measured)
	}
	if r, there := kept("a.jpg", "two"); there {
		t.Errorf("by another version: %+v", r)
	}
	if err := Assign(dir, p, []Assignment{{Photo: "a.jpg", What: correct.Day, Number: 3, Who: "Ana", Why: "the clock was wrong"}}); err != nil {
		t.Fatal(err)
	}
	if r, there := kept("a.jpg", "one"); there {
		t.Errorf("of another day since: %+v", r)
	}
	if _, _, err := Kept(context.Background(), dir, p, "../trial.yaml", RunOptions{}); err == nil {
		t.Error("a file that is no photo of the trial")
	}
}
