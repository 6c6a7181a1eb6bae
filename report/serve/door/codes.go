package door

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"strings"
	"sync"
	"time"
)

const (
	codeLife  = time.Hour        // after which another is shown
	codeGrace = 10 * time.Minute // for which the previous one is still accepted: somebody may be typing it

	// Of 8 letters out of 31 there are 8.5e11. Five tries a minute from one address for a day are 7 200, one chance in 118 million; the
	// computers of a whole network, 250 addresses, have one in 470 000.
	codeLetters = "23456789ABCDEFGHJKMNPQRSTUVWXYZ" // no 0 O 1 I L
	codeLength  = 8

	mostWrong   = 5 // codes from one address, within wrongWindow
	wrongWindow = time.Minute
	mostSenders = 10_000 // addresses that are remembered
)

// Code lets one phone in. Secret is in the QR code. It is too long to guess (128 bits or more) and is therefore accepted from any address
// at any time.
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

// codes holds the code on the screen, for the next phone, and the code of the computer's own browser. Wrong codes slow down only the address
// that sends them.
type codes struct {
	show  func(Code)       // puts a code on the computer's screen
	say   func(string)     // in the terminal
	now   func() time.Time // the real clock, also where a page shows another day
	after func(time.Duration, func())

	mu          sync.Mutex
	owner       string // lets the computer's own browser in, any number of times
	code        Code
	before      Code // the previous one, empty once it is used
	beforeUntil time.Time
	senders     map[string]*sender
	saidAt      time.Time // when the terminal last reported a guesser
	closed      bool
	renewals    int // counts the codes shown, so that the timer of an earlier code does nothing
}

// sender is an address that sent wrong codes.
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

// startTimer replaces the code on the screen after codeLife.
func (c *codes) startTimer() {
	n := c.renewals
	c.after(codeLife, func() { c.replaceOld(n) })
}

// replaceOld replaces the n-th code if it is still on the screen.
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
	go c.show(c.code) // showing may be slow
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

// try uses up a code. A code that lets a phone in is replaced on the screen at once. After too many wrong codes from an address, wait is how
// long typed codes from there are ignored.
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
	if s.wrong == mostWrong && now.Sub(c.saidAt) >= wrongWindow { // once, however many addresses
		c.saidAt = now
		go c.say(fmt.Sprintf("Someone at %s is guessing codes: %d wrong so far. Only that address is slowed down.", address, s.all))
	}
	return wrongCode, 0
}

// senderAt returns the record of an address, with a new window if the last one is over.
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

// forgetSenders drops the addresses whose windows are over or, if there are none, the one with the oldest window.
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
