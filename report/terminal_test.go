package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"traygauge/report/testtrial"
)

func TestWriteSummary(t *testing.T) {
	var out bytes.Buffer
	if err := WriteSummary(&out, Collect(testtrial.Plan(), testtrial.Readings())); err != nil {
		t.Fatal(err)
	}
	// 10, 20.005, 30, 40: mean 25.00125; each known to ± 5 %, of which all may be in common: 25.0 ± 1.3.
	// On day 17 one of tray 7's four plugs is left.
	want := `
day  tray  treatment   plants  root mm²    leaf mm²     yellow %  brown %  concerns
 10     1  water only  1 of 1              100.0 ± 4.0  80.0
 10     7  base feed   2 of 3  25.0 ± 1.3  395 ± 16     2.25      15.5
 17     7  base feed           60.0 ± 3.0                         1.00     plants gone
`
	if got := "\n" + out.String(); got != want {
		t.Errorf("got%s\nwant%s", got, want)
	}
}

func TestTrayRecords(t *testing.T) {
	text, err := json.Marshal(TrayRecords(Collect(testtrial.Plan(), testtrial.Readings()))[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{`"root_area_mean_mm2":25.001250`, `"chlorotic_mean_u_pct":null`, `"treatment":"base feed"`, `"day":10`} {
		if !strings.Contains(string(text), part) {
			t.Errorf("%s is not in %s", part, text)
		}
	}
}
