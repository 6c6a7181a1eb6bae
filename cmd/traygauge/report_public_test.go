package main

import (
	"archive/zip"
	"bytes"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"traygauge/report/html/plugs"
)

// everythingIn returns the text of all files in a folder, spreadsheets unpacked, by name.
func everythingIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, e := range entries {
		raw, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all[e.Name()] = string(raw)
		z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
		if err != nil {
			continue
		}
		for _, f := range z.File {
			part, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			text, err := io.ReadAll(part)
			part.Close()
			if err != nil {
				t.Fatal(err)
			}
			all[e.Name()] += string(text)
		}
	}
	return all
}

func TestReportForThePublic(t *testing.T) {
	one, other := inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50)
	one.Photo = "phone of Josefina/IMG_1.jpg"
	dir := trialFolder(t, one, other)
	log := "when,tray,what,product,amount_ml,water_ml,note\n2026-03-11T08:00:00Z,7,note,,,,Josefina paid 912.50 for it\n"
	correction := `{"id":1,"when":"2026-03-12T10:00:00Z","who":"Josefina","what":"exclude","why":"dropped by Josefina","sha256":"` + one.SHA256 + `","photo":"` + one.Photo + `","plug":"A2"}` + "\n"
	hidden := `{"when":"2026-03-12T09:58:00Z","who":"Josefina","hidden":true,"after":0}` + "\n"
	for name, text := range map[string]string{"log.csv": log, "corrections.jsonl": correction, "blind.jsonl": hidden} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	secrets := []string{"Josefina", "912.50", "IMG_1", "phone of"}
	// Times of day: of the photos (9:00 in the trial's zone, which is then UTC), of the correction, of hiding, of the note.
	clock := regexp.MustCompile(`2026-03-1[12][T ]?(09|08|10):[0-9][0-9]|9:58`)
	if code, _, errs := call("report", dir); code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	own := everythingIn(t, filepath.Join(dir, "report"))
	for _, file := range []string{"index.html", "trial.xlsx"} {
		for _, secret := range secrets {
			if !strings.Contains(own[file], secret) {
				t.Errorf("%s for oneself lacks %q, so that its absence from the public one shows nothing", file, secret)
			}
		}
	}
	picture := filepath.Join(dir, "report", "share.png")
	code, _, errs := call("report", dir, "--public", "--picture", picture)
	if code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if !strings.Contains(errs, "Check them for names") || !strings.Contains(errs, "dropped by somebody") {
		t.Errorf("the reasons are not shown to whoever publishes:\n%s", errs)
	}
	if !strings.Contains(errs, "Not published: notes, the wording of log entries") {
		t.Errorf("whoever publishes is not told what is left out:\n%s", errs)
	}
	public := everythingIn(t, filepath.Join(dir, "report"))
	for _, file := range []string{"plugs.csv", "photos.csv", "trays.csv", "comparisons.csv", "datapackage.json", "trial.xlsx", "index.html", "share.png"} {
		text, written := public[file]
		if !written {
			t.Errorf("%s is not written", file)
		}
		for _, secret := range secrets {
			if strings.Contains(text, secret) {
				t.Errorf("%s holds %q", file, secret)
			}
		}
		if at := clock.FindString(text); at != "" {
			t.Errorf("%s says the time of day: %s", file, at)
		}
	}
	if clock.FindString(own["index.html"]) == "" || clock.FindString(own["photos.csv"]) == "" || !strings.Contains(public["photos.csv"], ",2026-03-12,") {
		t.Error("the report for oneself has no times, or the public one no days")
	}
	if !strings.Contains(public["index.html"], "times of day and the names of people who made corrections") || !strings.Contains(public["index.html"], "log entry not shown") {
		t.Error("the public page does not say what is left out")
	}
	if !strings.Contains(public["index.html"], "something happened to it that was not part of the treatment") {
		t.Error("the public page has no trace of the tray's accident")
	}
	if !strings.Contains(public["index.html"], one.SHA256) || !strings.Contains(public["plugs.csv"], one.SHA256[:12]) {
		t.Error("the photo can no longer be identified")
	}
	if config, err := png.DecodeConfig(strings.NewReader(public["share.png"])); err != nil || config.Width != 1200 || config.Height != 630 {
		t.Errorf("the picture is %+v (%v)", config, err)
	}
	if code, _, errs := call("report", dir); code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if again := everythingIn(t, filepath.Join(dir, "report")); again["index.html"] != own["index.html"] || again["plugs.csv"] != own["plugs.csv"] {
		t.Error("the report for oneself is another one afterwards")
	}
}

// The excerpt goes where it is asked for, with the address of the whole; pictures of a report before go with it, and what else lies beside it
// stays.
func TestReportWithExcerptAndAddress(t *testing.T) {
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50))
	if code, _, errs := call("report", dir); code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	stale, mine := filepath.Join(dir, "report", plugs.Folder, "t1-d3-roots.jpg"), filepath.Join(dir, "report", "mine.txt")
	if err := os.Mkdir(filepath.Dir(stale), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{stale, mine} {
		if err := os.WriteFile(name, []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	excerpt := filepath.Join(dir, "answer.html")
	if code, _, errs := call("report", dir, "--embed", excerpt, "--url", "https://www.example.org/kale"); code != exitOK {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	text, err := os.ReadFile(excerpt)
	if err != nil || !strings.Contains(string(text), `href="https://www.example.org/kale/"`) {
		t.Errorf("the excerpt does not lead to the page (%v)", err)
	}
	page, err := os.ReadFile(filepath.Join(dir, "report", "index.html"))
	if err != nil || !strings.Contains(string(page), `<meta property="og:image" content="https://www.example.org/kale/share.png">`) {
		t.Errorf("the page does not say where its picture is (%v)", err)
	}
	if _, err := os.Stat(stale); err == nil {
		t.Error("a picture of the report before is left")
	}
	if _, err := os.Stat(mine); err != nil {
		t.Errorf("what lay beside the report is gone: %v", err)
	}
}

func TestReportRefusesPictures(t *testing.T) {
	dir := trialFolder(t, inventedReading("aa", 1, 10, 30), inventedReading("bb", 7, 40, 50))
	for _, c := range []struct {
		want int
		say  string
		args []string
	}{
		{exitUsage, "ends in .png", []string{"report", dir, "--picture", "share.jpg"}},
		{exitUsage, "ends in .html", []string{"report", dir, "--embed", "answer.txt"}},
		{exitUsage, "is not a web address", []string{"report", dir, "--url", "www.example.org"}},
		{exitFailed, `"tomato" is not a treatment`, []string{"report", dir, "--of", "tomato"}},
		{exitFailed, `"tomato" is not a treatment`, []string{"report", dir, "--picture", filepath.Join(dir, "x.png"), "--of", "tomato"}},
	} {
		if code, _, errs := call(c.args...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit code %d: %s", c.args, code, errs)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "x.png")); err == nil {
		t.Error("a picture is left that could not be drawn")
	}
}
