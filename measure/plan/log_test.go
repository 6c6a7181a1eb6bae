package plan

import (
	"math"
	"strings"
	"testing"
	"time"
)

func TestParseLog(t *testing.T) {
	const text = LogHeader + `
2026-03-09T08:30:00+01:00,7,feeding,seaweed extract,3,1500,"slow, to the last drop"
2026-03-09T09:00:00+01:00,,Lamp,,,,raised by a hand
yesterday,7,feeding,,,,
2026-03-09T09:00:00+01:00,241,feeding,,,,
2026-03-09T09:00:00+01:00,1,feeding,,-3,,
2026-03-09T09:00:00+01:00,1,feeding
`
	entries, findings := ParseLog([]byte(text), LogName)
	if len(entries) != 2 {
		t.Fatalf("%d entries: %+v", len(entries), entries)
	}
	e := entries[0]
	if !e.When.Equal(time.Date(2026, 3, 9, 7, 30, 0, 0, time.UTC)) || e.Tray != 7 || e.What != Feeding || e.AmountML != 3 || e.WaterML != 1500 ||
		e.Note != "slow, to the last drop" || e.Line != 2 {
		t.Errorf("%+v", e)
	}
	if e := entries[1]; e.Tray != 0 || e.What != "lamp" || !math.IsNaN(e.AmountML) || !math.IsNaN(e.WaterML) {
		t.Errorf("what was not written down has to be missing: %+v", e)
	}
	for i, want := range []string{
		`log.csv:4: error: "yesterday" is not a time`, `log.csv:5: error: "241" is not a tray`, `log.csv:6: error: amount_ml "-3"`, `log.csv:7: error: this line has 3 columns instead of 7`,
	} {
		if i >= len(findings) || !strings.HasPrefix(findings[i].String(), want) {
			t.Errorf("want %s; found\n%s", want, list(findings))
		}
	}
}

func TestParseLogHeader(t *testing.T) {
	for text, faulty := range map[string]bool{"": false, LogHeader: false, "\ufeff" + LogHeader + "\r\n": false, "when,tray\n": true, "\xff": true, LogHeader + "\n\"open": true} {
		if _, findings := ParseLog([]byte(text), LogName); HasErrors(findings) != faulty {
			t.Errorf("%q: %s", text, list(findings))
		}
	}
}

func TestLogFits(t *testing.T) {
	p := sownIn(t, "UTC", 2026, 3, 2)
	p.Trays = []Tray{{Number: 1}}
	findings := p.LogFits([]Entry{{When: p.Sown, Tray: 1, Line: 2}, {When: p.Sown, Tray: 2, Line: 3}, {When: p.Sown.Add(-time.Hour), Line: 4}}, LogName)
	if len(findings) != 2 || findings[0].Line != 3 || findings[1].Line != 4 {
		t.Errorf("%s", list(findings))
	}
}

func FuzzParseLog(f *testing.F) {
	f.Add([]byte(LogHeader + "\n2026-03-09T08:30:00+01:00,7,feeding,seaweed extract,3,1500,\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		entries, _ := ParseLog(text, LogName)
		for _, e := range entries {
			if e.Line < 2 || e.Tray < 0 || e.Tray > MaxTray || e.AmountML < 0 || math.IsInf(e.WaterML, 0) {
				t.Fatalf("%+v", e)
			}
		}
	})
}
