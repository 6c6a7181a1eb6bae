package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"traygauge/report/terminal"
)

// resultsIn returns all that measuring wrote into the trial in dir, by the path below it.
func resultsIn(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for _, folder := range []string{"readings", "overlays"} {
		names, err := filepath.Glob(filepath.Join(dir, folder, "[^.]*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if files[folder+"/"+filepath.Base(name)], err = os.ReadFile(name); err != nil {
				t.Fatal(err)
			}
		}
	}
	return files
}

// sameResults fails where two trials' files differ in name or in any byte.
func sameResults(t *testing.T, what string, got, want map[string][]byte) {
	t.Helper()
	for name, content := range want {
		if !bytes.Equal(got[name], content) {
			t.Errorf("%s: %s differs, or is not there", what, name)
		}
	}
	for name := range got {
		if want[name] == nil {
			t.Errorf("%s: %s is too many", what, name)
		}
	}
}

func TestMeasureInParts(t *testing.T) {
	whole, _ := smallFolder(t)
	if code, out, errs := traygauge("measure", whole); code != exitOK {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	parted, _ := smallFolder(t)
	photos := 0
	for part := 1; part <= 3; part++ {
		code, out, errs := traygauge("measure", parted, "--json", "--shard", fmt.Sprintf("%d/3", part))
		var got terminal.Measured
		if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitOK {
			t.Fatalf("part %d: exit %d, %v: %s%s", part, code, err, out, errs)
		}
		if len(got.Trays) > 0 || len(got.Concerns) > 0 {
			t.Errorf("part %d sums up what other parts may still change: %+v", part, got)
		}
		photos += len(got.Photos)
	}
	if photos != 4 {
		t.Errorf("the parts answered for %d photos, want 4", photos)
	}
	sameResults(t, "in parts", resultsIn(t, parted), resultsIn(t, whole))
	code, out, errs := traygauge("measure", parted, "--json")
	var got terminal.Measured
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitOK || got.Measured != 0 || len(got.Trays) != 2 {
		t.Errorf("the run over all parts: exit %d, %v: %s%s", code, err, out, errs)
	}
}
