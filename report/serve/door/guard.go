package door

import (
	"context"
	"net"
	"net/http"
	"os"
	"strings"

	"traygauge/report/serve/web"
)

// policy lets pages load only from this server and forbids framing.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// Guard refuses requests that do not come from this server's own pages.
func Guard(secure bool, next http.Handler) http.Handler {
	own := http.NewCrossOriginProtection() // by Sec-Fetch-Site, or Origin against Host
	own.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		web.Refuse(w, r, http.StatusForbidden, "this request came from another site and was refused: use the trial’s own page")
	}))
	next = own.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin") // under "no-referrer" a form's Origin is null (Fetch, "append a request Origin header"), and refused
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if secure { // browsers ignore it on a plain link and log an error
			h.Set("Cross-Origin-Opener-Policy", "same-origin")
		}
		if !ownHost(r.Host) {
			web.Refuse(w, r, http.StatusMisdirectedRequest, "this is not the server’s name: use the address on the computer’s screen")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// ownHost reports whether a browser can mean this server by host: by a number, or by this computer's name. A name of someone else's
// that was made to point here (DNS rebinding) is not.
func ownHost(hostport string) bool {
	host := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		host = h
	}
	host = strings.ToLower(strings.Trim(host, "[]"))
	if net.ParseIP(host) != nil || host == "localhost" {
		return true
	}
	name, err := os.Hostname()
	name = strings.ToLower(name)
	return err == nil && name != "" && (host == name || host == name+".local")
}

// whose is the key of a request's session among the values of its context.
type whose struct{}

// Visitor is who asks.
type Visitor struct {
	Key   string // of the session
	Name  string
	Owner bool // the computer's own browser
	token string
}

// VisitorOf returns who asks.
func VisitorOf(r *http.Request) Visitor {
	v, _ := r.Context().Value(whose{}).(Visitor)
	return v
}

// OnlyInside passes on requests with a session, and changes only with the session's token. A session gets at most its share of requests
// answered at the same time.
func (d *Door) OnlyInside(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		in, token := d.sessions.of(w, r)
		page := r.Method == http.MethodGet && (r.URL.Path == "/" || r.URL.Path == "/review" || r.URL.Path == "/phones" || r.URL.Path == "/look")
		switch {
		case token == "" && page && !d.o.LAN: // whoever is at this computer is let in
			r.AddCookie(d.sessions.open(w, r, true))
			in, token = d.sessions.of(w, r)
		case token == "" && page:
			http.Redirect(w, r, "/enter", http.StatusSeeOther)
			return
		case token == "":
			web.Refuse(w, r, http.StatusUnauthorized, "this phone is not paired with the trial: enter a code from the computer’s screen")
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead && !same(r.Header.Get("X-Token"), token):
			web.Refuse(w, r, http.StatusForbidden, "this page is out of date, so nothing was done: reload it")
			return
		}
		leave, err := d.shares.enter(r.Context(), in.Key)
		if err != nil {
			return // it went away
		}
		defer leave()
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), whose{}, Visitor{in.Key, in.Name, in.Owner, token})))
	})
}

// OnlyOwner passes on requests of the computer's own browser.
func (d *Door) OnlyOwner(next http.HandlerFunc) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !VisitorOf(r).Owner {
			web.Refuse(w, r, http.StatusForbidden, "this page is only for the computer that runs the trial: open the link from the terminal there")
			return
		}
		next(w, r)
	})
}

// FromThisComputer reports whether a browser on this computer asks, under the name localhost.
func FromThisComputer(r *http.Request) bool {
	from, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil || !net.ParseIP(from).IsLoopback() {
		return false
	}
	host, _, err := net.SplitHostPort(r.Host)
	return err == nil && strings.EqualFold(host, "localhost")
}
