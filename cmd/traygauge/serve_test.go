package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"encoding/json"
	"encoding/pem"
	"flag"
	"fmt"
	"io"
	"maps"
	"math/big"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/report/serve"
	"traygauge/vision/card"
	"traygauge/vision/scene"
)

// feedingTrial is smallTrial with eight trays, on a day for feeding and for photographs.
var feedingTrial = func() string {
	head, _, _ := strings.Cut(smallTrial, "trays:\n")
	head += "trays:\n"
	for tray := 1; tray <= 8; tray++ {
		head += fmt.Sprintf("  - {tray: %d, treatment: %s, position: %d}\n", tray, []string{"water only", "base feed"}[tray%2], 9-tray)
	}
	return head + "volume_ml_per_tray: 1500\nfeeding_days: [7, 10]\nreview_days: [10]\n"
}()

// feedingDay is day 10 of feedingTrial, in the morning.
func feedingDay() time.Time { return time.Date(2026, 3, 12, 9, 40, 0, 0, time.UTC) }

// served serves a trial to a test. around wraps its handler, to make trouble.
func served(t *testing.T, dir string, lan bool, around func(http.Handler) http.Handler) (*httptest.Server, *serve.Server) {
	t.Helper()
	s := serve.New(serve.Options{Dir: dir, Version: version(), LAN: lan, Now: feedingDay, Verdict: verdictOn,
		Draw:   func(seen measure.Seen, r measure.Reading) error { return drawOverlay(dir, seen, r) },
		Report: func(ctx context.Context) ([]string, error) { return reportFiles(ctx, dir) }})
	h := s.Handler()
	if around != nil {
		h = around(h)
	}
	server := httptest.NewServer(h)
	t.Cleanup(func() {
		server.Close()
		s.Close()
	})
	return server, s
}

// phone is a browser without a screen.
type phone struct {
	t      *testing.T
	url    string
	client *http.Client
	token  string
	header map[string]string // sent with everything
}

func newPhone(t *testing.T, url string) *phone {
	jar, _ := cookiejar.New(nil) // never fails without options
	return &phone{t: t, url: url, client: &http.Client{Jar: jar}, header: map[string]string{}}
}

var tokenInPage = regexp.MustCompile(`<meta name="token" content="([^"]+)">`)

// load opens a page and remembers its token.
func (p *phone) load(path string) (int, string) {
	p.t.Helper()
	status, text := p.ask("GET", path, nil)
	if m := tokenInPage.FindStringSubmatch(text); m != nil {
		p.token = m[1]
	}
	return status, text
}

func (p *phone) ask(method, path string, body []byte) (int, string) {
	p.t.Helper()
	r, err := http.NewRequest(method, p.url+path, bytes.NewReader(body))
	if err != nil {
		p.t.Fatal(err)
	}
	r.Header.Set("X-Token", p.token)
	for name, value := range p.header {
		r.Header.Set(name, value)
		if name == "Host" {
			r.Host = value
		}
	}
	got, err := p.client.Do(r)
	if err != nil {
		return 0, err.Error()
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err != nil {
		return 0, err.Error()
	}
	return got.StatusCode, string(text)
}

func (p *phone) put(photo []byte, sha string, size, offset int, rest string) (int, string) {
	p.t.Helper()
	return p.ask("PUT", fmt.Sprintf("/api/upload?sha=%s&size=%d&offset=%d%s", sha, size, offset, rest), photo)
}

func shaOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// photosIn lists the files below photos/, hidden ones too.
func photosIn(t *testing.T, dir string) (names []string) {
	t.Helper()
	root := filepath.Join(dir, "photos")
	err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			below, _ := filepath.Rel(root, path)
			names = append(names, filepath.ToSlash(below))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func takenPhoto(t *testing.T, face card.Face, tray int) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "photo.jpg")
	drawPhoto(t, file, smallSpec(face, tray))
	return must(os.ReadFile(file))
}

// Only who knows the code comes in, once, and only the session's own pages change anything.
func TestServeLetsNobodyElseIn(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	server, s := served(t, dir, true, nil)
	p := newPhone(t, server.URL)
	code := s.Code()
	enter := func(p *phone, code string) (int, string) {
		p.header["Content-Type"] = "application/x-www-form-urlencoded"
		defer delete(p.header, "Content-Type")
		return p.ask("POST", "/enter", []byte("code="+url.QueryEscape(code)))
	}
	if status, text := p.load("/"); status != 200 || !strings.Contains(text, "Code from the terminal") {
		t.Errorf("without a session: %d %.200s", status, text)
	}
	if status, text := p.ask("GET", "/api/today", nil); status != http.StatusUnauthorized || strings.Contains(text, "water only") {
		t.Errorf("without a session: %d %s", status, text)
	}
	if status, text := enter(p, "ABCDEFGH"); status != http.StatusForbidden || !strings.Contains(text, "That is not the code") {
		t.Errorf("a wrong code: %d %.300s", status, text)
	}
	if status, text := enter(p, strings.ToLower(code[:4]+"-"+code[4:])); status != 200 || !strings.Contains(text, "Feeding day") {
		t.Fatalf("the code as people type it: %d %.300s", status, text)
	}
	if status, _ := enter(newPhone(t, server.URL), code); status != http.StatusForbidden || s.Code() == code {
		t.Errorf("the same code again: %d", status)
	}
	home, _ := url.Parse(server.URL)
	for _, c := range p.client.Jar.Cookies(home) {
		if c.Value == s.Code() || len(c.Value) < 20 {
			t.Errorf("cookie %v", c)
		}
	}
	if status, _ := p.load("/"); status != 200 || p.token == "" {
		t.Fatalf("with a session: %d, token %q", status, p.token)
	}

	photo := takenPhoto(t, card.Roots, 1)
	hostile := map[string]struct {
		header map[string]string
		want   int
	}{
		"another site's page":           {map[string]string{"Origin": "https://example.org"}, http.StatusForbidden},
		"another site, by the browser":  {map[string]string{"Sec-Fetch-Site": "cross-site"}, http.StatusForbidden},
		"another port of this computer": {map[string]string{"Sec-Fetch-Site": "same-site"}, http.StatusForbidden},
		"no origin at all":              {map[string]string{"Origin": "null"}, http.StatusForbidden},
		"a name made to point here":     {map[string]string{"Host": "trial.example.org"}, http.StatusMisdirectedRequest},
		"without the page's token":      {map[string]string{"X-Token": "guess"}, http.StatusForbidden},
	}
	for name, h := range hostile {
		p.header = h.header
		if status, text := p.put(photo, shaOf(photo), len(photo), 0, ""); status != h.want {
			t.Errorf("%s: %d %s, want %d", name, status, text, h.want)
		}
	}
	p.header = map[string]string{}
	if got := topOfPhotos(dir); len(got) > 0 {
		t.Errorf("kept %v", got)
	}

	other := newPhone(t, server.URL)
	tried := 0
	for status := 0; status != http.StatusTooManyRequests; tried++ {
		if status, _ = enter(other, "ABCDEFGH"); tried > 20 {
			t.Fatalf("guessed %d times", tried)
		}
	}
	if status, _ := enter(other, s.Code()); status != http.StatusTooManyRequests {
		t.Errorf("the right code after too many wrong ones: %d", status)
	}
	if status, _ := p.ask("GET", "/api/today", nil); status != 200 {
		t.Errorf("who is in stays in: %d", status)
	}
}

// topOfPhotos is photosIn where the folder may not be there.
func topOfPhotos(dir string) []string {
	entries, _ := os.ReadDir(filepath.Join(dir, "photos"))
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// Whatever a page loads comes from here, and nobody frames it.
func TestServeHeaders(t *testing.T) {
	server, _ := served(t, trialWith(t, feedingTrial, ""), false, nil)
	for _, path := range []string{"/", "/look", "/enter", "/static/today.js", "/api/today", "/nowhere"} {
		got, err := newPhone(t, server.URL).client.Get(server.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		got.Body.Close()
		h := got.Header
		if !strings.Contains(h.Get("Content-Security-Policy"), "default-src 'none'") || strings.Contains(h.Get("Content-Security-Policy"), "unsafe") ||
			h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: %v", path, h)
		}
		for _, c := range got.Cookies() {
			if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
				t.Errorf("%s: cookie %v", path, c)
			}
		}
	}
}

// What is too large, damaged, cut short or no photo is refused with a word, and nothing of it stays among the photos.
func TestServeRefusesUploads(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	server, _ := served(t, dir, false, nil)
	p := newPhone(t, server.URL)
	p.load("/")
	photo := takenPhoto(t, card.Roots, 1)
	sha := shaOf(photo)
	text := []byte("<html><script>alert(1)</script>")
	cut := photo[:len(photo)/2]
	bomb := hugePNG()
	n := len(photo)
	for name, c := range map[string]struct {
		raw          []byte
		sha          string
		size, offset int
		rest         string
		want         int
		say          string
	}{
		"a part too large":           {make([]byte, serve.MostChunkBytes+1), sha, serve.MostPhotoBytes, 0, "", 413, "kB"},
		"a photo too large":          {photo[:10], sha, serve.MostPhotoBytes + 1, 0, "", 413, "12 to 50 megapixels"},
		"no photo":                   {text, shaOf(text), len(text), 0, "", 415, "not a photo in a known format"},
		"half a photo":               {cut, shaOf(cut), len(cut), 0, "", 415, "without its end"},
		"a picture that would swell": {bomb, shaOf(bomb), len(bomb), 0, "", 415, "megapixels"},
		"other bytes than said":      {photo, strings.Repeat("0", 64), n, 0, "", 422, "damaged"},
		"beyond its end":             {photo, sha, n - 1, 0, "", 409, `"have":0`},
		"not at its end":             {photo, sha, n, 7, "", 409, `"have":0`},
		"a digest that is a path":    {photo, "../../etc/passwd", n, 0, "", 400, "SHA-256"},
		"no digest":                  {photo, "", n, 0, "", 400, "SHA-256"},
		"nothing":                    {nil, sha, 0, 0, "", 400, "empty"},
		"a view that is a path":      {photo, sha, n, 0, "&view=..%2F..%2Fx", 400, "roots or shoots"},
		"a tray beyond all":          {photo, sha, n, 0, "&tray=999999999999", 400, "trays"},
	} {
		if status, got := p.put(c.raw, c.sha, c.size, c.offset, c.rest); status != c.want || !strings.Contains(got, c.say) {
			t.Errorf("%s: %d %s, want %d and %q", name, status, got, c.want, c.say)
		}
	}
	if got := photosIn(t, dir); len(got) > 0 {
		t.Errorf("kept %v", got)
	}
	for _, body := range []string{``, `{`, `[]`, `{"tray":1,"colour":"red"}`, `{"tray":1}{}`, `{"tray":99,"at":"2026-03-12T09:00:00Z"}`, `{"tray":1,"at":"2027-03-12T09:00:00Z"}`,
		`{"tray":1,"at":"2026-03-12T09:00:00Z","water_ml":-1}`, `{"tray":1,"at":"2026-03-12T09:00:00Z","given":[{"product":" ","ml":1}]}`} {
		if status, got := p.ask("POST", "/api/fed", []byte(body)); status != 400 || !strings.Contains(got, "problem") {
			t.Errorf("a feeding of %s: %d %s", body, status, got)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "log.csv")); err == nil {
		t.Error("a log was begun")
	}
	for _, path := range []string{"/picture?id=..%2Ftrial.yaml", "/overlay?id=", "/report/..%2Ftrial.yaml", "/report/trial.yaml", "/static/..%2F..%2Fserver.go", "/static/today.html", "/api/verdict?photo=..%2Ftrial.yaml"} {
		if status, got := p.ask("GET", path, nil); status != 404 && status != 400 {
			t.Errorf("%s: %d %.100s", path, status, got)
		}
	}
}

// A photo that comes in parts, over a link that breaks, from two phones at once, is stored once and whole.
func TestServeTakesPhotosInParts(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	server, _ := served(t, dir, false, nil)
	photo := takenPhoto(t, card.Roots, 1)
	sha, n := shaOf(photo), len(photo)
	var both sync.WaitGroup
	for range 2 {
		both.Go(func() {
			p := newPhone(t, server.URL)
			p.load("/")
			var have struct {
				Have  int
				Photo string
			}
			for range 200 {
				end := min(n, have.Have+50_000)
				status, text := p.put(photo[have.Have:end], sha, n, have.Have, "&tray=1&view=roots")
				if status != 200 && status != 409 {
					t.Errorf("%d %s", status, text)
					return
				}
				if err := json.Unmarshal([]byte(text), &have); err != nil {
					t.Error(err)
					return
				}
				if have.Photo != "" {
					return
				}
			}
			t.Error("never whole")
		})
	}
	both.Wait()
	names := photosIn(t, dir)
	want := "day-10/tray-01-roots-" + sha[:12] + ".jpg"
	if !slices.Equal(names, []string{want}) {
		t.Fatalf("stored as %v, want %s", names, want)
	}
	if got := must(os.ReadFile(filepath.Join(dir, "photos", want))); !bytes.Equal(got, photo) {
		t.Error("the photo is not what was sent")
	}
	// Copied into the folder by hand, it is known as well.
	if err := os.Rename(filepath.Join(dir, "photos", want), filepath.Join(dir, "photos", "IMG_1.jpg")); err != nil {
		t.Fatal(err)
	}
	p := newPhone(t, server.URL)
	p.load("/")
	if status, text := p.ask("GET", fmt.Sprintf("/api/upload?sha=%s&size=%d", sha, n), nil); status != 200 || !strings.Contains(text, "IMG_1.jpg") {
		t.Errorf("%d %s", status, text)
	}
}

// Photos that were copied into the folder are measured once a page is looked at; a copy of one is told as such.
func TestServeMeasuresWhatLiesInTheFolder(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, raw := range map[string][]byte{"a.jpg": takenPhoto(t, card.Roots, 1), "b.jpg": takenPhoto(t, card.Shoots, 1), "b copy.jpg": takenPhoto(t, card.Shoots, 1), "c.jpg": []byte("a note")} {
		if err := os.WriteFile(filepath.Join(dir, "photos", name), raw, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	server, _ := served(t, dir, false, nil)
	p := newPhone(t, server.URL)
	p.load("/look")
	var list struct {
		Measuring int
		Photos    []struct{ Label, Verdict string }
	}
	for range 300 {
		_, text := p.ask("GET", "/api/photos", nil)
		if err := json.Unmarshal([]byte(text), &list); err != nil {
			t.Fatal(err)
		}
		if list.Measuring == 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	got := map[string]string{}
	for _, photo := range list.Photos {
		got[photo.Label] = photo.Verdict
	}
	want := map[string]string{"a.jpg": good, "b.jpg": unfit, "b copy.jpg": good, "c.jpg": unfit} // "b copy" comes first by name
	if !maps.Equal(got, want) || list.Measuring != 0 {
		t.Errorf("%v, %d to come; want %v", got, list.Measuring, want)
	}
}

// Eight phones send all at once, each its own tray, its feeding, and each feeding twice. Nothing is lost and nothing is there twice.
func TestServeEightPhonesAtOnce(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	server, s := served(t, dir, true, nil)
	var phones []*phone
	for range 8 {
		p := newPhone(t, server.URL)
		p.header["Content-Type"] = "application/x-www-form-urlencoded"
		if status, _ := p.ask("POST", "/enter", []byte("code="+s.Code())); status != 200 {
			t.Fatalf("%d", status)
		}
		delete(p.header, "Content-Type")
		p.load("/")
		phones = append(phones, p)
	}
	same := takenPhoto(t, card.Roots, 1)
	var all sync.WaitGroup
	for i, p := range phones {
		photo := append(slices.Clone(same), byte(i)) // bytes behind a JPEG's end are none of the picture
		all.Go(func() {
			for range 20 { // as the page does: again, while the server is busy
				status, text := p.put(photo, shaOf(photo), len(photo), 0, fmt.Sprintf("&tray=%d&view=roots", i+1))
				if status == 200 {
					break
				}
				if status != 503 {
					t.Errorf("phone %d: %d %s", i, status, text)
				}
				time.Sleep(20 * time.Millisecond)
			}
			fed := fmt.Appendf(nil, `{"tray":%d,"at":"2026-03-12T09:30:00.5Z","given":[{"product":"base feed","ml":3}],"water_ml":1500,"note":"","more":false}`, i+1)
			for range 2 {
				if status, text := p.ask("POST", "/api/fed", fed); status != 200 {
					t.Errorf("phone %d: %d %s", i, status, text)
				}
			}
		})
	}
	all.Wait()
	if names := photosIn(t, dir); len(names) != 8 {
		t.Errorf("%d photos: %v", len(names), names)
	}
	log, findings, err := plan.LoadLog(dir)
	if err != nil || len(findings) > 0 || len(log) != 8 {
		t.Errorf("%d lines in the log, %v, %v", len(log), findings, err)
	}
	later := []byte(`{"tray":3,"at":"2026-03-12T09:35:00Z","given":[],"water_ml":1500,"note":"","more":false}`)
	if status, text := phones[0].ask("POST", "/api/fed", later); status != 409 || !strings.Contains(text, "tray 3 was fed on that day already, at 09:30 (1500 mL in all, 3 mL base feed)") {
		t.Errorf("a second feeding on a day: %d %s", status, text)
	}
	if status, _ := phones[0].ask("POST", "/api/fed", bytes.Replace(later, []byte(`"more":false`), []byte(`"more":true`), 1)); status != 200 {
		t.Errorf("more, and said so: %d", status)
	}
	status, text := phones[0].ask("GET", "/api/today", nil)
	var day struct {
		Missing []string
		Trays   []struct{ Tray int }
	}
	if err := json.Unmarshal([]byte(text), &day); err != nil || status != 200 || len(day.Trays) != 8 || day.Trays[0].Tray != 8 ||
		strings.Contains(strings.Join(day.Missing, "; "), "feeding") {
		t.Errorf("the day: %d %s", status, text)
	}
}

var verdictWidth = flag.Int("verdict-width", 1120, "width in pixels of the photo of TestServeVerdictTime; 4032 is 12 megapixels")

// How long a phone waits for its verdict, from the first byte sent over this computer's own network to the words, beside what the measure
// command takes for the same photo. It prints both and claims nothing: machines differ.
func TestServeVerdictTime(t *testing.T) {
	s, text := feedingSpec(card.Roots, 7), feedingTrial
	if *verdictWidth > 3000 { // fifty plugs, as many as a phone's whole picture holds
		s = scene.Defaults(card.Roots)
		s.Number, s.Plants = 7, map[string]scene.Plant{}
		for _, name := range s.Tray.Cells() {
			s.Plants[name] = scene.Plant{Plug: true, RootLengthMM: 200}
		}
		text = strings.Replace(text, "{rows: 2, columns: 3, length_mm: 180, width_mm: 130, pitch_mm: 50, first_plug_mm: [40, 40]",
			"{rows: 5, columns: 10, length_mm: 540, width_mm: 280, pitch_mm: 50, first_plug_mm: [45, 40]", 1)
	}
	s.Resize(*verdictWidth, *verdictWidth*3/4)
	file := filepath.Join(t.TempDir(), "photo.jpg")
	drawPhoto(t, file, s)
	photo := must(os.ReadFile(file))

	alone := trialWith(t, text, "")
	if err := os.Mkdir(filepath.Join(alone, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(alone, "photos", "photo.jpg"), photo, 0o644); err != nil {
		t.Fatal(err)
	}
	begun := time.Now()
	if code, out, errs := traygauge("measure", alone); code == exitFailed || !strings.Contains(out, "roots: good") {
		t.Fatalf("%d: %s%s", code, out, errs)
	}
	measuring := time.Since(begun)

	server, _ := served(t, trialWith(t, text, ""), false, nil)
	p := newPhone(t, server.URL)
	p.load("/")
	begun = time.Now()
	var got struct {
		Have    int
		Photo   string
		Verdict string
	}
	for got.Photo == "" {
		status, answer := p.put(photo[got.Have:min(len(photo), got.Have+256<<10)], shaOf(photo), len(photo), got.Have, "&tray=7&view=roots")
		if err := json.Unmarshal([]byte(answer), &got); err != nil || status != 200 {
			t.Fatalf("%d %s", status, answer)
		}
	}
	if _, answer := p.ask("GET", "/api/verdict?photo="+url.QueryEscape(got.Photo), nil); json.Unmarshal([]byte(answer), &got) != nil || got.Verdict != good {
		t.Fatalf("%s", answer)
	}
	waiting := time.Since(begun)
	t.Logf("a photo of %.1f megapixels, %d kB: measure takes %v, a phone waits %v for its verdict: %.2f times as long", float64(*verdictWidth)*float64(*verdictWidth)*3/4e6,
		len(photo)>>10, measuring.Round(time.Millisecond), waiting.Round(time.Millisecond), waiting.Seconds()/measuring.Seconds())
}

// The command says where its pages are, lets nobody on the network in without being told to, and stops when it is told to.
func TestServeCommand(t *testing.T) {
	dir := trialWith(t, feedingTrial, "")
	for _, c := range []struct {
		args []string
		want []string
	}{
		{nil, []string{"http://localhost:", "Only this computer reaches them"}},
		{[]string{"--lan"}, []string{"not encrypted", "Code for the next phone: ", "█"}},
	} {
		out, stop := started(t, append([]string{"serve", dir, "--port", "0", "--on", "2026-03-12"}, c.args...)...)
		for _, say := range c.want {
			if !strings.Contains(out.String(), say) {
				t.Errorf("%v says\n%s\nwithout %q", c.args, out.String(), say)
			}
		}
		if m := regexp.MustCompile(`http://localhost:\d+/`).FindString(out.String()); m != "" {
			p := newPhone(t, strings.TrimSuffix(m, "/"))
			if status, text := p.ask("GET", "/", nil); status != 200 || !strings.Contains(text, "Feeding day") {
				t.Errorf("%d %.200s", status, text)
			}
			if status, text := p.ask("GET", "/api/today", nil); status != 200 || !strings.Contains(text, `"day":10`) {
				t.Errorf("%d %.200s", status, text)
			}
		}
		stop()
	}
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitUsage, []string{"--cert", "x"}, "--cert and --key go together"},
		{exitUsage, []string{"--port", "70000"}, "--port"},
		{exitUsage, []string{"--on", "tomorrow"}, "--on"},
	} {
		if code, _, errs := traygauge(append([]string{"serve", dir}, c.args...)...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit %d: %s", c.args, code, errs)
		}
	}
	if code, _, errs := traygauge("serve", t.TempDir()); code != exitFailed || !strings.Contains(errs, "trial.yaml") {
		t.Errorf("no trial: exit %d: %s", code, errs)
	}
}

// With a certificate the link is encrypted, the cookie goes over no other, and nothing is said of reading along.
func TestServeEncrypted(t *testing.T) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	cert := worked(x509.CreateCertificate(rand.Reader, about, about, &key.PublicKey, key))
	dir := trialWith(t, feedingTrial, "")
	for name, block := range map[string]*pem.Block{"cert.pem": {Type: "CERTIFICATE", Bytes: cert}, "key.pem": {Type: "PRIVATE KEY", Bytes: worked(x509.MarshalPKCS8PrivateKey(key))}} {
		if err := os.WriteFile(filepath.Join(dir, name), pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, stop := started(t, "serve", dir, "--port", "0", "--lan", "--cert", filepath.Join(dir, "cert.pem"), "--key", filepath.Join(dir, "key.pem"))
	defer stop()
	port := regexp.MustCompile(`https://[^/ ]+:(\d+)/`).FindStringSubmatch(out.String())
	code := regexp.MustCompile(`next phone: (\w+-\w+)`).FindStringSubmatch(out.String())
	if port == nil || code == nil || strings.Contains(out.String(), "not encrypted") {
		t.Fatalf("it says\n%s", out.String())
	}
	p := newPhone(t, "https://127.0.0.1:"+port[1])
	trusted := x509.NewCertPool()
	trusted.AddCert(worked(x509.ParseCertificate(cert)))
	p.client.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted}}
	p.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	got, err := p.client.PostForm(p.url+"/enter", url.Values{"code": {code[1]}})
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	if c := got.Cookies(); got.StatusCode != http.StatusSeeOther || len(c) != 1 || !c[0].Secure || !c[0].HttpOnly {
		t.Errorf("%d, cookies %v", got.StatusCode, c)
	}
}

func worked[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// started runs a command until stop is called, and returns what it says once it says that it can be stopped.
func started(t *testing.T, args ...string) (out *lockedBuffer, stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out = &lockedBuffer{}
	std := streams{strings.NewReader(""), out, out}
	ended := make(chan error, 1)
	root := newRootCommand(&std)
	root.SetArgs(args)
	go func() { ended <- root.ExecuteContext(ctx) }()
	for range 1000 {
		if strings.Contains(out.String(), "Ctrl-C") {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	return out, func() {
		t.Helper()
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("stopped: %v", err)
		}
	}
}

type lockedBuffer struct {
	mu  sync.Mutex
	all bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.all.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.all.String()
}
