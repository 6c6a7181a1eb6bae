package serve

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"traygauge/measure/reading"
)

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

// letInto returns a phone that came in with the code on screen.
func letInto(r *running) *phone {
	r.t.Helper()
	p := newPhone(r.t, r.url())
	if status, text := p.enter(r.server.Code().Typed); status != 200 {
		r.t.Fatalf("not let in: %d %.300s", status, text)
	}
	p.load("/")
	return p
}

// putOut lets all phones out, as the computer's own browser does.
func putOut(r *running) {
	own := newPhone(r.t, fmt.Sprintf("http://localhost:%d", r.port)) // which answers plainly, whatever the link
	_, secret, _ := strings.Cut(r.server.OwnerLink("/"), "#")
	own.enter(secret)
	own.load("/phones")
	for _, p := range get[phonesListed](own, "/api/phones").Phones {
		if !p.Owner {
			post[problem](own, "/api/phones/out", map[string]string{"key": p.Key})
		}
	}
}

var tokenInPage = regexp.MustCompile(`<meta name="token" content="([^"]+)">`)

// load opens a page as a browser does and remembers its token.
func (p *phone) load(path string) (int, string) {
	p.t.Helper()
	p.header["Accept"] = "text/html,application/xhtml+xml,*/*;q=0.8"
	defer delete(p.header, "Accept")
	status, text := p.ask("GET", path, nil)
	if m := tokenInPage.FindStringSubmatch(text); m != nil {
		p.token = m[1]
	}
	return status, text
}

// enter sends a code by the form.
func (p *phone) enter(code string) (int, string) {
	p.t.Helper()
	p.header["Content-Type"], p.header["Accept"] = "application/x-www-form-urlencoded", "text/html"
	defer delete(p.header, "Content-Type")
	defer delete(p.header, "Accept")
	return p.ask("POST", "/enter", []byte("code="+url.QueryEscape(code)))
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

// post sends something and returns what is answered, as T.
func post[T any](p *phone, path string, body any) (status int, got T) {
	p.t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		p.t.Fatal(err)
	}
	status, answer := p.ask("POST", path, text)
	json.Unmarshal([]byte(answer), &got)
	return status, got
}

// get asks for something and returns what is answered, as T.
func get[T any](p *phone, path string) (got T) {
	p.t.Helper()
	status, text := p.ask("GET", path, nil)
	if err := json.Unmarshal([]byte(text), &got); err != nil || status != 200 {
		p.t.Fatalf("%s: %d %.300s", path, status, text)
	}
	return got
}

func (p *phone) put(photo []byte, sha string, size, offset int, rest string) (int, string) {
	p.t.Helper()
	return p.ask("PUT", fmt.Sprintf("/api/upload?sha=%s&size=%d&offset=%d%s", sha, size, offset, rest), photo)
}

// send stores a photo for a tray and a view, and returns its name.
func (p *phone) send(photo []byte, tray int, view reading.View) string {
	p.t.Helper()
	status, text := p.put(photo, shaOf(photo), len(photo), 0, fmt.Sprintf("&tray=%d&view=%s", tray, view))
	var got sent
	if err := json.Unmarshal([]byte(text), &got); err != nil || status != 200 || got.Photo == "" {
		p.t.Fatalf("%d %s", status, text)
	}
	return got.Photo
}

// verdict returns what is said of a photo that was taken for a tray and a view.
func (p *phone) verdict(photo string, tray int, view reading.View) judged {
	p.t.Helper()
	for range 20 {
		if v := get[judged](p, fmt.Sprintf("/api/verdict?photo=%s&tray=%d&view=%s", url.QueryEscape(photo), tray, view)); v.Ready {
			return v
		}
	}
	p.t.Fatal("never measured")
	return judged{}
}

// problem is what a refusal says.
type problem struct {
	Problem string
	Ask     string
}

// words joins all that a page says of a photo.
func (v judged) words() string {
	var words []string
	words = append(words, v.Of, v.Large, v.Missed)
	for _, q := range v.Questions {
		words = append(words, q.Large, q.Words)
		for _, c := range q.Choices {
			words = append(words, c.Label)
		}
	}
	for _, r := range v.Reasons {
		words = append(words, r.Words, r.Remedy)
	}
	return strings.Join(words, "; ")
}

// sent is how much of a photo has come and, when it is whole, what it is called.
type sent struct {
	Have  int64
	Photo string
}

func shaOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}
