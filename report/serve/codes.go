package serve

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"strings"
	"sync"
	"time"
)

const (
	codeLife  = time.Hour        // then another is shown
	codeGrace = 10 * time.Minute // and the one before is taken for so much longer: somebody may be typing it

	// Of 8 letters out of 31 there are 8.5e11. Five tries a minute from one address for a day are 7 200, one chance in 118 million; the
	// computers of a whole network, 250 addresses, have one in 470 000.
	codeLetters = "23456789ABCDEFGHJKMNPQRSTUVWXYZ" // no 0 O 1 I L
	codeLength  = 8

	mostWrong   = 5 // codes from one address, within wrongWindow
	wrongWindow = time.Minute
	mostSenders = 10_000 // addresses that are kept in mind
)

// Code lets one phone in. Its Secret is what the QR code holds: too long to be guessed (128 bits or more), so it is taken from any address at any
// time.
type Code struct {
	Typed  string // as it is shown and typed, without its hyphen
	Secret string
}

func freshCode() Code {
	var code strings.Builder
	for code.Len() < codeLength {
		var b [1]byte
		rand.Read(b[:])                                        // never fails, by its documentation
		if int(b[0]) < 256/len(codeLetters)*len(codeLetters) { // each letter as likely as the others
			code.WriteByte(codeLetters[int(b[0])%len(codeLetters)])
		}
	}
	return Code{code.String(), rand.Text()}
}

// codes keeps the codes that open the trial: one that is on the screen, for a phone, and one for the computer itself. Whoever sends wrong
// ones slows only himself.
type codes struct {
	show  func(Code)       // puts a code on the computer's screen
	say   func(string)     // in the terminal
	now   func() time.Time // the real clock, also where a page shows another day
	after func(time.Duration, func())

	mu          sync.Mutex
	owner       string // lets the computer's own browser in, again and again
	code        Code
	before      Code // the one that was shown before, "" where it was used
	beforeUntil time.Time
	senders     map[string]*sender
	saidAt      time.Time // when the terminal heard of a guesser last
	closed      bool
	renewals    int // counts the codes that were shown, so that a timer of an earlier one does nothing
}

// sender is who sent wrong codes.
type sender struct {
	wrong int // within the window
	since time.Time
	all   int
	last  time.Time
}

func newCodes(o Options) *codes {
	c := &codes{show: o.NewCode, say: o.say, now: time.Now, after: func(d time.Duration, f func()) { time.AfterFunc(d, f) }, senders: map[string]*sender{},
		owner: rand.Text(), code: freshCode()}
	if c.show == nil {
		c.show = func(Code) {}
	}
	c.startTimer()
	return c
}

// startTimer has the code replaced on screen when its time is over.
func (c *codes) startTimer() {
	n := c.renewals
	c.after(codeLife, func() { c.replaceOld(n) })
}

// replaceOld shows another code in place of the n-th, if that is still on screen.
func (c *codes) replaceOld(n int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.closed || n != c.renewals {
		return
	}
	c.before, c.beforeUntil = c.code, c.now().Add(codeGrace)
	c.renew()
}

// renew makes and shows another code.
func (c *codes) renew() {
	c.code = freshCode()
	c.renewals++
	c.startTimer()
	go c.show(c.code) // what shows it may be slow
}

func (c *codes) close() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.closed = true
}

// current returns the code that is on screen.
func (c *codes) current() Code {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.code
}

// admission is what came of a code.
type admission int

const (
	wrongCode admission = iota
	admitted
	admittedOwner
	tooManyTries
)

// try uses up a code. One that lets a phone in is replaced on screen at once. After too many wrong ones from an address it says how long
// typed codes from there are not looked at.
func (c *codes) try(text, address string) (a admission, wait time.Duration) {
	text = strings.ToUpper(strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return -1
		}
		return r
	}, text))
	c.mu.Lock()
	defer c.mu.Unlock()
	now := c.now()
	switch {
	case same(text, c.owner):
		return admittedOwner, 0
	case same(text, c.code.Secret):
		c.renew()
		return admitted, 0
	case c.before.Secret != "" && same(text, c.before.Secret) && now.Before(c.beforeUntil):
		c.before = Code{}
		return admitted, 0
	}
	s := c.senderAt(address, now)
	if s.wrong >= mostWrong {
		return tooManyTries, s.since.Add(wrongWindow).Sub(now)
	}
	switch {
	case same(text, c.code.Typed):
		delete(c.senders, address)
		c.renew()
		return admitted, 0
	case c.before.Typed != "" && same(text, c.before.Typed) && now.Before(c.beforeUntil):
		delete(c.senders, address)
		c.before = Code{}
		return admitted, 0
	}
	s.wrong++
	s.all++
	s.last = now
	if s.wrong == mostWrong && now.Sub(c.saidAt) >= wrongWindow { // not for each of many addresses
		c.saidAt = now
		go c.say(fmt.Sprintf("Somebody at %s is guessing codes: %d wrong ones so far. Only that address has to wait.", address, s.all))
	}
	return wrongCode, 0
}

// senderAt returns what is known of an address, whose window begins again when it is over.
func (c *codes) senderAt(address string, now time.Time) *sender {
	s := c.senders[address]
	if s == nil {
		if len(c.senders) >= mostSenders {
			c.forgetSenders(now)
		}
		s = &sender{since: now}
		c.senders[address] = s
	}
	if now.Sub(s.since) >= wrongWindow {
		s.since, s.wrong = now, 0
	}
	return s
}

// forgetSenders drops the addresses whose windows are over; where none is, the one whose window began first.
func (c *codes) forgetSenders(now time.Time) {
	oldest := ""
	for address, s := range c.senders {
		if now.Sub(s.since) >= wrongWindow {
			delete(c.senders, address)
		} else if oldest == "" || s.since.Before(c.senders[oldest].since) {
			oldest = address
		}
	}
	if len(c.senders) >= mostSenders {
		delete(c.senders, oldest)
	}
}

// guesser is an address from which wrong codes came.
type guesser struct {
	Address string    `json:"address"`
	Wrong   int       `json:"wrong"`
	Last    time.Time `json:"last"`
}

// guessers returns the addresses from which many wrong codes came in the last day.
func (c *codes) guessers() []guesser {
	c.mu.Lock()
	defer c.mu.Unlock()
	list := []guesser{}
	for address, s := range c.senders {
		if s.all >= mostWrong && c.now().Sub(s.last) < 24*time.Hour {
			list = append(list, guesser{address, s.all, s.last})
		}
	}
	return list
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
