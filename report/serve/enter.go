package serve

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"time"
)

// entering is what the page for codes shows.
type entering struct {
	Problem string
	Wait    int // seconds until typed codes are looked at again
	Secure  bool
}

func (s *Server) enterPage(w http.ResponseWriter, r *http.Request) {
	if _, token := s.sessions.of(w, r); token != "" && !wantsAnotherSession(r) {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	showPage(w, http.StatusOK, "enter.html", entering{Secure: s.o.Secure})
}

// wantsAnotherSession reports whether the page was opened by the computer's own link although there is a session. Browsers do not send what
// is behind "#", so that link has a question mark.
func wantsAnotherSession(r *http.Request) bool { return r.URL.RawQuery != "" }

// enter takes a code from the page's form.
func (s *Server) enter(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
	got, wait := s.codes.try(r.PostFormValue("code"), addressOf(r))
	switch got {
	case admitted:
		s.sessions.open(w, r, false)
		http.Redirect(w, r, "/", http.StatusSeeOther)
	case admittedOwner:
		s.sessions.open(w, r, true)
		http.Redirect(w, r, "/phones", http.StatusSeeOther)
	case tooManyTries:
		seconds := int(math.Ceil(wait.Round(time.Millisecond).Seconds()))
		w.Header().Set("Retry-After", strconv.Itoa(seconds))
		showPage(w, http.StatusTooManyRequests, "enter.html", entering{
			Problem: fmt.Sprintf("Too many wrong codes came from here. Wait %d seconds, or scan the QR code, which always works.", seconds), Wait: seconds, Secure: s.o.Secure})
	default:
		showPage(w, http.StatusForbidden, "enter.html", entering{
			Problem: "Wrong or used code. Each code works once: enter the one that the computer's screen shows now.", Secure: s.o.Secure})
	}
}
