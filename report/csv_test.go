package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// settledHeader is what scripts outside the program depend on.
const settledHeader = "photo,taken,day,tray,treatment,side,plug,state,root_area_mm2,root_area_u_mm2,root_cover_pct," +
	"root_length_mm,root_browning_pct,plug_area_mm2,leaf_area_mm2,leaf_area_u_mm2,chlorotic_pct,leaf_hue_deg,dgci," +
	"root_length_u_mm,root_browning_u_pct,plug_area_u_mm2,chlorotic_u_pct,leaf_hue_u_deg,dgci_u,remarks"

func TestPlugsCSV(t *testing.T) {
	lines := strings.Split(plugsCSV(t, Collect(testtrial.Plan(), testtrial.Readings())), "\n")
	want := map[int]string{
		0: settledHeader,
		1: "day10/d.jpg,2026-03-12T09:30:00+01:00,10,1,water only,leaves,A1,planted,,,,,,,100.00,4.00,80.00,121.3,0.555,,,,,,,",
		2: "day10/a.jpg,2026-03-12T09:00:00+01:00,10,7,base feed,roots,A1,planted,99.00,4.95,22.00,198.00,0.00,450.00,,,,,,,,,,,,spare photo",
		5: "day10/b.jpg,2026-03-12T08:00:00+01:00,10,7,base feed,roots,A3,empty,,,,,,,,,,,,,,,,,,",
	}
	for i, line := range want {
		if lines[i] != line {
			t.Errorf("line %d is %s\nwant      %s", i+1, lines[i], line)
		}
	}
}

func TestPlugsCSVLeavesBlankWhatAViewDoesNotMeasure(t *testing.T) {
	zeros := testtrial.Reading("a.jpg", 1, "shoots", testtrial.Taken(10, 9, 0), reading.Plug{Name: "A1", State: reading.Planted})
	line := strings.Split(plugsCSV(t, Collect(testtrial.Plan(), []reading.Reading{zeros})), "\n")[1]
	if !strings.HasSuffix(line, ",A1,planted,,,,,,,0.00,0.00,0.00,0.0,0.000,,,,,,,") {
		t.Errorf("line is %s", line)
	}
}

func TestCSVNeutralisesFormulasInTextOnly(t *testing.T) {
	p := testtrial.Plan()
	p.Trays[0].Treatment = "@treatment"
	r := testtrial.Reading("=cmd.jpg", 1, "roots", testtrial.Taken(-1, 9, 0), testtrial.RootPlug("A1", 1, 0))
	r.Plugs[0].Flags = []string{"-flag"}
	rows, err := csv.NewReader(strings.NewReader(plugsCSV(t, Collect(p, []reading.Reading{r})))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for column, want := range map[int]string{0: "'=cmd.jpg", 2: "-1", 4: "'@treatment", 25: "'-flag"} {
		if rows[1][column] != want {
			t.Errorf("%s is %q, want %q", rows[0][column], rows[1][column], want)
		}
	}
}

// The signs that spreadsheets take for the beginning of a formula, as collected under "CSV injection" (common practice, no
// single source), and what must stay as it is.
func TestTextThatASpreadsheetWouldRun(t *testing.T) {
	for text, want := range map[string]string{
		`=HYPERLINK("http://x","y")`: `'=HYPERLINK("http://x","y")`, "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1",
		"\r=1": "'\r=1", "\n=1": "'\n=1", "＝1": "'＝1", "＠1": "'＠1",
		"": "", "a=b.jpg": "a=b.jpg", "day-7/x.jpg": "day-7/x.jpg", "'=1": "'=1", "\xff.jpg": "\ufffd.jpg",
	} {
		if got := plainText(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func TestTraysCSV(t *testing.T) {
	var out bytes.Buffer
	if err := WriteTraysCSV(&out, Collect(testtrial.Plan(), testtrial.Readings())); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4 {
		t.Fatalf("%d rows, want a header and 3 trays", len(rows))
	}
	want := map[string]string{
		"day": "10", "tray": "7", "position": "1", "roots_photo": "day10/b.jpg", "leaves_photo": "day10/c.jpg", "plugs_n": "3", "plants_n": "2", "stand_pct": "66.6667",
		"leaf_area_mean_mm2": "395.064000", // (410.128 + 380)/2
		"leaf_area_n":        "2", "leaf_area_sum_mm2": "790.13", "root_area_mean_mm2": "25.001250", "root_area_n": "4", "canopy_cover_pct": "12.345600",
		"chlorotic_mean_pct": "2.250000", "root_browning_mean_pct": "15.500000",
	}
	shoots := rows[2]
	for i, name := range rows[0] {
		if value, ok := want[name]; ok && shoots[i] != value {
			t.Errorf("%s is %q, want %q", name, shoots[i], value)
		}
	}
}

func plugsCSV(t *testing.T, trial *Trial) string {
	t.Helper()
	var out bytes.Buffer
	if err := WritePlugsCSV(&out, trial); err != nil {
		t.Fatal(err)
	}
	return out.String()
}
