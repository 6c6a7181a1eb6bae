package measure

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
)

func TestParseShard(t *testing.T) {
	for text, want := range map[string]trialdir.Shard{"1/1": {Part: 1, Of: 1}, "2/8": {Part: 2, Of: 8}, "8/8": {Part: 8, Of: 8}} {
		if got, err := trialdir.ParseShard(text); err != nil || got != want || got.String() != text {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "2", "0/8", "9/8", "-1/8", "1/0", "a/b", "1/8/2", "1.5/2", "1/20000"} {
		if _, err := trialdir.ParseShard(text); err == nil || !strings.Contains(err.Error(), "2/8") {
			t.Errorf("%q was taken: %v", text, err)
		}
	}
}

func TestShardsPartPhotosAmongThem(t *testing.T) {
	const of, photos = 4, 400
	var have [of + 1]int
	for i := range photos {
		sha, in := trialdir.HashOf(fmt.Append(nil, i)), 0
		for part := 1; part <= of; part++ {
			if (trialdir.Shard{Part: part, Of: of}).Has(sha, "") {
				have[part]++
				in++
			}
		}
		if in != 1 {
			t.Fatalf("photo %d is in %d parts", i, in)
		}
	}
	for part := 1; part <= of; part++ {
		// Binomial(400, 1/4) is 100 ± 8.7; five deviations to each side
		if have[part] < 57 || have[part] > 143 {
			t.Errorf("part %d of %d has %d of %d photos", part, of, have[part], photos)
		}
	}
}

// A trial measured in parts, all at once as several computers would, gives the files of a trial measured whole. No file is
// written by two parts.
func TestShardsGiveWhatAWholeRunGives(t *testing.T) {
	const of = 3
	names := []string{"a.jpg", "b.jpg", "c/d.jpg", "c/e.jpg", "f.jpg", "g.jpg", "h.jpg"}
	trial := func() string {
		dir := folder(t, names...)
		put(t, dir, "twin.jpg", greyPhoto(t, 20)) // the bytes of b.jpg
		put(t, dir, "empty.jpg", nil)
		for _, name := range append([]string{"twin.jpg", "empty.jpg"}, names...) { // the file's time stands in for the photo's
			when := time.Date(2026, 3, 9, 9, 0, 0, 0, time.UTC)
			if err := os.Chtimes(filepath.Join(dir, trialdir.PhotosFolder, name), when, when); err != nil {
				t.Fatal(err)
			}
		}
		return dir
	}
	draw := func(dir string) func(Seen, reading.Reading) error {
		return func(s Seen, r reading.Reading) error {
			return store.WriteWhole(trialdir.OverlayPath(dir, r.Photo), reading.JSONWriter([]any{r.Photo, s.Photo.Width}))
		}
	}
	whole, parted := trial(), trial()
	want := measureAll(t, whole, RunOptions{Draw: draw(whole)})

	var mu sync.Mutex
	writers, answered := map[string]int{}, map[string]int{}
	var all sync.WaitGroup
	for part := 1; part <= of; part++ {
		all.Go(func() {
			o := RunOptions{Shard: trialdir.Shard{Part: part, Of: of}, Draw: draw(parted)}
			result, err := Run(context.Background(), parted, testtray.WholePlan(t), o)
			if err != nil || len(result.Concerns) > 0 {
				t.Errorf("part %v: %v; it speaks of the trial as a whole: %v", o.Shard, err, result.Concerns)
			}
			mu.Lock()
			defer mu.Unlock()
			for _, r := range result.Readings {
				answered[r.Photo]++
				if r.SHA256 != "" && kindsOf(t, result.Readings, r.Photo) != string(reading.SamePhotoTwice) {
					writers[r.SHA256]++
				}
			}
		})
	}
	all.Wait()
	for _, r := range want.Readings {
		if answered[r.Photo] != 1 {
			t.Errorf("%s was answered for by %d parts", r.Photo, answered[r.Photo])
		}
	}
	for sha, n := range writers {
		if n != 1 {
			t.Errorf("the reading %s is of %d parts", sha, n)
		}
	}
	for _, f := range []string{trialdir.ReadingsFolder, trialdir.OverlaysFolder} {
		a, b := filesIn(t, filepath.Join(whole, f)), filesIn(t, filepath.Join(parted, f))
		if !maps.Equal(a, b) {
			t.Errorf("%s differs: %v and %v", f, slices.Sorted(maps.Keys(a)), slices.Sorted(maps.Keys(b)))
		}
	}
	last := measureAll(t, parted, RunOptions{Draw: draw(parted)})
	if last.Measured != 0 || len(last.Concerns) != len(want.Concerns) {
		t.Errorf("the run over all photos measured %d again and has the concerns %v, want %v", last.Measured, last.Concerns, want.Concerns)
	}
}

func TestASecondRunOnTheSameTrialIsRefusedUntilTheFirstEnds(t *testing.T) {
	dir := folder(t, "a.jpg", "b.jpg")
	measureAll(t, dir, RunOptions{})
	before := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder))
	refused := func(o RunOptions) {
		t.Helper()
		if _, err := Run(context.Background(), dir, testtray.WholePlan(t), o); err == nil || !strings.Contains(err.Error(), "in use by another traygauge process") {
			t.Errorf("a second run, %+v: %v", o.Shard, err)
		}
	}
	measureAll(t, dir, RunOptions{Again: true, Each: func(reading.Reading, bool) {
		refused(RunOptions{})
		refused(RunOptions{Shard: trialdir.Shard{Part: 1, Of: 2}})
	}})
	if after := filesIn(t, filepath.Join(dir, trialdir.ReadingsFolder)); !maps.Equal(before, after) {
		t.Error("the refused runs changed readings")
	}
	measureAll(t, dir, RunOptions{})
}

func TestARunClearsAwayWhatAKilledOneLeft(t *testing.T) {
	dir := folder(t, "a.jpg")
	measureAll(t, dir, RunOptions{})
	for _, f := range []string{trialdir.ReadingsFolder, trialdir.OverlaysFolder} {
		if err := os.WriteFile(filepath.Join(dir, f, ".traygauge-123.part"), []byte("{"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	measureAll(t, dir, RunOptions{})
	for _, f := range []string{trialdir.ReadingsFolder, trialdir.OverlaysFolder} {
		left, err := filepath.Glob(filepath.Join(dir, f, ".*.part"))
		if err != nil || len(left) > 0 {
			t.Errorf("left in %s: %v, %v", f, left, err)
		}
	}
}
