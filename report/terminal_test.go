package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

func TestWriteSummary(t *testing.T) {
	var out bytes.Buffer
	if err := WriteSummary(&out, Collect(inventedPlan(), inventedReadings())); err != nil {
		t.Fatal(err)
	}
	// 10, 20.005, 30, 40: mean 25.00125, SD 12.9092, CV 51.63 %; browning 2, 0, 10, 50: median 6.
	want := `
day  tray  treatment   view    stand   root mm²  leaf mm²   CV %  yellow %  brown %  concerns
 10     1  water only  shoots  1 of 1              100.00            80.00
 10     7  base feed   roots   4 of 5     25.00            51.63               6.00
 10     7  base feed   shoots  2 of 3              395.06   5.39      2.25
 17     7  base feed   roots   1 of 1     60.00                                1.00
`
	if got := "\n" + out.String(); got != want {
		t.Errorf("got%s\nwant%s", got, want)
	}
}

func TestTrayRecords(t *testing.T) {
	text, err := json.Marshal(TrayRecords(Collect(inventedPlan(), inventedReadings()))[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{`"root_area_mean_mm2":25.00`, `"leaf_area_mean_mm2":null`, `"treatment":"base feed"`, `"day":10`} {
		if !strings.Contains(string(text), part) {
			t.Errorf("%s is not in %s", part, text)
		}
	}
}

func TestATableShowsNoCommands(t *testing.T) {
	if got := printable("a\x1b[31m\nb\u202egpj.\u0085\xff Grünkohl 芥蓝"); got != "a?[31m?b?gpj.?? Grünkohl 芥蓝" {
		t.Errorf("%q", got)
	}
}
