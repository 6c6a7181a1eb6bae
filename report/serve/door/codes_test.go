package door

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func TestFreshCodes(t *testing.T) {
	seen := map[string]bool{}
	letters := map[rune]int{}
	for range 2000 {
		code := freshCode()
		if len(code.Typed) != codeLength || len(code.Secret) < 20 || seen[code.Typed] || seen[code.Secret] {
			t.Fatalf("%+v", code)
		}
		seen[code.Typed], seen[code.Secret] = true, true
		for _, r := range code.Typed {
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

// testCodes are codes whose clock and timers a test turns.
type testCodes struct {
	*codes
	at     time.Time
	timers []func()
	shown  chan Code
	said   chan string
}

func newTestCodes(t *testing.T) *testCodes {
	c := &testCodes{at: time.Date(2026, 3, 16, 8, 0, 0, 0, time.UTC), shown: make(chan Code, 100), said: make(chan string, 100)}
	c.codes = newCodes(Options{NewCode: func(code Code) { c.shown <- code }, Say: func(words string) { c.said <- words }})
	c.now = func() time.Time { return c.at }
	c.after = func(_ time.Duration, f func()) { c.timers = append(c.timers, f) }
	c.timers = []func(){func() { c.replaceOld(0) }} // in place of the one that runs by the real clock
	t.Cleanup(c.close)
	return c
}

func (c *testCodes) tries(t *testing.T, text, address string, want admission) {
	t.Helper()
	if got, _ := c.try(text, address); got != want {
		t.Errorf("%s from %s: %v, want %v", text, address, got, want)
	}
}

// A code is good once, as it is typed; the next is on screen at once.
func TestACodeIsGoodOnce(t *testing.T) {
	c := newTestCodes(t)
	first := c.current()
	c.tries(t, strings.ToLower(first.Typed[:4])+"-"+first.Typed[4:]+" ", "a", admitted)
	if shown := <-c.shown; shown != c.current() || shown == first {
		t.Errorf("on screen is %v", shown)
	}
	c.tries(t, first.Typed, "a", wrongCode)
	c.tries(t, first.Secret, "a", wrongCode)
	second := c.current()
	c.tries(t, second.Secret, "a", admitted)
	c.tries(t, second.Typed, "b", wrongCode)
	c.tries(t, "", "b", wrongCode)
}

// Whoever guesses waits; no one else does, however many guess. What the QR code holds is taken from anywhere.
func TestGuessingSlowsOnlyWhoGuesses(t *testing.T) {
	c := newTestCodes(t)
	for n := range 200 { // two hundred computers, five wrong codes each, in one minute
		for range mostWrong {
			c.tries(t, "ABCDEFGH", fmt.Sprintf("192.168.1.%d", n), wrongCode)
		}
	}
	got, wait := c.try(c.current().Typed, "192.168.1.7")
	if got != tooManyTries || wait <= 0 || wait > wrongWindow {
		t.Errorf("from an address that guessed: %v, for %v", got, wait)
	}
	c.tries(t, c.current().Secret, "192.168.1.7", admitted)
	c.tries(t, c.current().Typed, "192.168.1.250", admitted)
	c.tries(t, c.owner, "192.168.1.7", admittedOwner)
	c.tries(t, c.owner, "192.168.1.7", admittedOwner) // as often as it is asked
	if words := <-c.said; !strings.Contains(words, "guessing codes: 5 wrong so far") || !strings.Contains(words, "192.168.1.") {
		t.Errorf("the terminal says %q", words)
	}
	if n := len(c.said); n > 0 {
		t.Errorf("the terminal says it %d times more in one minute", n)
	}
	if n := len(c.guessers()); n != 200 {
		t.Errorf("%d addresses are listed, want 200", n)
	}
	c.at = c.at.Add(wrongWindow)
	c.tries(t, c.current().Typed, "192.168.1.7", admitted)
}

// A code that no one used is replaced on screen, and taken for a while longer. So what the screen shows is always good.
func TestAnOldCodeIsReplacedOnScreen(t *testing.T) {
	c := newTestCodes(t)
	old := c.current()
	c.at = c.at.Add(codeLife)
	c.timers[0]()
	if shown := <-c.shown; shown == old || shown != c.current() {
		t.Fatalf("on screen is %v", shown)
	}
	c.tries(t, old.Typed, "a", admitted) // somebody was just typing it
	c.tries(t, old.Typed, "a", wrongCode)
	c.tries(t, old.Secret, "a", wrongCode)
	c.tries(t, c.current().Typed, "a", admitted)

	older := c.current()
	last := len(c.timers) - 1
	c.at = c.at.Add(codeLife)
	c.timers[last]()
	c.at = c.at.Add(codeGrace + time.Second)
	c.tries(t, older.Typed, "b", wrongCode)

	now := c.current()
	c.timers[last]() // that of a code that is not on screen any more
	if c.current() != now {
		t.Error("a timer of an earlier code replaced a later one")
	}
	c.close()
	c.timers[len(c.timers)-1]()
	if c.current() != now {
		t.Error("a code was replaced after the end")
	}
}

// Many addresses take no more memory than a few thousand do.
func TestManySenders(t *testing.T) {
	c := newTestCodes(t)
	for n := range mostSenders + 500 {
		c.tries(t, "ABCDEFGH", fmt.Sprint(n), wrongCode)
	}
	if n := len(c.senders); n > mostSenders {
		t.Errorf("%d addresses are kept", n)
	}
	c.at = c.at.Add(2 * wrongWindow)
	c.tries(t, "ABCDEFGH", "another", wrongCode)
	if n := len(c.senders); n > 1 {
		t.Errorf("%d addresses are kept after their time", n)
	}
}
