package serve

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/vision/card"
)

// Where a photo's file was deleted its figures stay, and that nobody can look again is said on the day's page, with the verdict and in review;
// what was counted can still be seen. With the file back nothing is said.
func TestAPhotosFileIsGone(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	photo := p.send(photoOf(t, card.Roots, 1), 1, "roots")
	before := p.verdict(photo, 1, "roots")
	if shot := trayOf(get[feedingDay](p, "/api/today"), 1).Roots; before.Tone != "good" || shot == nil || shot.Gone {
		t.Fatalf("%+v, %+v", before, shot)
	}
	file := filepath.Join(r.dir, "photos", filepath.FromSlash(photo))
	if err := os.Rename(file, file+".away"); err != nil {
		t.Fatal(err)
	}
	day := get[feedingDay](p, "/api/today")
	if shot := trayOf(day, 1).Roots; shot == nil || !shot.Gone || shot.Verdict != "good" {
		t.Errorf("the photo is %+v", shot)
	}
	for _, want := range []string{"The file of 1 photo is gone", "roots of tray 1 on day 10", "Its figures stay, but nobody can look"} {
		if !strings.Contains(day.Gone, want) {
			t.Errorf("the day says %q, not %q", day.Gone, want)
		}
	}
	if v := p.verdict(photo, 1, "roots"); v.Tone != "gone" || !strings.Contains(v.Large, "gone") || len(v.Figures) == 0 || v.Figures[0].Value != before.Figures[0].Value || len(v.Reasons) == 0 {
		t.Errorf("the verdict is %+v", v)
	} else if status, _ := p.ask("GET", "/overlay?id="+v.ID, nil); before.Overlay && status != 200 {
		t.Errorf("what was counted: %d", status)
	}
	if list := get[reviewing](p, "/api/photos"); len(list.Problems) != 1 || !strings.Contains(list.Problems[0], "roots of tray 1") {
		t.Errorf("review says %q", list.Problems)
	}
	if status, _ := post[map[string]bool](p, "/api/blind", map[string]any{"hidden": true, "who": "me"}); status != 200 {
		t.Fatal(status)
	}
	if list := get[reviewing](p, "/api/photos"); len(list.Problems) != 1 || strings.Contains(list.Problems[0], "tray 1") {
		t.Errorf("with names hidden review says %q", list.Problems)
	}
	if status, text := p.ask("GET", "/shown/photos/"+photo, nil); status == 200 {
		t.Errorf("with names hidden the photo of a tray can be looked up: %.200s", text)
	}
	if err := os.Rename(file+".away", file); err != nil {
		t.Fatal(err)
	}
	if day := get[feedingDay](p, "/api/today"); day.Gone != "" || trayOf(day, 1).Roots.Gone {
		t.Errorf("with the file back the day says %q", day.Gone)
	}
}
