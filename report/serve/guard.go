package serve

import (
	"net"
	"net/http"
	"os"
	"strings"
)

// policy lets pages load only what comes from here, and nobody frame them.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard refuses what did not come from this server's own pages, before anything looks at it.
func guard(next http.Handler) http.Handler {
	own := http.NewCrossOriginProtection() // by Sec-Fetch-Site, or Origin against Host
	own.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		refuse(w, http.StatusForbidden, "this came from another site's page and was not done: use the trial's own page")
	}))
	next = own.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !ownHost(r.Host) {
			refuse(w, http.StatusMisdirectedRequest, "this name does not belong to this server: use the address that it shows in its terminal")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// ownHost tells whether a browser can mean this server by host: by a number, or by this computer's name. A name of somebody else's
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

// onlyInside lets through who has a session, and changes only with the session's token.
func (s *Server) onlyInside(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		token := s.door.token(r)
		page := r.Method == http.MethodGet && (r.URL.Path == "/" || r.URL.Path == "/look")
		switch {
		case token == "" && page && !s.o.LAN:
			r.AddCookie(s.door.open(w)) // whoever is at this computer is let in
		case token == "" && page:
			http.Redirect(w, r, "/enter", http.StatusSeeOther)
			return
		case token == "":
			refuse(w, http.StatusUnauthorized, "the session has ended: open the page again and enter the code from the terminal")
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead && !same(r.Header.Get("X-Token"), token):
			refuse(w, http.StatusForbidden, "this page is out of date and nothing was done: load it again")
			return
		}
		next.ServeHTTP(w, r)
	})
}
