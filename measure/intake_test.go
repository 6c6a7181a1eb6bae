package measure

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/vision"
)

func TestTheTrayInAName(t *testing.T) {
	for name, want := range map[string]int{
		"tray-07.jpg": 7, "tray-7-roots.jpg": 7, "Tray 12.HEIC": 12, "TRAY_003.png": 3, "tray9.webp": 9, "tray.4.tif": 4,
		"day-14/tray-07/IMG_0412.HEIC": 7, "tray-3/tray-07.jpg": 7, "tray-3/day-14/x.jpg": 3,
		"tray 1 (2).jpg": 1, "my_tray-5.jpg": 5, "(tray 6).jpg": 6,
		"IMG_0412.HEIC": 0, "stray-7.jpg": 0, "tray-7b.jpg": 0, "tray-12345.jpg": 0, "tray-0.jpg": 0, "tray.jpg": 0,
		"tray-1 and tray-2.jpg": 0, "tray-1 and tray-2/tray.jpg": 0, "": 0,
	} {
		if got := reading.TrayInName(name); got != want {
			t.Errorf("%q: tray %d, want %d", name, got, want)
		}
	}
}

func FuzzTrayInName(f *testing.F) {
	for _, name := range []string{"tray-07.jpg", "tray-1 tray-2", "TRAY_0003/x", "stray7"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		if n := reading.TrayInName(name); n < 0 || n > 9999 {
			t.Fatalf("tray %d", n)
		}
		if shown := wording.Shown(name); strings.ContainsAny(shown, "\x1b\n\r\u202e\u2066") {
			t.Fatalf("shown as %q", shown)
		}
	})
}

func TestWhichTrayItIs(t *testing.T) {
	for _, c := range []struct {
		what  string
		photo string
		tags  []int
		hand  int
		tray  int
		from  reading.Source
		kinds string
	}{
		{"the tag", "IMG_1.jpg", []int{7}, 0, 7, "tag", ""},
		{"tag and name agree", "tray-07.jpg", []int{7}, 0, 7, "tag", ""},
		{"tag and name differ", "tray-08.jpg", []int{7}, 0, 7, "tag", "tag against name"},
		{"no tag", "IMG_1.jpg", nil, 0, 0, "", "no tag"},
		{"no tag, but a name", "day-14/tray-07/IMG_1.jpg", nil, 0, 7, "name", ""},
		{"two tags", "IMG_1.jpg", []int{7, 8}, 0, 7, "tag", "several tags"},
		{"two tags and the name of one", "tray 8.jpg", []int{7, 8}, 0, 8, "tag", ""},
		{"by hand", "tray-08.jpg", []int{7}, 3, 3, "hand", ""},
		{"by hand, without anything else", "IMG_1.jpg", nil, 3, 3, "hand", ""},
	} {
		r := reading.Reading{Photo: c.photo, View: "roots", Tags: c.tags, Concerns: []reading.Concern{{Kind: "tilted"}, {Kind: "no tag"}}}
		r.SettleTray(c.hand)
		var kinds []string
		for _, concern := range r.Concerns {
			if concern.Kind != "tilted" {
				kinds = append(kinds, string(concern.Kind))
			}
		}
		if r.Tray != c.tray || r.TrayFrom != c.from || strings.Join(kinds, ", ") != c.kinds || len(r.Concerns) != len(kinds)+1 {
			t.Errorf("%s: tray %d from %q, %v; want %d from %q, %q", c.what, r.Tray, r.TrayFrom, kinds, c.tray, c.from, c.kinds)
		}
	}
}

func TestWhenAPhotoWasTaken(t *testing.T) {
	p := testtray.WholePlan(t)
	zone := p.Sown.Location()
	changed := time.Date(2026, 3, 20, 18, 0, 0, 0, time.UTC)
	day := 14
	for _, c := range []struct {
		what       string
		meta       vision.Meta
		day        *int
		want       time.Time
		from, zone reading.Source
	}{
		{"with its zone", vision.Meta{Taken: "2026:03:12 09:30:00", Offset: "+05:30"}, nil, time.Date(2026, 3, 12, 4, 0, 0, 0, time.UTC), "photo", "photo"},
		{"without", vision.Meta{Taken: "2026:03:12 09:30:00"}, nil, time.Date(2026, 3, 12, 9, 30, 0, 0, zone), "photo", "plan"},
		{"with a zone that is none", vision.Meta{Taken: "2026:03:12 09:30:00", Offset: "east"}, nil, time.Date(2026, 3, 12, 9, 30, 0, 0, zone), "photo", "plan"},
		{"a clock never set", vision.Meta{Taken: "1980:01:01 00:00:00", Offset: "+00:00"}, nil, changed, "file", "plan"},
		{"blanks", vision.Meta{Taken: "    :  :     :  :  "}, nil, changed, "file", "plan"},
		{"nothing", vision.Meta{}, nil, changed, "file", "plan"},
		{"by hand", vision.Meta{Taken: "2020:01:01 09:30:00"}, &day, p.DateOf(14).Add(9*time.Hour + 30*time.Minute), "hand", "plan"},
	} {
		var r reading.Reading
		takeTime(&r, c.meta, changed, c.day, p)
		if !r.Taken.Equal(c.want) || r.TakenFrom != c.from || r.ZoneFrom != c.zone {
			t.Errorf("%s: %v from %s, zone from %s; want %v from %s, %s", c.what, r.Taken, r.TakenFrom, r.ZoneFrom, c.want, c.from, c.zone)
		}
	}
}

// assigned runs Assign and fails on an error.
func assigned(t *testing.T, dir string, p *plan.Plan, a ...Assignment) {
	t.Helper()
	if err := Assign(dir, p, a); err != nil {
		t.Fatal(err)
	}
}

func TestAnAssignmentOutlivesRenamingAndChangesNoPhoto(t *testing.T) {
	dir, p := folder(t, "a=b.jpg", "day/c.jpg"), testtray.WholePlan(t)
	bytesOf := func(name string) string {
		raw, err := os.ReadFile(filepath.Join(dir, trialdir.PhotosFolder, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(raw)
	}
	before := bytesOf("a=b.jpg")
	mine := Assignment{Photo: "a=b.jpg", What: correct.Day, Number: 14, Who: "Ana", Why: "the clock was wrong"}
	assigned(t, dir, p, mine, Assignment{Photo: filepath.Join(dir, trialdir.PhotosFolder, "day", "c.jpg"), What: correct.Tray, Number: 3, Who: "Ana", Why: "no tag"})
	first := measureAll(t, dir, RunOptions{})
	if r := first.Readings[0]; p.DayOf(r.Taken) != 14 || r.TakenFrom != "hand" {
		t.Errorf("taken %v from %s", r.Taken, r.TakenFrom)
	}
	assigned(t, dir, p, mine) // again: kept once
	if err := os.Rename(filepath.Join(dir, trialdir.PhotosFolder, "a=b.jpg"), filepath.Join(dir, trialdir.PhotosFolder, "z.jpg")); err != nil {
		t.Fatal(err)
	}
	second := measureAll(t, dir, RunOptions{})
	if second.Measured != 0 || p.DayOf(second.Readings[1].Taken) != 14 {
		t.Errorf("renamed: %d measured, %+v", second.Measured, second.Readings[1])
	}
	mine.Photo, mine.Number = "z.jpg", 0 // the day it was sown
	assigned(t, dir, p, mine)
	third := measureAll(t, dir, RunOptions{})
	if third.Measured != 1 || p.DayOf(third.Readings[1].Taken) != 0 {
		t.Errorf("another day: %d measured, %+v", third.Measured, third.Readings[1])
	}
	if bytesOf("z.jpg") != before {
		t.Error("the photo was changed")
	}
	log, err := correct.Load(dir)
	if err != nil || len(log.Made) != 3 || log.Made[0].Who != "Ana" || log.Made[0].Photo != "a=b.jpg" {
		t.Errorf("%v, %+v", err, log.Made)
	}
}

func TestAnAssignmentThatCannotBeMeant(t *testing.T) {
	dir, p := folder(t, "a/x.jpg", "b/x.jpg", "c.jpg"), testtray.WholePlan(t)
	good := Assignment{Photo: "c.jpg", What: correct.Tray, Number: 3, Who: "Ana", Why: "no tag"}
	for say, bad := range map[string]Assignment{
		`there is no photo "gone.jpg"`:     {Photo: "gone.jpg", What: correct.Tray, Number: 3, Who: "Ana", Why: "no tag"},
		`several photos are named "x.jpg"`: {Photo: "x.jpg", What: correct.Tray, Number: 3, Who: "Ana", Why: "no tag"},
		"the plan has no tray 99":          {Photo: "c.jpg", What: correct.Tray, Number: 99, Who: "Ana", Why: "no tag"},
		"not a day after sowing":           {Photo: "a/x.jpg", What: correct.Day, Number: -1, Who: "Ana", Why: "no date"},
	} {
		list := []Assignment{bad}
		if bad.What == correct.Tray {
			list = []Assignment{good, bad}
		}
		if err := Assign(dir, p, list); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%v, want %q", err, say)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, correct.FileName)); err == nil {
		if log, err := correct.Load(dir); err != nil || len(log.Made) > 0 {
			t.Errorf("kept all the same: %v, %+v", err, log.Made)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, correct.FileName), []byte(strings.Repeat("x", correct.MostBytes+1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Run(context.Background(), dir, p, RunOptions{}); err == nil || !strings.Contains(err.Error(), correct.FileName) {
		t.Errorf("with corrections that cannot be read: %v", err)
	}
}

func TestTheBetterOfTwoPhotos(t *testing.T) {
	nine, ten := time.Date(2026, 3, 12, 9, 0, 0, 0, time.UTC), time.Date(2026, 3, 12, 10, 0, 0, 0, time.UTC)
	one, two := []reading.Concern{{Kind: "tilted"}}, []reading.Concern{{Kind: "tilted"}, {Kind: "too dark"}}
	for what, pair := range map[string][2]reading.Reading{
		"nothing wrong before something": {{Photo: "b", Taken: nine}, {Photo: "a", Taken: ten, Concerns: one}},
		"one thing before two":           {{Photo: "b", Taken: nine, Concerns: one}, {Photo: "a", Taken: ten, Concerns: two}},
		"later before earlier":           {{Photo: "b", Taken: ten}, {Photo: "a", Taken: nine}},
		"then by name":                   {{Photo: "a", Taken: ten}, {Photo: "b", Taken: ten}},
	} {
		if reading.BetterFirst(pair[0], pair[1]) >= 0 || reading.BetterFirst(pair[1], pair[0]) <= 0 {
			t.Errorf("%s does not hold", what)
		}
	}
}
