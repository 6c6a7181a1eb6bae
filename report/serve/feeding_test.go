package serve

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure/logbook"
	"traygauge/vision/card"
)

// fedAt is a feeding as the page sends it: tray 1 gets 1500 mL with 2.97 mL of base feed by the plan.
func fedAt(tray int, minutes int, ml, product float64) feeding {
	f := feeding{Tray: tray, At: today().Add(time.Duration(minutes) * time.Minute), WaterML: &ml, Given: []given{}}
	if product > 0 {
		f.Given = []given{{"base feed", &product}}
	}
	return f
}

func feedingServer(t *testing.T) (*running, *phone) {
	t.Helper()
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	return r, p
}

// enters sends a feeding and returns what is answered.
func (p *phone) enters(f feeding, want int) problem {
	p.t.Helper()
	status, got := post[problem](p, "/api/fed", f)
	if status != want {
		p.t.Errorf("%+v: %d %+v, want %d", f, status, got, want)
	}
	return got
}

// An impossible feeding is refused with a reason, and nothing is entered.
func TestRefusedFeedings(t *testing.T) {
	r, p := feedingServer(t)
	for _, body := range []string{``, `{`, `[]`, `{"tray":1,"colour":"red"}`, `{"tray":1}{}`, `{"tray":99,"at":"2026-03-12T09:00:00Z"}`, `{"tray":1,"at":"2027-03-12T09:00:00Z"}`,
		`{"tray":1,"at":"2026-03-12T09:00:00Z","water_ml":-1}`, `{"tray":1,"at":"2026-03-12T09:00:00Z","given":[{"product":" ","ml":1}]}`,
		`{"tray":1,"at":"2026-03-12T09:00:00Z","given":[{"product":"=HYPERLINK(\"http://example.org\",\"x\")","ml":1}]}`,
		`{"tray":1,"at":"2026-03-12T09:00:00Z","given":[{"product":"another shop's feed","ml":1}]}`,
		strings.Repeat("[", 10_000), `{"tray":1,"note":"` + strings.Repeat("x", 64<<10) + `"}`, `{"tray":1e99}`, `{"tray":1,"at":"2026-03-12T09:00:00Z","note":"` + strings.Repeat("x", mostNote+1) + `"}`} {
		if status, got := p.ask("POST", "/api/fed", []byte(body)); status != 400 || !strings.Contains(got, "problem") {
			t.Errorf("a feeding of %s: %d %s", body, status, got)
		}
	}
	for _, body := range []string{`{"tray":1,"at":"2026-03-12T09:00:00Z"}`, `{"tray":"1"}`} {
		if status, got := p.ask("POST", "/api/withdraw", []byte(body)); status != 400 {
			t.Errorf("withdrawn %s: %d %s", body, status, got)
		}
	}
	if log := logOf(t, r.dir); log != "" {
		t.Errorf("the log holds\n%s", log)
	}
}

// Sent twice, a feeding is entered once; a second one on a day asks whether it is meant.
func TestAFeedingIsEnteredOnce(t *testing.T) {
	r, p := feedingServer(t)
	for range 2 {
		p.enters(fedAt(1, 0, 1500, 2.97), 200)
	}
	if log := logOf(t, r.dir); log != "2026-03-12T09:40:00Z,1,feeding,base feed,2.97,1500," {
		t.Errorf("the log holds\n%s", log)
	}
	again := fedAt(1, 3, 1500, 2.97)
	if got := p.enters(again, 409); got.Ask != "more" || got.Problem != "tray 1 was already fed on that day, at 09:40 (1500 mL in total, 2.97 mL base feed)" {
		t.Errorf("%+v", got)
	}
	again.More = true
	p.enters(again, 200)
	if fed := trayOf(get[feedingDay](p, "/api/today"), 1).Fed; len(fed) != 2 || fed[1].Clock != "09:43" {
		t.Errorf("%+v", fed)
	}
}

// Two phones that record a feeding of one tray in the same second are separated by their amounts: the second one hears that its entry was
// not saved.
func TestTwoPhonesInTheSameSecond(t *testing.T) {
	r, p := feedingServer(t)
	p.enters(fedAt(1, 0, 1500, 2.97), 200)
	if got := p.enters(fedAt(1, 0, 1500, 2.5), 400); !strings.Contains(got.Problem, "another phone recorded a feeding of tray 1 at the same moment, with other amounts") {
		t.Errorf("%+v", got)
	}
	p.enters(fedAt(2, 0, 1500, 0), 200)
	moved := fedAt(1, 0, 1500, 2.97) // it was tray 2 that got this
	moved.Tray, moved.Instead = 2, &feedingKey{1, moved.At}
	if got := p.enters(moved, 400); !strings.Contains(got.Problem, "tray 2 at the same moment") {
		t.Errorf("%+v", got)
	}
	if log := logOf(t, r.dir); log != "2026-03-12T09:40:00Z,1,feeding,base feed,2.97,1500,\n2026-03-12T09:40:00Z,2,feeding,,,1500," {
		t.Errorf("the log holds\n%s", log)
	}
}

// An amount with a digit too many, or too few, is asked about first.
func TestTenTimesAsMuch(t *testing.T) {
	r, p := feedingServer(t)
	for name, c := range map[string]struct {
		f   feeding
		say string
	}{
		"ten times the mix":         {fedAt(1, 0, 15000, 29.7), "15000 mL for tray 1 is 10 times the 1500 mL in the plan"},
		"a tenth":                   {fedAt(1, 0, 150, 0.3), "150 mL for tray 1 is only 0.1 times the 1500 mL in the plan"},
		"ten times the product":     {fedAt(1, 0, 1500, 29.7), "29.7 mL base feed for tray 1 is 10 times the 2.97 mL in the plan"},
		"a product with less water": {fedAt(1, 0, 1000, 29.7), "29.7 mL base feed for tray 1 is 15 times the 1.98 mL in the plan"}, // 1.981 · 1.0 L
		"ten times the water":       {fedAt(2, 0, 15000, 0), "15000 mL for tray 2 is 10 times"},
	} {
		if got := p.enters(c.f, 409); got.Ask != "amount" || !strings.Contains(got.Problem, c.say) {
			t.Errorf("%s: %+v, want %q", name, got, c.say)
		}
	}
	if log := logOf(t, r.dir); log != "" {
		t.Errorf("the log holds\n%s", log)
	}
	for _, f := range []feeding{fedAt(3, 0, 1200, 2.4), fedAt(4, 0, 2000, 0), fedAt(5, 0, 0, 0)} { // more or less as planned, or nothing
		p.enters(f, 200)
	}
	meant := fedAt(1, 0, 15000, 29.7)
	meant.Sure = true
	p.enters(meant, 200)
	if log := logOf(t, r.dir); !strings.Contains(log, "1,feeding,base feed,29.7,15000,") {
		t.Errorf("the log holds\n%s", log)
	}
}

// A feeding entered with a wrong amount, for a wrong tray, or not given at all is corrected; the log keeps every line, says when and on
// which phone, and nothing is in it twice however often it is sent.
func TestFeedingsArePutRight(t *testing.T) {
	r, p := feedingServer(t)
	first := fedAt(1, 0, 1500, 2.97)
	p.enters(first, 200)

	amount := fedAt(1, 0, 1200, 2.38)
	amount.Instead, amount.Why, amount.More = &feedingKey{1, first.At}, "=it ran over", true
	for range 2 {
		p.enters(amount, 200)
	}
	want := "2026-03-12T09:40:00Z,1,feeding,base feed,2.97,1500,\n" +
		"2026-03-12T09:40:00Z,1,withdrawn,,,,\"'=it ran over; 2026-03-12 09:40, Computer\"\n" +
		"2026-03-12T09:40:00Z,1,feeding,base feed,2.38,1200,"
	if log := logOf(t, r.dir); log != want {
		t.Fatalf("the log holds\n%s\nwant\n%s", log, want)
	}

	tray := fedAt(3, 0, 1200, 2.38)
	tray.Instead, tray.Why, tray.More = &feedingKey{1, first.At}, "wrong tray tapped", true
	for range 2 {
		p.enters(tray, 200)
	}
	d := get[feedingDay](p, "/api/today")
	if one, three := trayOf(d, 1), trayOf(d, 3); len(one.Fed) != 0 || !one.Due || len(one.Withdrawn) != 2 || len(three.Fed) != 1 || three.Due || three.Fed[0].Words != "1200 mL in total, 2.38 mL base feed" {
		t.Errorf("tray 1 %+v, tray 3 %+v", one, three)
	}

	for range 2 {
		if status, got := post[map[string]any](p, "/api/withdraw", map[string]any{"tray": 3, "at": first.At, "why": ""}); status != 200 {
			t.Errorf("%d %v", status, got)
		}
	}
	d = get[feedingDay](p, "/api/today")
	if three := trayOf(d, 3); len(three.Fed) != 0 || !three.Due || len(three.Withdrawn) != 1 || three.Withdrawn[0].Words != "Withdrawn: fed at 09:40; 2026-03-12 09:40, Computer" {
		t.Errorf("%+v", three)
	}
	p.enters(first, 200) // the phone sends the first one once more: it does not come back
	lines, findings, err := logbook.LoadLines(r.dir)
	if err != nil || len(findings) > 0 || len(lines) != 6 || len(logbook.Standing(lines)) != 0 {
		t.Errorf("%d lines, %d stand, %v, %v\n%s", len(lines), len(logbook.Standing(lines)), findings, err, logOf(t, r.dir))
	}
	late := fedAt(1, 0, 1300, 2.6)
	late.Instead = &feedingKey{1, first.At}
	if got := p.enters(late, 400); !strings.Contains(got.Problem, "changed or withdrawn on another phone") {
		t.Errorf("%+v", got)
	}
}

// A feeding that someone wrote into the log for all trays is shown, and is not changed tray by tray.
func TestAFeedingForAllTrays(t *testing.T) {
	r, p := feedingServer(t)
	err := logbook.Add(r.dir, time.UTC, func([]logbook.Entry) ([]logbook.Entry, error) {
		return []logbook.Entry{{When: today().Add(-time.Hour), What: logbook.Feeding, AmountML: math.NaN(), WaterML: 1000}}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, tray := range get[feedingDay](p, "/api/today").Trays {
		if len(tray.Fed) != 1 || !tray.Fed[0].ForAll || tray.Due {
			t.Errorf("%+v", tray)
		}
	}
	if status, got := post[problem](p, "/api/withdraw", map[string]any{"tray": 3, "at": today().Add(-time.Hour)}); status != 400 {
		t.Errorf("%d %+v", status, got)
	}
}

// Doses are shown in the plan's own unit.
func TestDosesAsThePlanWritesThem(t *testing.T) {
	_, p := feedingServer(t)
	d := get[feedingDay](p, "/api/today")
	tray := trayOf(d, 1)
	if len(tray.Gets) != 1 || tray.Gets[0].Written != "7.5 mL/gal (2.0 mL/L)" || math.Abs(tray.Gets[0].ML-2.97194) > 1e-5 { // 7.5 / 3.785412 · 1.5
		t.Errorf("%+v", tray.Gets)
	}
	i := slices.IndexFunc(d.Mixes, func(m mixToday) bool { return m.Treatment == "base feed" })
	if i < 0 || d.Mixes[i].Doses[0].Written != "7.5 mL/gal (2.0 mL/L)" || d.Mixes[i].TotalML != 6000 {
		t.Errorf("%+v", d.Mixes)
	}
}

// Eight phones send all at once, each its own tray, its feeding, and each feeding twice. Nothing is lost and nothing is there twice.
func TestEightPhonesAtOnce(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	var phones []*phone
	for range 8 {
		phones = append(phones, letInto(r))
	}
	same := photoOf(t, card.Roots, 1)
	var all sync.WaitGroup
	for i, p := range phones {
		photo := append(slices.Clone(same), byte(i)) // bytes behind a JPEG's end are none of the picture
		all.Go(func() {
			for range 50 { // as the page does: again, while the server is busy
				status, text := p.put(photo, shaOf(photo), len(photo), 0, fmt.Sprintf("&tray=%d&view=roots", i+1))
				if status == 200 {
					break
				}
				if status != 503 {
					t.Errorf("phone %d: %d %s", i, status, text)
				}
				time.Sleep(20 * time.Millisecond)
			}
			for range 2 {
				p.enters(fedAt(i+1, -10, 1500, 0), 200)
			}
		})
	}
	all.Wait()
	if names := photosIn(t, r.dir); len(names) != 8 {
		t.Errorf("%d photos: %v", len(names), names)
	}
	log, findings, err := logbook.Load(r.dir)
	if err != nil || len(findings) > 0 || len(log) != 8 {
		t.Errorf("%d lines in the log, %v, %v", len(log), findings, err)
	}
	d := get[feedingDay](phones[0], "/api/today")
	if len(d.Trays) != 8 || d.Trays[0].Tray != 8 || strings.Contains(strings.Join(d.Missing, "; "), "feeding") {
		t.Errorf("%+v", d)
	}
}
