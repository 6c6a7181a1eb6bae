package correct

import (
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

var (
	kale  = strings.Repeat("ab", 32) // a photo's SHA-256
	other = strings.Repeat("cd", 32)
)

func exclude(plug string) Correction {
	return Correction{Who: "Ana", Why: "eaten by slugs", What: Exclude, Photo: "day-14/tray-07.jpg", SHA256: kale, Plug: plug}
}

func undo(id int) Correction {
	return Correction{Who: "Ben", Why: "they were not", What: Undo, Undoes: id}
}

func move(x float64) Correction {
	c := exclude("")
	c.What, c.Corners = Move, &Corners{{x, 10}, {500, 12}, {498, 300}, {12, 298}}
	return c
}

func added(t *testing.T, dir string, c Correction) Correction {
	t.Helper()
	c, err := Append(dir, c)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func load(t *testing.T, dir string) Log {
	t.Helper()
	l, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func ids(corrections []Correction) []int {
	var of []int
	for _, c := range corrections {
		of = append(of, c.ID)
	}
	return of
}

func TestWhatIsAddedIsReadBack(t *testing.T) {
	dir := t.TempDir()
	if l := load(t, dir); len(l.Made)+len(l.Problems) > 0 {
		t.Errorf("a trial without corrections has %+v", l)
	}
	before := time.Now().Truncate(time.Second)
	want := []Correction{added(t, dir, exclude("B7")), added(t, dir, exclude("")), added(t, dir, move(8.25)), added(t, dir, undo(2))}
	l := load(t, dir)
	if len(l.Problems) > 0 || !slices.Equal(ids(l.Made), []int{1, 2, 3, 4}) {
		t.Fatalf("%v, %v", ids(l.Made), l.Problems)
	}
	for i, c := range l.Made {
		if w := want[i]; c.Who != w.Who || c.Why != w.Why || c.What != w.What || c.Plug != w.Plug || c.Undoes != w.Undoes || !c.When.Equal(w.When) || c.When.Before(before) {
			t.Errorf("%+v, want %+v", c, w)
		}
	}
	if at := l.Made[2].Corners; at == nil || *at != *want[2].Corners {
		t.Errorf("the grid was moved to %v", at)
	}
	if got := ids(l.Of(kale)); !slices.Equal(got, []int{1, 3}) {
		t.Errorf("corrections %v stand, want 1 and 3: 2 was undone", got)
	}
	if l.UndoneBy(2) != 4 || l.UndoneBy(1) != 0 || l.Of(other) != nil {
		t.Errorf("undone: %d, %d; of another photo: %v", l.UndoneBy(2), l.UndoneBy(1), l.Of(other))
	}
}

func TestTheFileIsOnlyAddedTo(t *testing.T) {
	dir := t.TempDir()
	text := ""
	for _, c := range []Correction{exclude("B7"), undo(1), exclude("B7"), move(3), undo(4), move(4)} {
		added(t, dir, c)
		now, err := os.ReadFile(filepath.Join(dir, FileName))
		if err != nil || !strings.HasPrefix(string(now), text) || len(now) <= len(text) {
			t.Fatalf("%v: what was there before was changed:\n%s\n%s", err, text, now)
		}
		text = string(now)
	}
	if n := strings.Count(text, "\n"); n != 6 {
		t.Errorf("%d lines, want one a correction:\n%s", n, text)
	}
}

func TestTextIsKeptOnOneLine(t *testing.T) {
	c := exclude("B7")
	c.Who, c.Why = " Ana\tB. ", "slugs,\r\n  \"all\" of it\u202e =1+1\x1b[31m \xff"
	c = added(t, t.TempDir(), c)
	if c.Who != "Ana B." || c.Why != `slugs, "all" of it =1+1[31m` {
		t.Errorf("%q, %q", c.Who, c.Why)
	}
}

func TestWhatCannotBeMeantIsNotKept(t *testing.T) {
	dir := t.TempDir()
	added(t, dir, exclude("A1"))
	added(t, dir, undo(1))
	added(t, dir, exclude("A2"))
	for say, change := range map[string]func(*Correction){
		"name is missing":                      func(c *Correction) { c.Who = " \n" },
		"reason is missing":                    func(c *Correction) { c.Why = "" },
		"the limit is 1000":                    func(c *Correction) { c.Why = strings.Repeat("long ", 300) },
		`"remove" is not a kind of correction`: func(c *Correction) { c.What = "remove" },
		`"b7" is not the name of a plug`:       func(c *Correction) { c.Plug = "b7" },
		`"B0" is not the name of a plug`:       func(c *Correction) { c.Plug = "B0" },
		"the plug that is empty":               func(c *Correction) { c.What, c.Plug = Empty, "" },
		"the plug to include":                  func(c *Correction) { c.What, c.Plug = Include, "" },
		"the path or the SHA-256":              func(c *Correction) { c.SHA256 = "abc" },
		"four corners":                         func(c *Correction) { c.What, c.Plug = Move, "" },
		"remove the plug":                      func(c *Correction) { c.What, c.Corners = Move, &Corners{} },
		"outside any photo":                    func(c *Correction) { c.What, c.Plug, c.Corners = Move, "", &Corners{{2e6}} },
		"can have four corners":                func(c *Correction) { c.Corners = &Corners{} },
		"no correction 9 to undo":              func(c *Correction) { *c = undo(9) },
		"there are 3":                          func(c *Correction) { *c = undo(8) },
		"has already been undone, by corr":     func(c *Correction) { *c = undo(1) },
		"correction 2 is an undo":              func(c *Correction) { *c = undo(2) },
		"the number of the correction to undo": func(c *Correction) { *c = undo(0) },
		"corners or number: remove them":       func(c *Correction) { *c = undo(3); c.Plug = "A2" },
		"is already corrected that way: plu":   func(c *Correction) { c.Plug = "A2" },
	} {
		c := exclude("B7")
		change(&c)
		if _, err := Append(dir, c); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%+v: %v, want %q", c, err, say)
		}
	}
	if l := load(t, dir); len(l.Made) != 3 || len(l.Problems) > 0 {
		t.Errorf("%d corrections, %v", len(l.Made), l.Problems)
	}
}

// A double click makes one correction. What was changed in between may be made again.
func TestTheSameTwiceIsKeptOnce(t *testing.T) {
	dir := t.TempDir()
	first := added(t, dir, exclude("B7"))
	again, err := Append(dir, exclude("B7"))
	if !errors.Is(err, ErrDone) || again.ID != first.ID {
		t.Errorf("%+v, %v; want the first, and ErrDone", again, err)
	}
	empty := exclude("B7")
	empty.What = Empty
	added(t, dir, empty)
	added(t, dir, exclude("B7"))
	added(t, dir, move(1))
	added(t, dir, move(2))
	added(t, dir, move(1))
	if _, err := Append(dir, move(1)); !errors.Is(err, ErrDone) {
		t.Errorf("moved to where it is: %v", err)
	}
}

// Wherever a line was cut off by a crash, what was made before still counts, the next correction is whole, and the cut is reported.
func TestALineCutOff(t *testing.T) {
	whole := t.TempDir()
	added(t, whole, exclude("A1"))
	short, err := os.ReadFile(filepath.Join(whole, FileName))
	if err != nil {
		t.Fatal(err)
	}
	added(t, whole, exclude("A2"))
	text, err := os.ReadFile(filepath.Join(whole, FileName))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for end := len(short); end < len(text); end++ {
		if err := os.WriteFile(filepath.Join(dir, FileName), text[:end], 0o644); err != nil {
			t.Fatal(err)
		}
		cut, all := end > len(short), end == len(text)-1 // without its line's end the last one is still whole
		l := load(t, dir)
		if len(l.Made) != 1+count(all) || len(l.Problems) != count(cut && !all) || cut && !all && !strings.Contains(l.Problems[0].Error(), FileName+":2: was cut off") {
			t.Fatalf("cut to %q: %v, %v", text[:end], ids(l.Made), l.Problems)
		}
		c := added(t, dir, exclude("A3"))
		l = load(t, dir)
		if len(l.Made) != 2+count(all) || l.Made[len(l.Made)-1].ID != c.ID || len(l.Problems) != count(cut && !all) {
			t.Fatalf("cut to %q, then one more: %v, %v", text[:end], ids(l.Made), l.Problems)
		}
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func TestLinesThatCannotBeUsedAreTold(t *testing.T) {
	line := func(c Correction) string {
		c.When = time.Date(2026, 3, 16, 8, 0, 0, 0, time.UTC)
		text, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	one, two := exclude("A1"), exclude("A2")
	one.ID, two.ID = 1, 2
	unknown := strings.Replace(line(two), `"who"`, `"colour":"red","who"`, 1)
	for text, say := range map[string]string{
		"kale":                    "cannot be read",
		line(one):                 "two corrections have the number 1",
		unknown:                   "colour",
		line(two) + line(two):     "own line",
		line(undo(0)):             "not the number",
		`{"id":2,"what":"undo"}`:  "its time is missing",
		`{"id":2,"undoes":1e999}`: "cannot be read",
		"[]":                      "cannot be read",
		"null":                    "not the number",
	} {
		l := parse([]byte("\n" + line(one) + "\r\n\n" + text + "\n"))
		if len(l.Made) != 1 || len(l.Problems) != 1 || l.Problems[0].Line != 4 || !strings.Contains(l.Problems[0].Words, say) {
			t.Errorf("%s: %v, %v, want %q on line 4", text, ids(l.Made), l.Problems, say)
		}
	}
}

func TestNoPlainFile(t *testing.T) {
	dir, away := t.TempDir(), filepath.Join(t.TempDir(), "away")
	if err := os.WriteFile(away, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(away, filepath.Join(dir, FileName)); err != nil {
		t.Skip("this system has no symbolic links")
	}
	if _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "not a regular file") {
		t.Errorf("reading through a link: %v", err)
	}
	if _, err := Append(dir, exclude("A1")); err == nil || !strings.Contains(err.Error(), "not a regular file") {
		t.Errorf("writing through a link: %v", err)
	}
	if text, err := os.ReadFile(away); err != nil || len(text) > 0 {
		t.Errorf("the file that the link leads to holds %q, %v", text, err)
	}
}

func TestAFileTooLargeIsRefusedAndNotAddedTo(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, FileName)
	if err := os.WriteFile(path, []byte(strings.Repeat(" ", MostBytes-1)+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Append(dir, exclude("A1")); err == nil || !strings.Contains(err.Error(), "full") {
		t.Errorf("added to a full file: %v", err)
	}
	if l := load(t, dir); len(l.Made)+len(l.Problems) > 0 {
		t.Errorf("%+v", l)
	}
	if err := os.WriteFile(path, []byte(strings.Repeat(" ", MostBytes+1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "larger than 16 MiB") {
		t.Errorf("read a file that is too large: %v", err)
	}
}

// TestMain lets TestManyAddAtOnce start processes that add corrections.
func TestMain(m *testing.M) {
	if dir := os.Getenv("ADD_CORRECTIONS_TO"); dir != "" {
		for _, row := range "ABCDE" {
			c := exclude(string(row) + "1")
			c.SHA256 = strings.Repeat(os.Getenv("ADD_AS"), 64)
			if _, err := Append(dir, c); err != nil {
				os.Stderr.WriteString(err.Error())
				os.Exit(1)
			}
		}
		return
	}
	os.Exit(m.Run())
}

func TestManyAddAtOnce(t *testing.T) {
	dir := t.TempDir()
	var all sync.WaitGroup
	for _, as := range []string{"1", "2", "3", "4"} {
		all.Go(func() { // another process
			c := exec.Command(os.Args[0])
			c.Env = append(os.Environ(), "ADD_CORRECTIONS_TO="+dir, "ADD_AS="+as)
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
		all.Go(func() { // this one
			for _, row := range "ABCDE" {
				c := exclude(string(row) + "2")
				c.SHA256 = strings.Repeat(as, 64)
				if _, err := Append(dir, c); err != nil {
					t.Error(err)
				}
				if l, err := Load(dir); err != nil || len(l.Problems) > 0 {
					t.Errorf("read while others add: %v, %v", err, l.Problems)
				}
			}
		})
	}
	all.Wait()
	l := load(t, dir)
	if len(l.Made) != 40 || len(l.Problems) > 0 || l.Made[39].ID != 40 {
		t.Errorf("%d corrections of 40, %v", len(l.Made), l.Problems)
	}
}

func FuzzParse(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<16 {
			t.Skip("long texts find nothing that short ones do not")
		}
		l := parse(text)
		if lines := strings.Count(string(text), "\n") + 1; len(l.Made)+len(l.Problems) > lines {
			t.Fatalf("%d corrections and %d problems on %d lines", len(l.Made), len(l.Problems), lines)
		}
		var again []byte
		for _, c := range l.Made {
			c.Does()
			line, err := json.Marshal(c)
			if err != nil {
				t.Fatal(err)
			}
			again = append(append(again, line...), '\n')
		}
		if back := parse(again); len(back.Problems) > 0 || !slices.Equal(ids(back.Made), ids(l.Made)) || !slices.Equal(ids(back.Of(kale)), ids(l.Of(kale))) {
			t.Fatalf("written and read again: %v, %v, want %v", ids(back.Made), back.Problems, ids(l.Made))
		}
	})
}

// Whatever stands in the file, one more correction is added behind it and the others still count.
func FuzzAppend(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		l := parse(text)
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, FileName), text, 0o644); err != nil {
			t.Fatal(err)
		}
		c := exclude("Z99")
		c.SHA256 = strings.Repeat("0", 64)
		if c, err := Append(dir, c); err == nil {
			if got, err := Load(dir); err != nil || !slices.Equal(ids(got.Made), append(ids(l.Made), c.ID)) {
				t.Fatalf("one more: %v, %v, want %d behind %v", ids(got.Made), err, c.ID, ids(l.Made))
			}
		}
	})
}

func addSeeds(f *testing.F) {
	f.Add([]byte(`{"id":1,"when":"2026-03-16T08:00:00Z","who":"Ana","what":"exclude","why":"slugs","sha256":"` + kale + `","photo":"a.jpg","plug":"B7"}` + "\n" +
		`{"id":2,"when":"2026-03-16T09:00:00+01:00","who":"Ben","what":"undo","why":"no","undoes":1}` + "\n"))
	f.Add([]byte(`{"id":1,"when":"2026-03-16T08:00:00Z","who":"Ana","what":"move","why":"card slipped","sha256":"` + kale + `","photo":"a.jpg","corners":[[1,2],[3,4],[5,6],[7,8.5]]}`))
	f.Add([]byte("{\"id\":1,\"who\":\"\n\nnull\r\n[]"))
}
