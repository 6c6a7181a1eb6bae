package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"traygauge/report/serve"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// How long a phone waits for its verdict on a photo of 12 megapixels with fifty plugs, from the first byte sent over this computer's own
// network to the words, as a multiple of what the measure command takes for the same photo.
func BenchmarkVerdict(b *testing.B) {
	s := synth.Defaults(card.Roots)
	s.Number, s.Plants = 7, map[string]synth.Plant{}
	for _, name := range s.Tray.Cells() {
		s.Plants[name] = synth.Plant{Plug: true, RootLengthMM: 200}
	}
	s.Resize(4032, 3024)
	img, _, err := synth.Draw(s)
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "photo.jpg")
	if err := synth.WriteJPEG(file, img, 92, synth.EXIF{Taken: time.Date(2026, 3, 12, 9, 30, 0, 0, time.UTC), WithZone: true, Focal35: 26}); err != nil {
		b.Fatal(err)
	}
	photo := must(os.ReadFile(file))
	plan := strings.Replace(smallTrial, "{rows: 2, columns: 3, length_mm: 180, width_mm: 130, pitch_mm: 50, first_plug_mm: [40, 40]",
		"{rows: 5, columns: 10, length_mm: 540, width_mm: 280, pitch_mm: 50, first_plug_mm: [45, 40]", 1)
	trial := func() string {
		dir := b.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "trial.yaml"), []byte(plan), 0o644); err != nil {
			b.Fatal(err)
		}
		return dir
	}
	var measuring, waiting time.Duration
	for b.Loop() {
		measuring += measuredIn(b, trial(), photo)
		waiting += judgedIn(b, trial(), photo)
	}
	b.ReportMetric(waiting.Seconds()/measuring.Seconds(), "times-measure")
	b.ReportMetric(waiting.Seconds()/float64(b.N), "s/verdict")
}

// measuredIn returns what the measure command takes.
func measuredIn(b *testing.B, dir string, photo []byte) time.Duration {
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "photos", "photo.jpg"), photo, 0o644); err != nil {
		b.Fatal(err)
	}
	begun := time.Now()
	if code, out, errs := traygauge("measure", dir); code == exitFailed || !strings.Contains(out, "all good") {
		b.Fatalf("%d: %s%s", code, out, errs)
	}
	return time.Since(begun)
}

// judgedIn returns how long a phone waits.
func judgedIn(b *testing.B, dir string, photo []byte) time.Duration {
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	s := serve.New(serve.Options{Dir: dir, Version: version(), Program: self, Now: func() time.Time { return time.Date(2026, 3, 12, 9, 40, 0, 0, time.UTC) }})
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	defer s.Close()
	jar, _ := cookiejar.New(nil) // never fails without options
	phone := &http.Client{Jar: jar}
	ask := func(method, path, token string, body []byte) []byte {
		r, err := http.NewRequest(method, server.URL+path, bytes.NewReader(body))
		if err != nil {
			b.Fatal(err)
		}
		r.Header.Set("X-Token", token)
		got, err := phone.Do(r)
		if err != nil {
			b.Fatal(err)
		}
		defer got.Body.Close()
		text, err := io.ReadAll(got.Body)
		if err != nil || got.StatusCode != 200 {
			b.Fatalf("%s: %d %s %v", path, got.StatusCode, text, err)
		}
		return text
	}
	token := string(regexp.MustCompile(`<meta name="token" content="([^"]+)">`).FindSubmatch(ask("GET", "/", "", nil))[1])
	sum := sha256.Sum256(photo)
	var got struct {
		Have           int
		Photo, Verdict string
	}
	begun := time.Now()
	for got.Photo == "" {
		part := photo[got.Have:min(len(photo), got.Have+256<<10)]
		text := ask("PUT", fmt.Sprintf("/api/upload?sha=%s&size=%d&offset=%d&tray=7&view=roots", hex.EncodeToString(sum[:]), len(photo), got.Have), token, part)
		if err := json.Unmarshal(text, &got); err != nil {
			b.Fatal(err)
		}
	}
	if err := json.Unmarshal(ask("GET", "/api/verdict?photo="+url.QueryEscape(got.Photo), token, nil), &got); err != nil || got.Verdict != good {
		b.Fatalf("%+v, %v", got, err)
	}
	return time.Since(begun)
}
