package report

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
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
 10     7  base feed   roots   4 of 6     25.00            51.63               6.00
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

func TestReadReadings(t *testing.T) {
	dir := t.TempDir()
	good, err := json.Marshal(inventedReadings()[3])
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"a.json": string(good), "b.json": string(good[:len(good)/2]), "c.json": "{}", "d.json": "", "notes.txt": "x", ".e.json": "half",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "f.json"), 0o755); err != nil {
		t.Fatal(err)
	}
	readings, broken, err := ReadReadings(dir)
	if err != nil || len(readings) != 1 || readings[0].Photo != "day10/b.jpg" || readings[0].Plugs[3].RootAreaMM2.Known() {
		t.Errorf("read %+v (%v)", readings, err)
	}
	if len(broken) != 4 {
		t.Fatalf("broken: %v", broken)
	}
	for i, name := range []string{"b.json", "c.json", "d.json", "f.json"} {
		if words := broken[i].Error(); strings.Count(words, name) != 1 || !strings.HasSuffix(words, ": delete it and run measure again") {
			t.Errorf("%s: %s", name, words)
		}
	}
	if readings, broken, err := ReadReadings(filepath.Join(dir, "gone")); len(readings)+len(broken) != 0 || err != nil {
		t.Errorf("a folder that is not there gave %v %v %v", readings, broken, err)
	}
}
