package serve

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/correct"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// shot returns the bytes of a photo of a scene, taken at a time.
func shot(t *testing.T, s synth.Spec, at time.Time) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "photo.jpg")
	taken(t, file, picture(t, s), at)
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// day3 is an earlier review day of feedingTrial.
func day3() time.Time { return today().AddDate(0, 0, -7) }

func trayOf(d feedingDay, tray int) trayToday {
	return d.Trays[slices.IndexFunc(d.Trays, func(t trayToday) bool { return t.Tray == tray })]
}

// A photo of the other side is good, but is not what was asked for: that is said first, what was asked for stays missing, and the file
// is called by what it shows.
func TestTheWrongSide(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	v := p.verdict(p.send(photoOf(t, card.Shoots, 6), 6, "roots"), 6, "roots")
	if v.Tone != "ask" || v.Large != "These are the leaves." || v.Missed != "The roots of tray 6 are still missing." || v.Verdict != "good" || len(v.Questions) > 0 {
		t.Errorf("%s: %s", v.Tone, v.words())
	}
	if names := photosIn(t, r.dir); len(names) != 1 || !strings.HasPrefix(names[0], "day-10/tray-06-shoots-") {
		t.Errorf("stored as %v", names)
	}
	d := get[feedingDay](p, "/api/today")
	if tray := trayOf(d, 6); tray.Roots != nil || tray.Shoots == nil || len(d.Open) > 0 || d.Missing[0] != "photos of roots: all 8 trays" {
		t.Errorf("%+v, missing %v", tray, d.Missing)
	}
	if again := p.verdict(strings.Replace(v.Photo, "shoots", "roots", 1), 6, "roots"); again.Photo != v.Photo {
		t.Errorf("by its name of before it is %+v", again)
	}
}

// A tag against the button that was tapped is a question with both trays to choose from; until it is answered the photo is of neither.
func TestTheWrongTray(t *testing.T) {
	for _, c := range []struct {
		is          int
		name        string
		corrections int
		missed      string
	}{
		{2, "day-10/tray-02-shoots-", 1, ""},
		{7, "day-10/tray-07-shoots-", 0, "The leaves of tray 2 are still missing."},
	} {
		t.Run(fmt.Sprint("it is tray ", c.is), func(t *testing.T) {
			r := serveTrial(t, trialWith(t, feedingTrial), nil)
			p := newPhone(t, r.url())
			p.load("/")
			v := p.verdict(p.send(photoOf(t, card.Shoots, 7), 2, "shoots"), 2, "shoots")
			if v.Tone != "ask" || len(v.Questions) != 1 || v.Questions[0].Words != "It was sent for tray 2. The tag in the photo says tray 7." ||
				len(v.Questions[0].Choices) != 2 || v.Missed == "" || strings.Contains(v.words(), "--") {
				t.Fatalf("%s: %s", v.Tone, v.words())
			}
			d := get[feedingDay](p, "/api/today")
			if trayOf(d, 7).Shoots != nil || trayOf(d, 2).Shoots != nil || len(d.Open) != 1 {
				t.Errorf("before it is settled it counts for tray 7: %+v, for tray 2: %+v; to settle: %+v", trayOf(d, 7).Shoots, trayOf(d, 2).Shoots, d.Open)
			}
			for range 2 { // the answer to the first may be lost
				status, said := post[judged](p, "/api/settle", settling{ID: v.ID, Tray: c.is, AskedTray: 2, AskedView: "shoots"})
				if status == http.StatusNotFound {
					break // it has another name since
				}
				if status != 200 || said.Tray != c.is || len(said.Questions) > 0 || said.Missed != c.missed {
					t.Fatalf("%d: %s", status, said.words())
				}
			}
			names := photosIn(t, r.dir)
			made, err := correct.Load(r.dir)
			if len(names) != 1 || !strings.HasPrefix(names[0], c.name) || err != nil || len(made.Made) != c.corrections {
				t.Errorf("stored as %v, corrections %+v, %v", names, made.Made, err)
			}
			if c.corrections > 0 && (made.Made[0].What != correct.Tray || made.Made[0].Number != 2 || made.Made[0].Who != "Computer" || !strings.Contains(made.Made[0].Why, "The tag in the photo says tray 7")) {
				t.Errorf("%+v", made.Made[0])
			}
			d = get[feedingDay](p, "/api/today")
			if trayOf(d, c.is).Shoots == nil || trayOf(d, 9-c.is).Shoots != nil || len(d.Open) > 0 {
				t.Errorf("settled: %+v", d)
			}
		})
	}
}

// A photo of another day is not filed without a word.
func TestTheWrongDay(t *testing.T) {
	for _, c := range []struct {
		is          int
		name        string
		corrections int
	}{{3, "day-03/photo-", 0}, {10, "day-10/photo-", 1}} {
		t.Run(fmt.Sprint("it is of day ", c.is), func(t *testing.T) {
			r := serveTrial(t, trialWith(t, feedingTrial), nil)
			p := newPhone(t, r.url())
			p.load("/")
			v := p.verdict(p.send(shot(t, smallSpec(card.Roots, 8), day3()), 0, ""), 0, "")
			if v.Tone != "ask" || len(v.Questions) != 1 || v.Large != "This photo is from day 3." || v.Questions[0].Choices[0].Label != "Keep it under day 3" {
				t.Fatalf("%s: %s", v.Tone, v.words())
			}
			if d := get[feedingDay](p, "/api/today"); len(d.Open) != 1 || !strings.Contains(d.Open[0].Words, "day 3") {
				t.Errorf("to settle: %+v", d.Open)
			}
			status, said := post[judged](p, "/api/settle", settling{ID: v.ID, Day: &c.is})
			if status != 200 || len(said.Questions) > 0 {
				t.Fatalf("%d: %s", status, said.words())
			}
			names := photosIn(t, r.dir)
			made, _ := correct.Load(r.dir)
			if len(names) != 1 || !strings.HasPrefix(names[0], c.name) || len(made.Made) != c.corrections {
				t.Errorf("stored as %v, corrections %+v", names, made.Made)
			}
			d := get[feedingDay](p, "/api/today")
			if (trayOf(d, 8).Roots != nil) != (c.is == 10) || len(d.Open) > 0 {
				t.Errorf("%+v, to settle %+v", trayOf(d, 8), d.Open)
			}
			// Whoever chooses that photo for today's tray once more reads why it is not today's.
			if v := p.verdict(names[0], 8, "roots"); c.is == 3 && (v.Large != "Saved under day 3." || !slices.ContainsFunc(v.Reasons, func(r reason) bool { return strings.Contains(r.Words, "the photo is dated day 3 (") })) {
				t.Errorf("%s: reasons %+v", v.words(), v.Reasons)
			}
		})
	}
}

// Wrong tray, wrong side and wrong day at once: what was asked for is still missing, and each of the others is asked.
func TestAllWrongAtOnce(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	v := p.verdict(p.send(shot(t, smallSpec(card.Roots, 2), day3()), 5, "shoots"), 5, "shoots")
	if v.Missed != "The leaves of tray 5 are still missing." || len(v.Questions) != 2 || v.Questions[0].About != "tray" || v.Questions[1].About != "day" {
		t.Fatalf("%s", v.words())
	}
	_, v = post[judged](p, "/api/settle", settling{ID: v.ID, Tray: 2, AskedTray: 5, AskedView: "shoots"})
	if len(v.Questions) != 1 || v.Questions[0].About != "day" {
		t.Fatalf("%s", v.words())
	}
	three := 3
	_, v = post[judged](p, "/api/settle", settling{ID: v.ID, Day: &three, AskedTray: 5, AskedView: "shoots"})
	if len(v.Questions) != 0 || v.Missed != "The leaves of tray 5 are still missing." {
		t.Fatalf("%s", v.words())
	}
	if names := photosIn(t, r.dir); len(names) != 1 || !strings.HasPrefix(names[0], "day-03/tray-02-roots-") {
		t.Errorf("stored as %v", names)
	}
	if d := get[feedingDay](p, "/api/today"); len(d.Missing) == 0 || d.Missing[1] != "photos of leaves: all 8 trays" {
		t.Errorf("missing %v", d.Missing)
	}
}

// A photo without a tag is given its tray by a tap; of a button that was tapped it takes that tray.
func TestNoTag(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	s := smallSpec(card.Roots, 4)
	s.Number = 0 // no tag
	v := p.verdict(p.send(shot(t, s, today()), 0, ""), 0, "")
	if v.Large != "Which tray is it?" || len(v.Questions) != 1 || len(v.Questions[0].Choices) != 8 || strings.Contains(v.words(), "--") {
		t.Fatalf("%s", v.words())
	}
	status, said := post[judged](p, "/api/settle", settling{ID: v.ID, Tray: 4})
	if status != 200 || said.Tray != 4 || len(said.Questions) > 0 {
		t.Errorf("%d: %s", status, said.words())
	}
	if status, got := post[problem](p, "/api/settle", settling{ID: said.ID, Tray: 99}); status != 400 || !strings.Contains(got.Problem, "no tray 99") {
		t.Errorf("a tray that is not there: %d %s", status, got.Problem)
	}
	if tray := trayOf(get[feedingDay](p, "/api/today"), 4); tray.Roots == nil {
		t.Errorf("%+v", tray)
	}
	s.Seed++
	if v := p.verdict(p.send(shot(t, s, today()), 3, "roots"), 3, "roots"); v.Tray != 3 || len(v.Questions) > 0 || v.Tone == "ask" {
		t.Errorf("taken for tray 3: %s", v.words())
	}
}

// A photo that is left out counts nowhere and asks nothing more.
func TestLeftOut(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	v := p.verdict(p.send(photoOf(t, card.Shoots, 7), 2, "shoots"), 2, "shoots")
	status, said := post[judged](p, "/api/settle", settling{ID: v.ID, LeaveOut: true, AskedTray: 2, AskedView: "shoots"})
	if status != 200 || said.Verdict != "excluded" || len(said.Questions) > 0 {
		t.Errorf("%d: %s", status, said.words())
	}
	if d := get[feedingDay](p, "/api/today"); len(d.Open) > 0 || trayOf(d, 7).Shoots.counts() {
		t.Errorf("%+v", d)
	}
}

// What takes a command line is no remedy for someone with a phone.
func TestPhonesHearOfNoCommandLine(t *testing.T) {
	for remedy, want := range map[string]string{
		"hold the phone still": "hold the phone still",
		"put the tray’s tag face up beside the card and take the photo again; or set the tray with --assign": "put the tray’s tag face up beside the card and take the photo again",
		"run `traygauge measure` again":                                        "",
		"tap on the card to focus; the photo is usable, with wider error bars": "tap on the card to focus",
	} {
		if got := forPages(remedy); got != want {
			t.Errorf("%q becomes %q", remedy, got)
		}
	}
	for _, file := range []string{"today.html", "today.js", "sheet.js", "feeding.js", "batch.js", "sender.js", "enter.html", "refused.html", "review.js", "review.html"} {
		text, err := os.ReadFile("web/pages/" + file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "--assign") || strings.Contains(string(text), "command line") {
			t.Errorf("%s speaks of the command line", file)
		}
	}
}
