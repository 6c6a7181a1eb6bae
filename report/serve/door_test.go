package serve

import (
	"net/http"
	"net/http/httptest"
	"testing"
	"time"
)

func TestCodes(t *testing.T) {
	seen := map[string]bool{}
	letters := map[rune]int{}
	for range 2000 {
		code := freshCode()
		if len(code) != codeLength || seen[code] {
			t.Fatalf("%q", code)
		}
		seen[code] = true
		for _, r := range code {
			letters[r]++
		}
	}
	// 16 000 letters of 31 kinds: 516 of each, with a standard deviation of 22 (binomial, √(16 000·(1/31)·(30/31))).
	for _, r := range codeLetters {
		if n := letters[r]; n < 516-6*22 || n > 516+6*22 {
			t.Errorf("%c came %d times", r, n)
		}
	}
}

// A code is good once and for an hour; who guesses waits, by address and all together.
func TestDoor(t *testing.T) {
	now := time.Date(2026, 3, 16, 8, 0, 0, 0, time.UTC)
	shown := make(chan string, 10)
	d := newDoor(Options{NewCode: func(c string) { shown <- c }})
	d.now = func() time.Time { return now }
	d.made = now
	first := d.Code()
	if got := d.try(first, "a"); got != admitted || <-shown != d.Code() {
		t.Errorf("the first: %v", got)
	}
	if got := d.try(first, "a"); got != wrongCode {
		t.Errorf("used before: %v", got)
	}
	for range triesPerAddress {
		d.try("x", "a")
	}
	if got := d.try(d.Code(), "a"); got != tooManyTries {
		t.Errorf("after many tries: %v", got)
	}
	if got := d.try(d.Code(), "b"); got != admitted {
		t.Errorf("somebody else: %v", got)
	}
	for _, from := range []string{"c", "d", "e", "f", "g"} {
		for range triesPerAddress {
			d.try("x", from)
		}
	}
	if got := d.try(d.Code(), "h"); got != tooManyTries {
		t.Errorf("after many tries from everywhere: %v", got)
	}
	now = now.Add(time.Minute)
	if got := d.try(d.Code(), "h"); got != admitted {
		t.Errorf("a minute later: %v", got)
	}
	old := d.Code()
	now = now.Add(codeLife + time.Minute)
	if got := d.try(old, "h"); got != wrongCode || d.Code() == old {
		t.Errorf("an hour later: %v", got)
	}
}

func TestSessionsEnd(t *testing.T) {
	now := time.Date(2026, 3, 16, 8, 0, 0, 0, time.UTC)
	d := newDoor(Options{Secure: true})
	d.now = func() time.Time { return now }
	with := func(c *http.Cookie) *http.Request {
		r := httptest.NewRequest("GET", "/", nil)
		r.AddCookie(c)
		return r
	}
	first := d.open(httptest.NewRecorder())
	if !first.Secure || !first.HttpOnly || d.token(with(first)) == "" {
		t.Errorf("%v", first)
	}
	if d.token(with(&http.Cookie{Name: cookieName, Value: first.Value + "x"})) != "" {
		t.Error("another cookie is taken for it")
	}
	for range mostSessions {
		now = now.Add(time.Second)
		d.open(httptest.NewRecorder())
	}
	if d.token(with(first)) != "" {
		t.Error("of too many, the oldest is still there")
	}
	last := d.open(httptest.NewRecorder())
	now = now.Add(sessionLife + time.Minute)
	if d.token(with(last)) != "" {
		t.Error("a session outlives the day")
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
