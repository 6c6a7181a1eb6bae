package door

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"traygauge/measure/store"
)

// phonesFile lists the phones that are let in. It holds digests of their cookies, so reading it lets no one in.
const phonesFile = "phones.json"

const (
	sessionLife  = 24 * time.Hour   // since it was used last
	renewAfter   = time.Hour        // age at which a cookie is set again
	saveAfter    = 10 * time.Minute // how much of a session's last use a crash may lose
	mostSessions = 200
	mostPhones   = 1 << 20 // bytes of the file
)

// sessions are the browsers that are let in. They survive a restart.
type sessions struct {
	file   string
	secure bool
	now    func() time.Time // the real clock, also where a page shows another day
	say    func(string)     // in the terminal

	mu    sync.Mutex
	trial string // names the cookie: browsers keep cookies by computer, and one computer may serve several trials
	list  []*session
	saved time.Time
}

// session is one browser that is let in.
type session struct {
	Key     string    `json:"key"` // hexadecimal SHA-256 of its cookie
	Name    string    `json:"name"`
	Address string    `json:"address"`
	Since   time.Time `json:"since"`
	Used    time.Time `json:"used"`
	Set     time.Time `json:"set"`   // when its cookie was last set
	Owner   bool      `json:"owner"` // the computer's own browser
}

// keptSessions is what the file holds.
type keptSessions struct {
	Trial  string     `json:"trial"`
	Phones []*session `json:"phones"`
}

// loadSessions reads who was let in before the restart. An unreadable file lets no one in.
func loadSessions(o Options) *sessions {
	s := &sessions{file: filepath.Join(o.Dir, phonesFile), secure: o.Secure, now: time.Now, say: o.say}
	kept, err := readSessions(s.file)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			o.say(fmt.Sprintf("%s cannot be read (%v), so paired phones need new codes.", phonesFile, err))
		}
		kept = keptSessions{Trial: strings.ToLower(rand.Text()[:8])}
	}
	s.trial, s.list = kept.Trial, kept.Phones
	s.saved = s.now()
	return s
}

func readSessions(file string) (kept keptSessions, err error) {
	info, err := os.Lstat(file)
	if err != nil {
		return kept, err
	}
	if !info.Mode().IsRegular() || info.Size() > mostPhones {
		return kept, errors.New("is not a list of phones")
	}
	text, err := os.ReadFile(file)
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	if err == nil && (len(kept.Trial) != 8 || strings.Trim(kept.Trial, "abcdefghijklmnopqrstuvwxyz234567") != "" || slices.ContainsFunc(kept.Phones, func(p *session) bool { return p == nil || !keyPattern.MatchString(p.Key) })) {
		err = errors.New("is not a list of phones")
	}
	return kept, err
}

// save writes the file.
func (s *sessions) save() {
	s.saved = s.now()
	err := store.WriteWhole(s.file, func(w io.Writer) error {
		enc := json.NewEncoder(w)
		enc.SetIndent("", "  ")
		return enc.Encode(keptSessions{s.trial, s.list})
	})
	if err != nil {
		s.say(fmt.Sprintf("The paired phones could not be saved in %s (%v), so they need new codes after a restart.", phonesFile, err))
	}
}

// close writes the last uses since the file was written.
func (s *sessions) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.list) > 0 {
		s.save()
	}
}

func (s *sessions) cookieName() string { return "traygauge-" + s.trial }

// keyPattern is what keyOf returns.
var keyPattern = regexp.MustCompile(`^[0-9a-f]{64}$`)

func keyOf(cookie string) string {
	sum := sha256.Sum256([]byte(cookie))
	return hex.EncodeToString(sum[:])
}

// tokenOf returns what a session's pages send with each change. It is derived from the cookie, so it stays the same after a restart, and
// does not reveal it.
func tokenOf(cookie string) string {
	sum := sha256.Sum256([]byte("token for " + cookie))
	return base32.StdEncoding.EncodeToString(sum[:])[:26]
}

// open begins a session, replaces the browser's previous one, and sets its cookie.
func (s *sessions) open(w http.ResponseWriter, r *http.Request, owner bool) *http.Cookie {
	value := rand.Text()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.forgetOld()
	if before, err := r.Cookie(s.cookieName()); err == nil {
		s.list = slices.DeleteFunc(s.list, func(p *session) bool { return same(p.Key, keyOf(before.Value)) })
	}
	now := s.now()
	s.list = append(s.list, &session{Key: keyOf(value), Name: s.unusedName(browserName(r.UserAgent())), Address: addressOf(r), Since: now, Used: now, Set: now, Owner: owner})
	s.save()
	cookie := s.cookie(value, r)
	http.SetCookie(w, cookie)
	return cookie
}

// cookie returns a session's cookie. On an encrypted server it is Secure, except for the computer's own browser, whose link is plain.
func (s *sessions) cookie(value string, r *http.Request) *http.Cookie {
	return &http.Cookie{Name: s.cookieName(), Value: value, Path: "/", HttpOnly: true, Secure: s.secure && !(r.TLS == nil && FromThisComputer(r)), SameSite: http.SameSiteStrictMode, MaxAge: int(sessionLife.Seconds())}
}

// forgetOld ends sessions that have not been used for sessionLife, and the least recently used one if there are too many.
func (s *sessions) forgetOld() {
	now := s.now()
	s.list = slices.DeleteFunc(s.list, func(p *session) bool { return now.Sub(p.Used) > sessionLife })
	if len(s.list) >= mostSessions {
		oldest := slices.MinFunc(s.list, func(a, b *session) int { return a.Used.Compare(b.Used) })
		s.list = slices.DeleteFunc(s.list, func(p *session) bool { return p == oldest })
	}
}

// of returns the session of a request and its token, or "" if it has none. Using a session prolongs it and, before it expires, its cookie.
func (s *sessions) of(w http.ResponseWriter, r *http.Request) (p session, token string) {
	cookie, err := r.Cookie(s.cookieName())
	if err != nil {
		return session{}, ""
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	now, key := s.now(), keyOf(cookie.Value)
	i := slices.IndexFunc(s.list, func(p *session) bool { return same(p.Key, key) && now.Sub(p.Used) <= sessionLife })
	if i < 0 {
		return session{}, ""
	}
	at := s.list[i]
	at.Used, at.Address = now, addressOf(r)
	if now.Sub(at.Set) >= renewAfter {
		at.Set = now
		http.SetCookie(w, s.cookie(cookie.Value, r))
		s.save()
	} else if now.Sub(s.saved) >= saveAfter {
		s.save()
	}
	return *at, tokenOf(cookie.Value)
}

// letOut ends a session.
func (s *sessions) letOut(key string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := len(s.list)
	s.list = slices.DeleteFunc(s.list, func(p *session) bool { return p.Key == key })
	if len(s.list) == n {
		return false
	}
	s.save()
	return true
}

// rename gives a session another name.
func (s *sessions) rename(key, name string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, p := range s.list {
		if p.Key == key {
			p.Name = name
			s.save()
			return true
		}
	}
	return false
}

// in returns the sessions, most recently used first.
func (s *sessions) in() []session {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.forgetOld()
	var list []session
	for _, p := range s.list {
		list = append(list, *p)
	}
	slices.SortStableFunc(list, func(a, b session) int { return cmp.Or(b.Used.Compare(a.Used), strings.Compare(a.Name, b.Name)) })
	return list
}

// unusedName appends a number to a name that another session has.
func (s *sessions) unusedName(name string) string {
	taken := func(name string) bool {
		return slices.ContainsFunc(s.list, func(p *session) bool { return p.Name == name })
	}
	for n, plain := 2, name; taken(name); n++ {
		name = plain + " " + strconv.Itoa(n)
	}
	return name
}

// browserName returns the kind of device by its User-Agent. Browsers on phones have "Mobi" in it.
func browserName(agent string) string {
	switch {
	case strings.Contains(agent, "Mobi"):
		return "Phone"
	case strings.Contains(agent, "Tablet"):
		return "Tablet"
	}
	return "Computer"
}

// addressOf returns the sender's address without the port. An IPv6 /64 network counts as one address, as its user has all of them.
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
