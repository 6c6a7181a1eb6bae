package checks

import (
	"strings"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/synth"
)

// photoOf is a usable reading of one tray of the invented plan, which reviews trays 1 to 10 on days 7, 14 and 21.
func photoOf(t *testing.T, name string, tray, day int, view reading.View) reading.Reading {
	p := testtray.WholePlan(t)
	return reading.Reading{Photo: name, Tray: tray, View: view, TakenFrom: "photo", Taken: p.DateOf(day).Add(9 * time.Hour)}
}

func TestAcrossTrial(t *testing.T) {
	all := func(day int) (readings []reading.Reading) {
		for tray := 1; tray <= 10; tray++ {
			for _, view := range reading.Views {
				readings = append(readings, photoOf(t, string(view), tray, day, view))
			}
		}
		return readings
	}
	noDate := photoOf(t, "x", 1, 7, "roots")
	noDate.TakenFrom = "file"
	refused := reading.Reading{Photo: "dark", Concerns: []reading.Concern{{Kind: "dark", Fatal: true}}}
	for _, c := range []struct {
		what     string
		readings []reading.Reading
		want     []string // the concerns' kinds and a piece of their words
	}{
		{"nothing yet", nil, nil},
		{"a whole review day", all(7), nil},
		{"a photo that was refused counts for nothing", append(all(7), refused), nil},
		{"no tag", append(all(7), photoOf(t, "x", 0, 7, "roots")), []string{"no tag: without a tag"}},
		{"a tray of another trial", append(all(7), photoOf(t, "x", 77, 7, "roots")), []string{"tray not in plan: tray 77"}},
		{"a tray twice", append(all(7), photoOf(t, "x", 3, 7, "shoots")), []string{"tray twice: tray 3 was photographed 2 times on day 7 (shoots); shoots is used, because it is the newest"}},
		{"a view missing", all(7)[:19], []string{"view missing: day 7 has no photo of the leaves of tray 10"}},
		{"views missing", all(7)[4:], []string{"view missing: roots of trays 1 and 2", "view missing: leaves of trays 1 and 2"}},
		{"a review left out", append(all(7), all(21)...), []string{"review missing: review day 14"}},
		{"a day late", append(all(7), photoOf(t, "x", 1, 8, "roots")), []string{"date not in plan: 1 photo was taken on day 8 (2026-03-10)"}},
		{"before sowing", append(all(7), photoOf(t, "x", 1, -3, "roots")), []string{"date not in plan: 2026-02-27, 3 days before sowing"}},
		{"no date", append(all(7)[1:], noDate), []string{"no date: 1 photo does not record when"}},
	} {
		got := AcrossTrial(testtray.WholePlan(t), c.readings)
		if len(got) != len(c.want) {
			t.Errorf("%s: %d concerns, want %d: %+v", c.what, len(got), len(c.want), got)
			continue
		}
		for i, want := range c.want {
			kind, words, _ := strings.Cut(want, ": ")
			if string(got[i].Kind) != kind || !strings.Contains(got[i].Words, words) || got[i].Remedy == "" {
				t.Errorf("%s: %+v, want %q", c.what, got[i], want)
			}
		}
	}
}

// 98.5 mm. Two photos, or one of three that is right, say nothing.
func TestADaysPhotosTogetherTellThePrint(t *testing.T) {
	p := testtray.Plan(synth.Tray12, 0)
	photos := func(ratios ...float64) (all []reading.Reading) {
		for i, ratio := range ratios {
			r := photoOf(t, string(rune('a'+i)), i+1, 14, "roots")
			r.PitchRatio = reading.Number(ratio)
			all = append(all, r)
		}
		return all
	}
	got := printOff(p, photos(1.012, 1.013, 1.02))
	if len(got) != 1 || len(got[0].Photos) != 3 || !strings.Contains(got[0].Words, "1.5 %") || !strings.Contains(got[0].Remedy, "98.5") {
		t.Errorf("three photos: %+v", got)
	}
	for _, ratios := range [][]float64{{1.012, 1.02}, {1.012, 1.02, 1}, {1.012, 1.02, 0.985}, {1.002, 1.003, 1.004}} {
		if got := printOff(p, photos(ratios...)); len(got) > 0 {
			t.Errorf("%v: %+v", ratios, got)
		}
	}
}
