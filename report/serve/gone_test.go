package serve

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/vision/card"
)

// Where a photo's file was deleted its figures stay, and that no one can look again is said on the day's page, with the verdict and in review;
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
	away := filepath.Join(r.dir, "away.jpg")
	if err := os.Rename(file, away); err != nil {
		t.Fatal(err)
	}
	day := get[feedingDay](p, "/api/today")
	if shot := trayOf(day, 1).Roots; shot == nil || !shot.Gone || shot.Verdict != "good" {
		t.Errorf("the photo is %+v", shot)
	}
	for _, want := range []string{"The file of 1 photo is missing", "roots of tray 1 on day 10", "Its figures count only until the whole folder is measured again"} {
		if !strings.Contains(day.Gone, want) {
			t.Errorf("the day says %q, not %q", day.Gone, want)
		}
	}
	if v := p.verdict(photo, 1, "roots"); v.Tone != "gone" || !strings.Contains(v.Large, "missing") || len(v.Figures) == 0 || v.Figures[0].Value != before.Figures[0].Value || len(v.Reasons) == 0 {
		t.Errorf("the verdict is %+v", v)
	} else if status, _ := p.ask("GET", "/overlay?id="+v.ID, nil); before.Overlay && status != 200 {
		t.Errorf("what was counted: %d", status)
	}
	id := idOf(photo)
	if list := get[reviewing](p, "/api/photos"); len(list.Problems) != 1 || !strings.Contains(list.Problems[0], "roots of tray 1") {
		t.Errorf("review says %q", list.Problems)
	} else if len(list.Photos) != 1 || list.Photos[0].ID != id || !list.Photos[0].Gone || list.Photos[0].Tray != 1 || list.Photos[0].Verdict != "good" {
		t.Errorf("review lists %+v", list.Photos)
	}
	seen := get[photoSeen](p, "/api/photo?id="+id)
	if !seen.Ready || !seen.Gone || len(seen.Plugs) == 0 || len(seen.Reasons) == 0 || !strings.Contains(seen.Reasons[0].Remedy, "put the file back") {
		t.Errorf("review shows %+v", seen)
	}
	// What no one can look at again can still be left out, plug by plug or whole, and that can be undone. A grid cannot be laid on nothing.
	plug := seen.Plugs[0].Plug
	if status, made := post[corrected](p, "/api/correct", wanted{ID: id, What: correct.Exclude, Plugs: []string{plug}, Who: "Ana", Why: "its photo is lost"}); status != 200 || len(made.Made) != 1 {
		t.Fatalf("excluding a plug: %d, %+v", status, made)
	}
	if seen = get[photoSeen](p, "/api/photo?id="+id); seen.Plugs[0].State != "excluded" || len(seen.History) != 1 {
		t.Errorf("after excluding %s: %+v, %+v", plug, seen.Plugs[0], seen.History)
	}
	if status, _ := post[corrected](p, "/api/correct", wanted{ID: id, What: correct.Undo, Undoes: seen.History[0].ID, Who: "Ana", Why: "found it"}); status != 200 {
		t.Errorf("undoing: %d", status)
	}
	if seen = get[photoSeen](p, "/api/photo?id="+id); seen.Plugs[0].State == "excluded" {
		t.Errorf("%s is still excluded", plug)
	}
	// Excluded as a whole it stays listed, so that it can be had back.
	if status, _ := post[corrected](p, "/api/correct", wanted{ID: id, What: correct.Exclude, Who: "Ana", Why: "its photo is lost"}); status != 200 {
		t.Errorf("excluding the photo: %d", status)
	}
	if list := get[reviewing](p, "/api/photos"); len(list.Photos) != 1 || !list.Photos[0].Gone || list.Photos[0].Verdict != "excluded" || len(list.Problems) != 0 {
		t.Errorf("excluded, review lists %+v, %q", list.Photos, list.Problems)
	}
	seen = get[photoSeen](p, "/api/photo?id="+id)
	if !strings.Contains(seen.Reasons[0].Words, "its figures are not used") || seen.Reasons[0].Remedy != "" {
		t.Errorf("of the excluded photo review says %+v", seen.Reasons[0])
	}
	if status, _ := post[corrected](p, "/api/correct", wanted{ID: id, What: correct.Undo, Undoes: seen.History[len(seen.History)-1].ID, Who: "Ana", Why: "found it"}); status != 200 {
		t.Errorf("undoing: %d", status)
	}
	body, err := json.Marshal(wanted{ID: id, What: correct.Move, Corners: seen.Corners, Who: "Ana", Why: "slipped"})
	if err != nil {
		t.Fatal(err)
	}
	if status, text := p.ask("POST", "/api/correct", body); status != 400 || !strings.Contains(text, "put the file back") {
		t.Errorf("moving the grid: %d, %s", status, text)
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
	if err := os.Rename(away, file); err != nil {
		t.Fatal(err)
	}
	if day := get[feedingDay](p, "/api/today"); day.Gone != "" || trayOf(day, 1).Roots.Gone {
		t.Errorf("with the file back the day says %q", day.Gone)
	}
}
