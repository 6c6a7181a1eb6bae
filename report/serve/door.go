package serve

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

const (
	cookieName = "traygauge"

	sessionLife = 12 * time.Hour // a feeding day
	codeLife    = time.Hour

	// Of 8 letters out of 31 there are 8.5e11. Twenty tries a minute for a day are 29 000, one chance in 30 million.
	codeLetters     = "23456789ABCDEFGHJKMNPQRSTUVWXYZ" // no 0 O 1 I L
	codeLength      = 8
	triesPerAddress = 5 // a minute
	triesInAll      = 20
	mostSessions    = 200
)

// door lets people in by one-time codes, and keeps their sessions. Sessions end with the program.
type door struct {
	secure  bool
	newCode func(string)
	now     func() time.Time // the real clock, also where a page shows another day

	mu       sync.Mutex
	code     string
	made     time.Time
	sessions map[[32]byte]session // by the SHA-256 of the cookie
	tries    map[string]int       // by address, within the minute
	minute   time.Time
}

type session struct {
	token string
	used  time.Time
}

func newDoor(o Options) *door {
	d := &door{secure: o.Secure, newCode: o.NewCode, now: time.Now, sessions: map[[32]byte]session{}, tries: map[string]int{}}
	if d.newCode == nil {
		d.newCode = func(string) {}
	}
	d.code, d.made = freshCode(), d.now()
	return d
}

func freshCode() string {
	var code strings.Builder
	for code.Len() < codeLength {
		var b [1]byte
		rand.Read(b[:])                                        // never fails, by its documentation
		if int(b[0]) < 256/len(codeLetters)*len(codeLetters) { // each letter as likely as the others
			code.WriteByte(codeLetters[int(b[0])%len(codeLetters)])
		}
	}
	return code.String()
}

// Code returns the code that is good now.
func (d *door) Code() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.code
}

// admission is what came of a code.
type admission int

const (
	wrongCode admission = iota
	admitted
	tooManyTries
)

// try uses up a code. A right one is replaced by the next at once.
func (d *door) try(code, address string) admission {
	d.mu.Lock()
	defer d.mu.Unlock()
	now := d.now()
	if now.Sub(d.minute) >= time.Minute {
		d.minute = now
		clear(d.tries)
	}
	if d.tries[address] >= triesPerAddress || d.tries[""] >= triesInAll {
		return tooManyTries
	}
	if now.Sub(d.made) > codeLife {
		d.renew(now)
	}
	code = strings.ToUpper(strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return -1
		}
		return r
	}, code))
	if !same(code, d.code) {
		d.tries[address]++
		d.tries[""]++
		return wrongCode
	}
	d.renew(now)
	return admitted
}

func (d *door) renew(now time.Time) {
	d.code, d.made = freshCode(), now
	go d.newCode(d.code) // what shows it may be slow
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// open begins a session, with a token that its pages show with each change, and returns the cookie that it sets.
func (d *door) open(w http.ResponseWriter) *http.Cookie {
	cookie := &http.Cookie{Name: cookieName, Value: rand.Text(), Path: "/", HttpOnly: true, Secure: d.secure, SameSite: http.SameSiteStrictMode,
		MaxAge: int(sessionLife.Seconds())}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.forgetOld()
	d.sessions[sha256.Sum256([]byte(cookie.Value))] = session{rand.Text(), d.now()}
	http.SetCookie(w, cookie)
	return cookie
}

// forgetOld ends the sessions that nobody used for long, and of too many the one unused for longest.
func (d *door) forgetOld() {
	var oldest [32]byte
	for key, s := range d.sessions {
		if d.now().Sub(s.used) > sessionLife {
			delete(d.sessions, key)
			continue
		}
		if o, ok := d.sessions[oldest]; !ok || s.used.Before(o.used) {
			oldest = key
		}
	}
	if len(d.sessions) >= mostSessions {
		delete(d.sessions, oldest)
	}
}

// token returns the token of the request's session, "" where it has none.
func (d *door) token(r *http.Request) string {
	cookie, err := r.Cookie(cookieName)
	if err != nil {
		return ""
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	key := sha256.Sum256([]byte(cookie.Value))
	s, ok := d.sessions[key]
	if !ok || d.now().Sub(s.used) > sessionLife {
		return ""
	}
	s.used = d.now()
	d.sessions[key] = s
	return s.token
}

// addressOf returns who asks, without the port. An IPv6 network counts as one, since whoever has one has all its addresses.
func addressOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	if ip := net.ParseIP(host); ip != nil && ip.To4() == nil {
		return ip.Mask(net.CIDRMask(64, 128)).String()
	}
	return host
}

func (s *Server) enterPage(w http.ResponseWriter, r *http.Request) {
	s.showEnter(w, http.StatusOK, "")
}

// enter takes a code from the page's form.
func (s *Server) enter(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
	switch s.door.try(r.PostFormValue("code"), addressOf(r)) {
	case admitted:
		s.door.open(w)
		http.Redirect(w, r, "/", http.StatusSeeOther)
	case tooManyTries:
		w.Header().Set("Retry-After", "60")
		s.showEnter(w, http.StatusTooManyRequests, "Too many wrong codes. Wait a minute, then enter the code that the terminal shows then.")
	default:
		s.showEnter(w, http.StatusForbidden, "That is not the code, or it was used already. Each code lets one phone in; enter the one that the terminal shows now.")
	}
}

func (s *Server) showEnter(w http.ResponseWriter, status int, problem string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	pages.ExecuteTemplate(w, "enter.html", struct {
		Problem string
		Secure  bool
	}{problem, s.o.Secure})
}
