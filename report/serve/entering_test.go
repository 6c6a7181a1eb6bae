package serve

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/vision/card"
)

func lan(o *Options) { o.LAN = true }

// Only who knows the code comes in, once, and only the session's own pages change anything.
func TestNobodyElseGetsIn(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	p := newPhone(t, r.url())
	code := r.server.Code().Typed
	if status, text := p.load("/"); status != 200 || !strings.Contains(text, "Code on the computer’s screen") {
		t.Errorf("without a session: %d %.200s", status, text)
	}
	if status, text := p.ask("GET", "/api/today", nil); status != http.StatusUnauthorized || strings.Contains(text, "water only") {
		t.Errorf("without a session: %d %s", status, text)
	}
	if status, text := p.enter("ABCDEFGH"); status != http.StatusForbidden || !strings.Contains(text, "This code is wrong or already used") {
		t.Errorf("a wrong code: %d %.300s", status, text)
	}
	if status, text := p.enter(strings.ToLower(code[:4] + "-" + code[4:])); status != 200 || !strings.Contains(text, "Feeding day") {
		t.Fatalf("the code as people type it: %d %.300s", status, text)
	}
	if status, _ := newPhone(t, r.url()).enter(code); status != http.StatusForbidden || r.server.Code().Typed == code {
		t.Errorf("the same code again: %d", status)
	}
	home, _ := url.Parse(r.url())
	for _, c := range p.client.Jar.Cookies(home) {
		if c.Value == code || len(c.Value) < 20 {
			t.Errorf("cookie %v", c)
		}
	}
	if status, _ := p.load("/"); status != 200 || p.token == "" {
		t.Fatalf("with a session: %d, token %q", status, p.token)
	}
	planted := newPhone(t, r.url()) // somebody else chose its cookie
	planted.client.Jar.SetCookies(home, []*http.Cookie{{Name: p.client.Jar.Cookies(home)[0].Name, Value: strings.Repeat("A", 26)}})
	if status, _ := planted.ask("GET", "/api/today", nil); status != http.StatusUnauthorized {
		t.Errorf("with a cookie of somebody's choice: %d", status)
	}
	planted.enter(r.server.Code().Typed)
	if got := planted.client.Jar.Cookies(home); len(got) != 1 || got[0].Value == strings.Repeat("A", 26) {
		t.Errorf("let in, it has %v", got)
	}
	photo := photoOf(t, card.Roots, 1)
	for name, h := range map[string]struct {
		header map[string]string
		want   int
	}{
		"another site's page":           {map[string]string{"Origin": "https://example.org"}, http.StatusForbidden},
		"another site, by the browser":  {map[string]string{"Sec-Fetch-Site": "cross-site"}, http.StatusForbidden},
		"another port of this computer": {map[string]string{"Sec-Fetch-Site": "same-site"}, http.StatusForbidden},
		"no origin at all":              {map[string]string{"Origin": "null"}, http.StatusForbidden}, // as sandboxed frames send it
		"a name made to point here":     {map[string]string{"Host": "trial.example.org"}, http.StatusMisdirectedRequest},
		"without the page's token":      {map[string]string{"X-Token": "guess"}, http.StatusForbidden},
	} {
		p.header = h.header
		if status, text := p.put(photo, shaOf(photo), len(photo), 0, ""); status != h.want {
			t.Errorf("%s: %d %s, want %d", name, status, text, h.want)
		}
	}
	if entries, _ := os.ReadDir(filepath.Join(r.dir, "photos")); len(entries) > 0 {
		t.Errorf("kept %v", entries)
	}
}

// Someone on the network who guesses codes all the time, from five addresses or from the phone's own, keeps no one out: the code typed from
// another address gets in, and the QR code's does from anywhere.
func TestAGuesserKeepsNobodyOut(t *testing.T) {
	said := make(chan string, 100)
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.LAN, o.Say = true, func(words string) { said <- words } })
	guesser := newPhone(t, r.url())
	for n, status := 0, 0; status != http.StatusTooManyRequests; n++ {
		var text string
		if status, text = guesser.enter("ABCDEFGH"); n > 20 {
			t.Fatalf("guessed %d times", n)
		} else if status == http.StatusTooManyRequests && (!strings.Contains(text, "Wait ") || strings.HasPrefix(text, "{")) {
			t.Errorf("it says %.300s", text)
		}
	}
	for n := range 5 { // from other addresses
		for range 50 {
			typedFrom(r, fmt.Sprint("192.168.1.", n), "ABCDEFGH")
		}
	}
	if status, _ := guesser.enter(r.server.Code().Typed); status != http.StatusTooManyRequests {
		t.Errorf("a typed code after many wrong ones from the same address: %d", status)
	}
	if status, text := newPhone(t, r.url()).enter(r.server.Code().Secret); status != 200 || !strings.Contains(text, "Feeding day") {
		t.Errorf("the QR code's link: %d %.200s", status, text)
	}
	if status := typedFrom(r, "192.168.1.9", r.server.Code().Typed); status != http.StatusSeeOther {
		t.Errorf("the code typed on another phone: %d", status)
	}
	if words := <-said; !strings.Contains(words, "guessing codes") {
		t.Errorf("the terminal says %q", words)
	}
}

// A person who is refused reads a page in words, with a way on; a script is answered as a script.
func TestARefusalIsAPage(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	in := letInto(r)
	for name, c := range map[string]struct {
		p            *phone
		method, path string
		header       map[string]string
		want         int
		way          string
	}{
		"a form from another site": {newPhone(t, r.url()), "POST", "/enter", map[string]string{"Origin": "null"}, 403, `href="/enter"`},
		"not let in":               {newPhone(t, r.url()), "GET", "/report/index.html", nil, 401, `href="/enter"`},
		"no such page":             {in, "GET", "/nowhere", nil, 404, `href="/"`},
		"a picture that is gone":   {in, "GET", "/picture?id=1", nil, 404, `href="/"`},
		"not for this phone":       {in, "GET", "/phones", nil, 403, `href="/"`},
		"another name":             {in, "GET", "/", map[string]string{"Host": "trial.example.org"}, 421, `href="/"`},
		"a static file":            {in, "GET", "/static/nothing.js", nil, 404, `href="/"`},
	} {
		c.p.header = map[string]string{"Accept": "text/html"}
		for k, v := range c.header {
			c.p.header[k] = v
		}
		status, text := c.p.ask(c.method, c.path, nil)
		if status != c.want || strings.Contains(text, `{"`) || !strings.Contains(text, "<h1>Not possible</h1>") || !strings.Contains(text, c.way) {
			t.Errorf("%s: %d %.600s", name, status, text)
		}
		c.p.header = c.header
		if status, text := c.p.ask(c.method, c.path, nil); status != c.want || !strings.HasPrefix(text, `{"problem":`) {
			t.Errorf("%s, to a script: %d %.200s", name, status, text)
		}
		c.p.header = map[string]string{}
	}
}

// Who is let in stays in when the program starts again, and its open page goes on.
func TestSessionsOutlastARestart(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	p := letInto(r)
	photo := photoOf(t, card.Roots, 1)
	if status, text := p.put(photo[:1000], shaOf(photo), len(photo), 0, "&tray=1&view=roots"); status != 200 {
		t.Fatalf("%d %s", status, text)
	}
	r.restart()
	if status, text := p.put(photo[1000:], shaOf(photo), len(photo), 1000, "&tray=1&view=roots"); status != 200 || !strings.Contains(text, "day-10/tray-01-roots-") {
		t.Errorf("%d %s", status, text)
	}
	if status, _ := p.load("/"); status != 200 {
		t.Errorf("%d", status)
	}
}

// typedFrom types a code on a phone with an address of its own.
func typedFrom(r *running, address, code string) (status int) {
	ask := httptest.NewRequest("POST", r.url()+"/enter", strings.NewReader("code="+code))
	ask.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	ask.RemoteAddr = address + ":40000"
	w := httptest.NewRecorder()
	r.server.Handler().ServeHTTP(w, ask)
	return w.Code
}

// phonesListed is what the computer's own page shows.
type phonesListed struct {
	Code   string
	Links  []string
	QR     [][]bool
	Phones []struct {
		Key, Name  string
		Own, Owner bool
	}
}

// The computer's own browser sees the code and who is let in, and lets out whom it wants; a phone sees none of it.
func TestPhonesAreListedAndLetOut(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) {
		o.LAN, o.Links = true, func() []string { return []string{"http://192.168.77.7:8510/"} }
	})
	first, second := letInto(r), letInto(r)
	own := newPhone(t, r.url())
	_, secret, _ := strings.Cut(r.server.OwnerLink("/"), "#")
	if status, text := own.enter(secret); status != 200 || !strings.Contains(text, "<h1>Phones</h1>") {
		t.Fatalf("%d %.200s", status, text)
	}
	own.load("/phones")
	l := get[phonesListed](own, "/api/phones")
	code := r.server.Code()
	if l.Code != code.Typed[:4]+"-"+code.Typed[4:] || len(l.QR) < 21 || len(l.Phones) != 3 || l.Links[0] != "http://192.168.77.7:8510/" {
		t.Errorf("%+v", l)
	}
	out := l.Phones[0]
	for _, p := range l.Phones {
		if p.Own != p.Owner {
			t.Errorf("%+v", p)
		}
		if p.Name == "Computer" { // the first that came in
			out = p
		}
	}
	if status, _ := post[problem](first, "/api/phones/out", map[string]string{"key": out.Key}); status != http.StatusForbidden {
		t.Errorf("a phone lets out another: %d", status)
	}
	if status, _ := post[problem](own, "/api/phones/name", map[string]string{"key": out.Key, "name": " Ana\n"}); status != 200 {
		t.Errorf("%d", status)
	}
	if status, _ := post[problem](own, "/api/phones/out", map[string]string{"key": out.Key}); status != 200 {
		t.Errorf("%d", status)
	}
	if status, text := first.ask("GET", "/api/today", nil); status != http.StatusUnauthorized || !strings.Contains(text, "not paired") {
		t.Errorf("let out: %d %s", status, text)
	}
	if status, _ := second.ask("GET", "/api/today", nil); status != 200 {
		t.Errorf("the other: %d", status)
	}
	r.restart()
	if status, _ := first.ask("GET", "/api/today", nil); status != http.StatusUnauthorized {
		t.Errorf("in again after a restart: %d", status)
	}
}

// Two trials on one computer: going to the one does not put a phone out of the other.
func TestTwoTrialsOnOneComputer(t *testing.T) {
	one, two := serveTrial(t, trialWith(t, feedingTrial), lan), serveTrial(t, trialWith(t, feedingTrial), lan)
	p := letInto(one)
	p.url = two.url() // cookies know no ports
	if status, text := p.enter(two.server.Code().Typed); status != 200 {
		t.Fatalf("%d %.200s", status, text)
	}
	for range 2 {
		for _, r := range []*running{one, two} {
			p.url = r.url()
			if status, text := p.load("/"); status != 200 || !strings.Contains(text, "Feeding day") {
				t.Errorf("%d %.200s", status, text)
			}
		}
	}
}

// Whatever a page loads comes from here, and no one frames it.
func TestHeaders(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	for _, path := range []string{"/", "/review", "/phones", "/enter", "/static/today.js", "/offline.js", "/api/today", "/nowhere"} {
		got, err := newPhone(t, r.url()).client.Get(r.url() + path)
		if err != nil {
			t.Fatal(err)
		}
		got.Body.Close()
		h := got.Header
		if !strings.Contains(h.Get("Content-Security-Policy"), "default-src 'none'") || strings.Contains(h.Get("Content-Security-Policy"), "unsafe") ||
			h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "same-origin" { // "no-referrer" keeps phones out: see guard.go
			t.Errorf("%s: %v", path, h)
		}
		for _, c := range got.Cookies() {
			if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
				t.Errorf("%s: cookie %v", path, c)
			}
		}
	}
}
