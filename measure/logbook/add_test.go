package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/finding"
)

func fedAt(tray int, when time.Time) Entry {
	return Entry{When: when, Tray: tray, What: Feeding, Product: "seaweed, \"extract\"", AmountML: 2.9719, WaterML: math.NaN(), Note: " late,\n\tit rained\u202e "}
}

// What is added is read back as it was meant, to the second and the hundredth of a millilitre.
func TestAddToLog(t *testing.T) {
	dir, zone := t.TempDir(), time.FixedZone("", 3600)
	when := time.Date(2026, 3, 9, 7, 30, 0, 999, time.UTC)
	for tray := range 2 {
		err := Add(dir, zone, func(log []Entry) ([]Entry, error) {
			if len(log) != tray {
				t.Errorf("%d entries before the %d. was added", len(log), tray+1)
			}
			return []Entry{fedAt(tray, when)}, nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	text, _ := os.ReadFile(filepath.Join(dir, FileName))
	want := Header + "\n2026-03-09T08:30:00+01:00,,feeding,\"seaweed, \"\"extract\"\"\",2.97,,\"late, it rained\"\n" +
		"2026-03-09T08:30:00+01:00,1,feeding,\"seaweed, \"\"extract\"\"\",2.97,,\"late, it rained\"\n"
	if string(text) != want {
		t.Errorf("the log holds\n%s\nwant\n%s", text, want)
	}
	log, findings, err := Load(dir)
	if err != nil || len(findings) > 0 || len(log) != 2 || !log[1].When.Equal(when.Truncate(time.Second)) || log[1].Tray != 1 || log[1].AmountML != 2.97 || !math.IsNaN(log[1].WaterML) {
		t.Errorf("read back: %+v, %v, %v", log, findings, err)
	}
}

// A log whose end would swallow new lines, or that begins with something else, is not added to.
func TestAddToABrokenLog(t *testing.T) {
	for text, say := range map[string]string{
		Header + "\n2026-03-09T08:30:00Z,1,note,,,,\"a lost quote": "quotation mark",
		"date,what\n": "header",
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, FileName)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		err := Add(dir, time.UTC, func([]Entry) ([]Entry, error) { return []Entry{fedAt(1, time.Now())}, nil })
		if err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v, want %q", text, err, say)
		}
		if got, _ := os.ReadFile(path); string(got) != text {
			t.Errorf("the log was changed to %q", got)
		}
	}
}

func TestAddToLogNothing(t *testing.T) {
	dir, no := t.TempDir(), errors.New("fed already")
	if err := Add(dir, time.UTC, func([]Entry) ([]Entry, error) { return nil, no }); !errors.Is(err, no) {
		t.Errorf("%v", err)
	}
	if err := Add(dir, time.UTC, func([]Entry) ([]Entry, error) { return nil, nil }); err != nil {
		t.Errorf("%v", err)
	}
	if log, findings, err := Load(dir); err != nil || len(log)+len(findings) > 0 {
		t.Errorf("%v, %v, %v", log, findings, err)
	}
}

// What a spreadsheet would take for a formula is written with an apostrophe before it and read back without, and by hand it is warned of.
func TestNoFormulaInTheLog(t *testing.T) {
	for _, text := range []string{`=HYPERLINK("http://example.org","x")`, "=cmd|' /C calc'!A0", "+1", "-5 °C at night", "@SUM(1)", "＝1+1", "'=1", "''", "'tis wet", "a=1", " =1", "\t=1"} {
		dir := t.TempDir()
		err := Add(dir, time.UTC, func([]Entry) ([]Entry, error) {
			return []Entry{{When: time.Unix(0, 0), Tray: 1, What: Feeding, Product: text, AmountML: math.NaN(), WaterML: math.NaN(), Note: text}}, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		raw, err := os.ReadFile(filepath.Join(dir, FileName))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range []string{rows[1][3], rows[1][6]} {
			if strings.ContainsAny(cell[:1], "=+-@") || strings.HasPrefix(cell, "＝") {
				t.Errorf("%q is written as %q", text, cell)
			}
		}
		log, findings, err := Load(dir)
		if want := strings.TrimSpace(text); err != nil || len(findings) > 0 || len(log) != 1 || log[0].Product != want || log[0].Note != want {
			t.Errorf("%q is read back as %+v, %v, %v", text, log, findings, err)
		}
	}
	_, findings := Parse([]byte(Header+"\n2026-03-09T08:30:00Z,1,feeding,=1+1,,,\n"), FileName)
	if len(findings) != 1 || finding.HasErrors(findings) || !strings.Contains(findings[0].String(), "formula") {
		t.Errorf("a formula written by hand: %s", list(findings))
	}
}
