package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// photoFolder is trialFolder with photos for its readings. They hold no picture: to correct one its bytes are enough.
func photoFolder(t *testing.T) (dir string) {
	t.Helper()
	dir = trialFolder(t)
	for _, name := range []string{"a/one.jpg", "b/one.jpg", "two.jpg"} {
		path := filepath.Join(dir, "photos", name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestCorrectAndUndo(t *testing.T) {
	dir := photoFolder(t)
	t.Setenv("USER", "ben")
	for _, c := range []struct {
		args string
		code int
		out  string
		errs string
	}{
		{"list DIR", exitOK, "", "Nothing was corrected."},
		{"exclude DIR two.jpg A1 A2 --why slugs --who Ana", exitOK, "1: two.jpg: plug A1 excluded: slugs (Ana, 20", ""},
		{"exclude DIR two.jpg A1 --why slugs --who Ben", exitOK, "", "two.jpg is already corrected that way: plug A1 excluded, correction 1 by Ana"},
		{"empty DIR two.jpg A1 --why algae", exitOK, "3: two.jpg: plug A1 marked empty: algae (ben, 20", ""},
		{"planted DIR a/one.jpg A1 --why hidden", exitOK, "4: a/one.jpg: plug A1 marked planted: hidden (ben", ""},
		{"exclude DIR b/one.jpg --why bench", exitOK, "5: b/one.jpg: photo excluded: bench", ""},
		{"undo DIR 3 --why wrong", exitOK, "6: correction 3 undone: wrong (ben", ""},
		{"list DIR", exitOK, "3: two.jpg: plug A1 marked empty: algae (ben, ", ""},

		{"undo DIR 3 --why wrong", exitFailed, "", "correction 3 has already been undone, by correction 6"},
		{"undo DIR 9 --why wrong", exitFailed, "", "there is no correction 9 to undo: there are 1, 2, 4, 5"},
		{"undo DIR three --why wrong", exitUsage, "", `"three" is not the number of a correction`},
		{"exclude DIR two.jpg C7 --why slugs", exitFailed, "", `no plug "C7", only A1 to A2`},
		{"exclude DIR three.jpg A1 --why slugs", exitFailed, "", `there is no photo "three.jpg"`},
		{"exclude DIR three.jpg A1 --why slugs", exitFailed, "", `there are "a/one.jpg", "b/one.jpg", "two.jpg"`},
		{"exclude DIR one.jpg A1 --why slugs", exitFailed, "", `several photos are named "one.jpg": give the path of one: "a/one.jpg", "b/one.jpg"`},
		{"exclude DIR two.jpg A1", exitUsage, "", "give the reason in a few words"},
		{"exclude DIR", exitUsage, "", `an argument is missing; usage: traygauge correct exclude DIR PHOTO [PLUG...] --why "the reason"`},
		{"empty DIR two.jpg --why algae", exitUsage, "", "usage: traygauge correct empty DIR PHOTO PLUG..."},
		{"move DIR two.jpg 1,2 3,4 5,6 --why slipped", exitUsage, "", "usage: traygauge correct move"},
		{"move DIR two.jpg 1,2 3,4 5,6 7 --why slipped", exitUsage, "", `"7" is not a corner: give pixels as X,Y`},
		{"move DIR two.jpg 1,2 3,4 5,6 7,8 --why slipped", exitFailed, "", "two.jpg: is not a photo"},
		{"include DIR two.jpg A1 --why whole", exitFailed, "", "the photo has not been measured"},
		{"remove DIR two.jpg", exitUsage, "", `unknown correction "remove"`},
	} {
		code, out, errs := traygauge(append([]string{"correct"}, strings.Fields(strings.ReplaceAll(c.args, "DIR", dir))...)...)
		if code != c.code || !strings.Contains(out, c.out) || !strings.Contains(errs, c.errs) || c.out == "" && out != "" {
			t.Errorf("%s: exit %d, want %d\n%s%s", c.args, code, c.code, out, errs)
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, correct.FileName))
	if err != nil || strings.Count(string(text), "\n") != 6 {
		t.Errorf("%v; what was refused left a line:\n%s", err, text)
	}
}

func TestCorrectJSON(t *testing.T) {
	dir := photoFolder(t)
	code, out, _ := traygauge("correct", "exclude", dir, "two.jpg", "A1", "--why", "slugs", "--who", "Ana", "--json")
	var done kept
	if err := json.Unmarshal([]byte(out), &done); err != nil || code != exitOK || len(done.Made) != 1 || done.Made[0].ID != 1 || done.Made[0].Who != "Ana" {
		t.Errorf("exit %d, %v: %s", code, err, out)
	}
	code, out, _ = traygauge("correct", "exclude", dir, done.Made[0].SHA256[:12], "A1", "--why", "slugs", "--json")
	if err := json.Unmarshal([]byte(out), &done); err != nil || code != exitOK || len(done.Made) != 0 || len(done.Already) != 1 {
		t.Errorf("the same again, by the photo’s SHA-256: exit %d, %v: %s", code, err, out)
	}
	traygauge("correct", "undo", dir, "1", "--why", "not slugs")
	f, err := os.OpenFile(filepath.Join(dir, correct.FileName), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString(`{"id":3,"who":"A`)
	f.Close()
	code, out, errs := traygauge("correct", "list", dir, "--json")
	var list correct.List
	if err := json.Unmarshal([]byte(out), &list); err != nil || code != exitAttention || len(list.Corrections) != 2 || list.Corrections[0].UndoneBy != 2 {
		t.Errorf("exit %d, %v: %s", code, err, out)
	}
	if len(list.Problems) != 1 || !strings.Contains(list.Problems[0], "corrections.jsonl:3: was cut off") || !strings.Contains(errs, "corrections.jsonl has lines that are not valid") {
		t.Errorf("a line that was cut off: %v, %s", list.Problems, errs)
	}
}

// From photo to workbook: corrections show, keep when photos are renamed, and go when they are undone.
func TestCorrectionsShowInAllResults(t *testing.T) {
	dir, _ := smallFolder(t)
	measured := func() {
		t.Helper()
		if code, out, errs := traygauge("measure", dir); code != exitOK && code != exitAttention {
			t.Fatalf("exit %d: %s%s", code, out, errs)
		}
	}
	correction := func(args ...string) {
		t.Helper()
		if code, out, errs := traygauge(append([]string{"correct"}, args...)...); code != exitOK {
			t.Fatalf("%v: exit %d: %s%s", args, code, out, errs)
		}
	}
	// plugs returns state, root area, leaf area and remarks by photo and plug.
	plugs := func() map[string][4]string {
		t.Helper()
		if code, out, errs := traygauge("report", dir); code != exitOK {
			t.Fatalf("exit %d: %s%s", code, out, errs)
		}
		f, err := os.Open(filepath.Join(dir, "report", "plugs.csv"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for i, name := range rows[0] {
			at[name] = i
		}
		list := map[string][4]string{}
		for _, r := range rows[1:] {
			list[r[at["photo"]]+" "+r[at["plug"]]] = [4]string{r[at["state"]], r[at["root_area_mm2"]], r[at["leaf_area_mm2"]], r[at["remarks"]]}
		}
		return list
	}
	measured()
	before, readings := plugs(), resultsIn(t, dir)
	correction("exclude", dir, "tray-1-roots.jpg", "A1", "--why", "slugs", "--who", "Ana")
	correction("empty", dir, "tray-1-shoots.jpg", "A2", "--why", "algae", "--who", "Ana")
	correction("planted", dir, "tray-1-shoots.jpg", "B3", "--why", "hidden", "--who", "Ana")
	correction("exclude", dir, "tray-7-roots.jpg", "--why", "=bench", "--who", "Ana")
	want := map[string][4]string{}
	for plug, v := range before {
		want[plug] = v
	}
	area := before["tray-1-roots.jpg A1"][1]
	want["tray-1-roots.jpg A1"] = [4]string{"excluded", area, "", "excluded by hand"}
	want["tray-1-shoots.jpg A2"] = [4]string{"empty", "", "", "empty by hand"}
	below := before["tray-1-roots.jpg A2"] // the same plug from below: without a plant it is in no mean of the roots
	want["tray-1-roots.jpg A2"] = [4]string{below[0], below[1], "", "no plant visible from above"}
	want["tray-1-shoots.jpg B3"] = [4]string{"planted", "", "", "planted by hand"}
	for _, plug := range []string{"A1", "A2", "A3", "B1", "B2", "B3"} {
		name := "tray-7-roots.jpg " + plug
		want[name] = [4]string{"excluded", before[name][1], "", strings.TrimPrefix(before[name][3]+"; excluded by hand", "; ")}
	}
	compare := func(what string, got map[string][4]string) {
		t.Helper()
		for plug, v := range want {
			if got[plug] != v {
				t.Errorf("%s: %s is %q, want %q", what, plug, got[plug], v)
			}
		}
	}
	compare("corrected", plugs())
	for _, name := range []string{"tray-1-roots.jpg", "tray-7-roots.jpg"} {
		if err := os.Rename(filepath.Join(dir, "photos", name), filepath.Join(dir, "photos", "renamed-"+name)); err != nil {
			t.Fatal(err)
		}
	}
	measured()
	got := plugs()
	for plug, v := range got {
		got[strings.TrimPrefix(plug, "renamed-")] = v
	}
	compare("renamed", got)
	text := workbookText(t, dir)
	for _, say := range []string{"1: plug A1 excluded by Ana, 20", "slugs", "2: plug A2 marked empty by Ana", "3: plug B3 marked planted by Ana", "4: photo excluded by Ana", ": =bench"} {
		if !strings.Contains(text, say) {
			t.Errorf("the workbook does not say %q", say)
		}
	}
	for _, name := range []string{"tray-1-roots.jpg", "tray-7-roots.jpg"} {
		if err := os.Rename(filepath.Join(dir, "photos", "renamed-"+name), filepath.Join(dir, "photos", name)); err != nil {
			t.Fatal(err)
		}
	}
	for _, id := range []string{"1", "2", "3", "4"} {
		correction("undo", dir, id, "--why", "only tried", "--who", "Ben")
	}
	measured()
	want = before
	compare("undone", plugs())
	after := resultsIn(t, dir)
	for name := range after {
		if strings.Contains(name, "renamed-") {
			delete(after, name)
		}
	}
	sameResults(t, "undone", after, readings)
}

// A photo that cannot be measured needs no more attention once someone has excluded it.
func TestAnExcludedPhotoNeedsNoAttention(t *testing.T) {
	lost := reading.Reading{Photo: "lost.jpg", SHA256: strings.Repeat("cc", 32), Concerns: []reading.Concern{
		{Kind: "no card", Words: "0 of 4 markers found", Remedy: "lay the card beside the tray", Fatal: true}}}
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), lost)
	if code, _, errs := traygauge("report", dir); code != exitAttention || !strings.Contains(errs, "lost.jpg: 0 of 4 markers found: lay") {
		t.Errorf("before: exit %d, %s", code, errs)
	}
	c := correct.Correction{Who: "Ana", Why: "only the bench", What: correct.Exclude, Photo: lost.Photo, SHA256: lost.SHA256}
	if _, err := correct.Append(dir, c); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := traygauge("report", dir); code != exitOK || !strings.Contains(errs, "lost.jpg: excluded by Ana: only the bench") {
		t.Errorf("excluded: exit %d, %s", code, errs)
	}
}

// A grid that is moved by a column makes each plug go by its neighbour's name, once measured again; undone, all is as it was.
func TestCorrectMove(t *testing.T) {
	dir := trialWith(t, smallTrial, "")
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	drawPhoto(t, filepath.Join(dir, "photos", "a.jpg"), smallSpec(card.Roots, 1))
	states := func(measuredNow int) (list string) {
		t.Helper()
		code, out, errs := traygauge("measure", dir)
		if code == exitFailed || !strings.Contains(errs, fmt.Sprintf("%d measured", measuredNow)) {
			t.Fatalf("exit %d: %s%s", code, out, errs)
		}
		readings, broken := reading.LoadReadings(dir)
		if len(readings) != 1 || len(broken) > 0 {
			t.Fatal(readings, broken)
		}
		for _, p := range readings[0].Plugs {
			list += fmt.Sprintf("%s %s %s, ", p.Name, p.State, strings.Join(p.Flags, "+"))
		}
		return list
	}
	if got, want := states(1), "A1 planted , A2 planted , A3 planted , B1 planted , B2 planted , B3 empty , "; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	before := resultsIn(t, dir)

	code, _, errs := traygauge("correct", "move", dir, "a.jpg", "0,0", "100,0", "100,100", "0,100", "--why", "the card had slipped")
	found := regexp.MustCompile(`they were found at (\d+),(\d+) \(A1\) (\d+),(\d+) \(A3\) (\d+),(\d+) \(B3\) (\d+),(\d+) \(B1\)`).FindStringSubmatch(errs)
	if code != exitFailed || found == nil || !strings.Contains(errs, "set the outer corners of the 2 × 3 plugs’ cells again") {
		t.Fatalf("corners that fit no tray: exit %d: %s", code, errs)
	}
	var q [8]float64
	for i := range q {
		q[i], _ = strconv.ParseFloat(found[i+1], 64) // digits, as the pattern says
	}
	args := []string{"correct", "move", dir, "a.jpg", "--why", "the card had slipped", "--who", "Ana"}
	for i := range 4 { // by a third of the way from A1's corner to A3's, one column of three
		args = append(args, fmt.Sprintf("%.1f,%.1f", q[2*i]+(q[2]-q[0])/3, q[2*i+1]+(q[3]-q[1])/3))
	}
	if code, out, errs := traygauge(args...); code != exitOK || !strings.Contains(out, "1: a.jpg: grid moved to (") || !strings.Contains(errs, "Run `traygauge measure") {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	if code, out, errs := traygauge("report", dir); code == exitFailed || !strings.Contains(out, "grid moved since") {
		t.Errorf("a report before measuring again: exit %d: %s%s", code, out, errs)
	}
	got := states(1)
	for _, want := range []string{"A1 planted grid by hand", "A2 planted grid by hand", "B1 planted grid by hand", "B2 empty grid by hand"} {
		if !strings.Contains(got, want) { // what the third column shows lies beyond the tray
			t.Errorf("moved by a column: %s, want %s", got, want)
		}
	}
	states(0)
	if code, out, errs := traygauge("correct", "undo", dir, "1", "--why", "it had not"); code != exitOK {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	states(1)
	sameResults(t, "undone", resultsIn(t, dir), before)
}

// workbookText returns the text of all cells of the trial's workbook, a row a line.
func workbookText(t *testing.T, dir string) string {
	t.Helper()
	book, err := excelize.OpenFile(filepath.Join(dir, "report", "trial.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	var text strings.Builder
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			text.WriteString(strings.Join(row, "\t") + "\n")
		}
	}
	return text.String()
}
