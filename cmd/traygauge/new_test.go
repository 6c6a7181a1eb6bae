package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
)

func TestNew(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shelf", "kale-trial") // the folders above are made too
	code, out, words := traygauge("new", dir)
	if code != exitOK || out != "" || !strings.Contains(words, "traygauge check") {
		t.Fatalf("exit %d, out %q, %s", code, out, words)
	}
	p, _, err := plan.Load(dir)
	if err != nil || p.Title != "kale-trial" {
		t.Errorf("plan: %v", err)
	}
	if log, err := os.ReadFile(filepath.Join(dir, "log.csv")); err != nil || string(log) != "when,tray,what,product,amount_ml,water_ml,note\n" {
		t.Errorf("log %q, %v", log, err)
	}
	if info, err := os.Stat(filepath.Join(dir, "photos")); err != nil || !info.IsDir() {
		t.Errorf("photos: %v", err)
	}
}

// A new trial is sown today, by the clock of where it is made: at half past eleven in the evening in New York the day there, though it is the next
// one in Lisbon.
func TestNewIsSownToday(t *testing.T) {
	newYork, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "kale-trial")
	if err := runNew(newOptions{}, dir, time.Date(2026, 5, 7, 23, 30, 0, 0, newYork), &streams{Err: io.Discard}); err != nil {
		t.Fatal(err)
	}
	for on, want := range map[string]string{"2026-05-07": "day 0 (2026-05-07)", "2026-05-14": "day 7 (2026-05-14)"} {
		if code, out, words := traygauge("check", dir, "--on", on); code != exitOK || !strings.Contains(out, want) {
			t.Errorf("exit %d, %s\n%s", code, words, out)
		}
	}
}

// Whichever of the three is there already, nothing is touched and nothing added.
func TestNewOverwritesNothing(t *testing.T) {
	for _, name := range []string{"trial.yaml", "log.csv", "photos"} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, name), []byte("mine"), 0o666); err != nil {
			t.Fatal(err)
		}
		code, _, words := traygauge("new", dir)
		if code != exitFailed || !strings.Contains(words, name+" already exists") {
			t.Errorf("%s: exit %d, %s", name, code, words)
		}
		left, err := os.ReadDir(dir)
		text, _ := os.ReadFile(filepath.Join(dir, name))
		if err != nil || len(left) != 1 || string(text) != "mine" {
			t.Errorf("%s: %v %q %v", name, left, text, err)
		}
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	if code, _, words := traygauge("new", file); code != exitFailed || words == "" {
		t.Errorf("a file in the folder's place: exit %d, %s", code, words)
	}
}

// Whoever copied photos into the folder first keeps them, and an empty name, such as that of an unset shell variable, is not the folder
// one is in.
func TestNewBesidePhotos(t *testing.T) {
	dir := t.TempDir()
	photo := filepath.Join(dir, "photos", "a.jpg")
	if err := os.MkdirAll(filepath.Dir(photo), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(photo, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	if code, _, words := traygauge("new", dir); code != exitOK {
		t.Errorf("exit %d, %s", code, words)
	}
	if text, err := os.ReadFile(photo); err != nil || string(text) != "mine" {
		t.Errorf("the photo: %q, %v", text, err)
	}
	if code, _, words := traygauge("new", ""); code != exitUsage || !strings.Contains(words, "name is empty") {
		t.Errorf("without a name: exit %d, %s", code, words)
	}
}

func TestNewTitle(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "k")
	if code, _, words := traygauge("new", dir, "--title", "Kale: spring #2"); code != exitOK {
		t.Fatal(words)
	}
	if p, _, err := plan.Load(dir); err != nil || p.Title != "Kale: spring #2" {
		t.Errorf("%v", err)
	}
}
