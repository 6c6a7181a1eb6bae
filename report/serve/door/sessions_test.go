package door

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// testSessions are sessions of a folder, whose clock a test turns.
func testSessions(dir string, at *time.Time) *sessions {
	s := loadSessions(Options{Dir: dir, Secure: true})
	s.now = func() time.Time { return *at }
	return s
}

func asking(cookies ...*http.Cookie) *http.Request {
	r := httptest.NewRequest("GET", "/", nil)
	for _, c := range cookies {
		r.AddCookie(c)
	}
	return r
}

// of returns the token of a request, and the cookie that the answer sets.
func of(s *sessions, r *http.Request) (token string, set *http.Cookie) {
	w := httptest.NewRecorder()
	_, token = s.of(w, r)
	if c := w.Result().Cookies(); len(c) > 0 {
		set = c[0]
	}
	return token, set
}

func TestSessionsEnd(t *testing.T) {
	at := time.Date(2026, 3, 16, 7, 0, 0, 0, time.UTC)
	s := testSessions(t.TempDir(), &at)
	first := s.open(httptest.NewRecorder(), asking(), false)
	if token, _ := of(s, asking(first)); !first.Secure || !first.HttpOnly || first.SameSite != http.SameSiteStrictMode || token == "" || strings.Contains(token, first.Value) {
		t.Errorf("%v, token %q", first, token)
	}
	changed := *first
	changed.Value += "x"
	if token, _ := of(s, asking(&changed)); token != "" {
		t.Error("another cookie is taken for it")
	}
	for range mostSessions {
		at = at.Add(time.Second)
		s.open(httptest.NewRecorder(), asking(), false)
	}
	if token, _ := of(s, asking(first)); token != "" {
		t.Error("of too many, the one unused for longest is still there")
	}
	last := s.open(httptest.NewRecorder(), asking(), false)
	at = at.Add(sessionLife + time.Minute)
	if token, _ := of(s, asking(last)); token != "" || len(s.in()) > 0 {
		t.Error("a session outlives a day without use")
	}
}

// A phone that is used stays in from morning to night, and its cookie with it; over a restart, too.
func TestSessionsLastWhileTheyAreUsed(t *testing.T) {
	dir := t.TempDir()
	at := time.Date(2026, 3, 16, 7, 0, 0, 0, time.UTC)
	s := testSessions(dir, &at)
	cookie := s.open(httptest.NewRecorder(), asking(), false)
	token, _ := of(s, asking(cookie))
	for range 3 * 24 * 2 { // three days, every half an hour
		at = at.Add(30 * time.Minute)
		now, set := of(s, asking(cookie))
		if now != token {
			t.Fatalf("at %v the token is %q, was %q", at, now, token)
		}
		if set != nil && (set.Value != cookie.Value || set.MaxAge != int(sessionLife.Seconds()) || !set.HttpOnly || !set.Secure) {
			t.Fatalf("the cookie is set again as %v", set)
		}
		if set == nil && at.Minute() == 0 {
			t.Fatalf("at %v the cookie is not set again", at)
		}
	}
	if token, _ := of(testSessions(dir, &at), asking(cookie)); token != tokenOf(cookie.Value) { // killed, without a close
		t.Error("out after a restart")
	}
	s.close()
	text, err := os.ReadFile(filepath.Join(dir, phonesFile))
	if err != nil || strings.Contains(string(text), cookie.Value) || strings.Contains(string(text), token) {
		t.Errorf("the file gives the cookie or the token away, or is not there: %v", err)
	}
	if !s.letOut(s.in()[0].Key) || s.letOut("nobody") {
		t.Error("let out")
	}
	if token, _ := of(testSessions(dir, &at), asking(cookie)); token != "" {
		t.Error("let out, and in again after a restart")
	}
}

// Two trials on one computer have cookies of different names, because browsers keep cookies by computer and not by port.
func TestTrialsDoNotPutEachOtherOut(t *testing.T) {
	at := time.Date(2026, 3, 16, 7, 0, 0, 0, time.UTC)
	one, two := testSessions(t.TempDir(), &at), testSessions(t.TempDir(), &at)
	first, second := one.open(httptest.NewRecorder(), asking(), false), two.open(httptest.NewRecorder(), asking(), false)
	if first.Name == second.Name {
		t.Errorf("both cookies are called %s", first.Name)
	}
	for _, s := range []*sessions{one, two} {
		if token, _ := of(s, asking(first, second)); token == "" {
			t.Error("out, with both cookies")
		}
	}
}

// A list that cannot be read lets no one in, and says so; a new one is begun.
func TestABrokenListOfPhones(t *testing.T) {
	for _, text := range []string{"{", `{"trial":"abcdefgh","phones":[null]}`, `{"trial":"../../..","phones":[]}`, `{"trial":"abcdefgh","phones":[{"key":""}]}`, strings.Repeat(" ", mostPhones+1)} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, phonesFile), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		said := ""
		s := loadSessions(Options{Dir: dir, Say: func(words string) { said = words }})
		if len(s.in()) > 0 || !strings.Contains(said, phonesFile) {
			t.Errorf("%.40q: %v, said %q", text, s.in(), said)
		}
		cookie := s.open(httptest.NewRecorder(), asking(), false)
		if token, _ := of(loadSessions(Options{Dir: dir}), asking(cookie)); token == "" {
			t.Errorf("%.40q: no new list was begun", text)
		}
	}
}

// The same browser paired again is one phone; two of a kind get different names.
func TestNamesOfPhones(t *testing.T) {
	at := time.Date(2026, 3, 16, 7, 0, 0, 0, time.UTC)
	s := testSessions(t.TempDir(), &at)
	phone := func(cookies ...*http.Cookie) *http.Request {
		r := asking(cookies...)
		r.Header.Set("User-Agent", "Mozilla/5.0 (Mobile; rv:140.0) Gecko/140.0")
		return r
	}
	first := s.open(httptest.NewRecorder(), phone(), false)
	s.open(httptest.NewRecorder(), phone(), false)
	s.open(httptest.NewRecorder(), phone(first), false)
	var names []string
	for _, p := range s.in() {
		names = append(names, p.Name)
	}
	if got := strings.Join(names, ", "); got != "Phone, Phone 2" {
		t.Errorf("%s", got)
	}
}

func TestOwnHost(t *testing.T) {
	for host, want := range map[string]bool{"localhost:8510": true, "127.0.0.1": true, "[::1]:8510": true, "192.168.1.20:8510": true, "LOCALHOST": true,
		"trial.example.org:8510": false, "localhost.example.org": false, "127.0.0.1.example.org": false, "": false} {
		if got := ownHost(host); got != want {
			t.Errorf("%q: %v", host, got)
		}
	}
}
