package report

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// A doubt that would push a tray's figures stands in photos.csv with the way that it pushes, and flags each of the photo's plugs in plugs.csv. One
// of which no one knows the way stands in photos.csv alone.
func TestADoubtIsInTheTables(t *testing.T) {
	p := &plan.Plan{Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Zone: time.UTC, Tray: plan.TrayShape{Rows: 1, Columns: 1}, Trays: []plan.Tray{{Number: 1, Treatment: "a"}}}
	r := reading.Reading{Photo: "a.jpg", SHA256: strings.Repeat("ab", 32), Taken: p.Sown.Add(345 * time.Hour), TakenFrom: "photo", Tray: 1, View: "roots",
		Plugs: []reading.Plug{{Name: "A1", State: reading.Planted, RootAreaMM2: 50}},
		Concerns: []reading.Concern{{Kind: "scale off", Words: "51.5 mm apart", Remedy: "check the print", Bias: "its areas would be 6 % too large"},
			{Kind: "a little blurred", Words: "keeps 30 %", Remedy: "focus"}}}
	trial := Collect(p, []reading.Reading{r})
	var plugs, photos bytes.Buffer
	if err := WritePlugsCSV(&plugs, trial); err != nil {
		t.Fatal(err)
	}
	if err := WritePhotosCSV(&photos, trial); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(photos.String(), "scale off: its areas would be 6 % too large: 51.5 mm apart: check the print") || !strings.Contains(photos.String(), "a little blurred: keeps 30 %") {
		t.Errorf("photos.csv: %s", photos.String())
	}
	if !strings.Contains(plugs.String(), "scale off") || strings.Contains(plugs.String(), "blurred") {
		t.Errorf("plugs.csv: %s", plugs.String())
	}
}
