package demo

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/vision"
	"traygauge/vision/card"
)

func demoPlan(t *testing.T) *plan.Plan {
	t.Helper()
	p, _, err := plan.Parse(trialYAML, plan.FileName)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPlanHasTheControls(t *testing.T) {
	p := demoPlan(t)
	if len(p.Trays) < 8 || len(p.PlugNames()) != 50 || len(p.ReviewDays) != 3 {
		t.Errorf("%d trays of %d, %d review days; want 8 of 50 and 3 days", len(p.Trays), len(p.PlugNames()), len(p.ReviewDays))
	}
	for _, name := range []string{"water only", "base feed only", "sugar alone"} {
		if len(p.TraysOf(name)) == 0 {
			t.Errorf("no tray gets %q", name)
		}
	}
	for _, treatment := range p.Treatments {
		if vigour[treatment.Name] == 0 {
			t.Errorf("%q has no vigour, so nothing would grow", treatment.Name)
		}
	}
	if n := len(shotsOf(p)); n != len(p.Trays)*3*2 {
		t.Errorf("%d photos for %d trays, three days and two views", n, len(p.Trays))
	}
}

func TestLogSaysWhatThePlanGives(t *testing.T) {
	p := demoPlan(t)
	entries, findings := logbook.Parse(logOf(p), logbook.FileName)
	if findings = append(findings, logbook.Fits(p, entries, logbook.FileName)...); len(findings) > 0 {
		t.Fatalf("the log has findings: %v", findings)
	}
	var got []float64
	moved := false
	for _, e := range entries {
		if day := p.DayOf(e.When); e.Tray == 5 && day == 7 {
			got = append(got, e.AmountML)
		} else if day == 17 && e.What == logbook.Feeding {
			t.Error("day 17 has a feeding, but it was given a day late")
		} else if day == 18 && e.What == logbook.Feeding {
			moved = true
		}
	}
	// 2 mL/L × 1.5 L = 3 mL of base feed; 7.5 mL/gal ÷ 3.785 L/gal × 1.5 L = 2.97 mL of seaweed extract
	if len(got) != 2 || got[0] != 3 || got[1] != 2.97 {
		t.Errorf("tray 5 got %v mL on day 7, want 3 and 2.97", got)
	}
	if !moved {
		t.Error("the late feeding of day 18 is not in the log")
	}
}

func TestPlantsKeepTheirHabitAndTraysTheirStory(t *testing.T) {
	p := demoPlan(t)
	const early, late = 14, 28
	for _, tray := range p.Trays {
		before, after := plantsOn(p, tray.Number, early), plantsOn(p, tray.Number, late)
		standing, yellow, brown, leafMM := 0, 0.0, 0.0, 0.0
		for _, name := range p.PlugNames() {
			a, b := before[name], after[name]
			if a.Plug != b.Plug || (a.Leaves > 0) != (b.Leaves > 0) {
				t.Errorf("tray %d %s comes or goes between the days", tray.Number, name)
			}
			if b.LeafLengthMM < a.LeafLengthMM {
				t.Errorf("tray %d %s shrinks from %.1f to %.1f mm", tray.Number, name, a.LeafLengthMM, b.LeafLengthMM)
			}
			if b.Leaves > 0 {
				standing++
				yellow, brown, leafMM = yellow+b.Yellow, brown+b.RootBrown, leafMM+b.LeafLengthMM
			}
		}
		n := float64(standing)
		if many := 50-standing >= 15; many != (tray.Number == emptyTray) {
			t.Errorf("tray %d has %d plants of 50", tray.Number, standing)
		}
		if yellows := yellow/n > 0.3; yellows != (tray.Number == fastTray) {
			t.Errorf("tray %d has %.0f %% yellow leaves on day %d", tray.Number, 100*yellow/n, late)
		}
		if browns := brown/n > 0.3; browns != (tray.Number == wetTray) {
			t.Errorf("tray %d has %.0f %% brown roots on day %d", tray.Number, 100*brown/n, late)
		}
		if fast := leafMM/n > 34; fast != (tray.Number == fastTray) {
			t.Errorf("tray %d has leaves of %.1f mm on day %d", tray.Number, leafMM/n, late)
		}
	}
}

// The two photos that go wrong have to go wrong in the way that they are meant to.
func TestWrongPhotos(t *testing.T) {
	dir := t.TempDir()
	for _, s := range shotsOf(demoPlan(t)) {
		on := trayOn{s.tray, s.day, s.face}
		if on != blurred && on != withoutCard {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(s.photoFile(dir)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Dir(s.truthFile(dir)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := s.draw(dir, defaultWidth); err != nil {
			t.Fatal(err)
		}
		photo, err := vision.Open(s.photoFile(dir))
		if err != nil {
			t.Fatal(err)
		}
		defer photo.Close()
		found, err := vision.FindCard(photo, vision.CardOptions{RuleMM: s.plan.Card.RuleMM})
		if on == withoutCard {
			var refusal *vision.Refusal
			if !errors.As(err, &refusal) || refusal.Kind != "no card" {
				t.Errorf("the photo without a card: %v", err)
			}
			continue
		}
		// A Gaussian blur of σ px has an MTF of 0.5 at √(2 ln 2)/(2πσ) = 0.187/σ cycles a pixel: 0.089 for 2.1 px. Sharp ones have 0.23.
		if err != nil || found.Face != card.Roots || found.Edge.MTF50 > 0.1 {
			t.Errorf("the blurred photo: %v, %+v", err, found)
		}
	}
}

func TestWriteLeavesAFullFolderAlone(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "diary.txt"), []byte("kale"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(context.Background(), dir, Options{}); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("a folder with a file in it: %v", err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("the folder now holds %v", entries)
	}
}

func TestWriteStopsWhenAsked(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	drawn := 0
	dir := filepath.Join(t.TempDir(), "kale")
	err := Write(ctx, dir, Options{Workers: 1, Width: 160, Progress: func(done, total int, name string) {
		if drawn = done; done == 0 {
			return
		}
		if !fileIn(dir, "photos", name) || !fileIn(dir, truthFolder, strings.TrimSuffix(name, ".jpg")+".truth.json") {
			t.Errorf("%s lacks its photo or its truth", name)
		}
		stop()
	}})
	if !errors.Is(err, context.Canceled) || drawn == 0 || drawn > 3 {
		t.Errorf("stopped with %v after %d photos", err, drawn)
	}
	if !fileIn(dir, plan.FileName) || !fileIn(dir, logbook.FileName) {
		t.Error("plan or log is missing")
	}
}

func fileIn(parts ...string) bool {
	info, err := os.Stat(filepath.Join(parts...))
	return err == nil && info.Size() > 0
}
