package blind

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/measure/correct"
)

var evening = time.Date(2026, 3, 16, 18, 0, 0, 0, time.UTC)

func correctOnce(t *testing.T, dir, plug string) {
	t.Helper()
	_, err := correct.Append(dir, correct.Correction{Who: "Ana", Why: "slugs", What: correct.Exclude, Plug: plug, Photo: "a.jpg", SHA256: strings.Repeat("a", 64)})
	if err != nil {
		t.Fatal(err)
	}
}

func set(t *testing.T, dir string, hidden bool) {
	t.Helper()
	if _, err := Set(dir, " Ana\n", hidden, evening); err != nil {
		t.Fatal(err)
	}
}

func says(t *testing.T, dir, want string) {
	t.Helper()
	got, err := Words(dir, time.UTC)
	if err != nil || !strings.HasPrefix(got, want) || want == "" && got != "" {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
}

// What the report says follows from the order of corrections and of hiding and showing, all within one second here.
func TestWords(t *testing.T) {
	dir := t.TempDir()
	says(t, dir, "")
	set(t, dir, false)
	says(t, dir, "")
	set(t, dir, true)
	set(t, dir, true)
	says(t, dir, "Blind: the photos were reviewed with treatment names hidden. Nothing was corrected. They were hidden on 2026-03-16 18:00 by Ana and still are.")
	correctOnce(t, dir, "A1")
	says(t, dir, "Blind: treatment names were hidden while the one correction was made.")
	correctOnce(t, dir, "A2")
	set(t, dir, false)
	says(t, dir, "Blind: treatment names were hidden while all 2 corrections, including undone ones, were made. They were hidden on 2026-03-16 18:00 by Ana, shown on 2026-03-16 18:00 by Ana.")
	if _, err := correct.Append(dir, correct.Correction{What: correct.Undo, Undoes: 1, Who: "Ana", Why: "it looked better without"}); err != nil {
		t.Fatal(err)
	}
	says(t, dir, "Partly blind: treatment names were hidden for 2 of 3 corrections")
	set(t, dir, true)
	correctOnce(t, dir, "A3")
	says(t, dir, "Partly blind: treatment names were hidden for 3 of 4 corrections")
}

func TestNamesWereNeverHidden(t *testing.T) {
	dir := t.TempDir()
	correctOnce(t, dir, "A1")
	says(t, dir, "Not blind: treatment names were not hidden while the one correction was made.")
	set(t, dir, true)
	says(t, dir, "Partly blind: treatment names were hidden for 0 of 1 corrections")
}

// A line that cannot be read must not make a trial look blind.
func TestABrokenLine(t *testing.T) {
	for i, line := range []string{"{", "null", `{"when":"2026-03-16T18:00:00Z","hidden":true,"after":0}`, `{"when":"2026-03-16T18:00:00Z","who":"Ana","hidden":true,"after":-1}`,
		`{"when":"2026-03-16T18:00:00Z","who":"Ana","hidden":true,"after":1,"colour":"red"}`} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, fileName), []byte("\n"+line+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if got, err := Words(dir, time.UTC); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("%s:2: ", fileName)) {
			t.Errorf("%d: %q, %v", i, got, err)
		}
		if _, err := Set(dir, "Ana", true, evening); err == nil {
			t.Errorf("%d: added to it", i)
		}
	}
	if _, err := Set(t.TempDir(), " ", true, evening); err == nil {
		t.Error("nobody hid the names")
	}
}
