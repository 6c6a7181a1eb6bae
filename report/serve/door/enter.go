package door

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"time"

	"traygauge/report/serve/web"
)

// entering is what the page for codes shows.
type entering struct {
	Problem string
	Wait    int // seconds until typed codes are looked at again
	Secure  bool
}

func (d *Door) EnterPage(w http.ResponseWriter, r *http.Request) {
	if _, token := d.sessions.of(w, r); token != "" && !wantsAnotherSession(r) {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	web.ShowPage(w, http.StatusOK, "enter.html", entering{Secure: d.o.Secure})
}

// wantsAnotherSession reports whether the page was opened by the computer's own link although there is a session. Browsers do not send what
// is behind "#", so that link has a question mark.
func wantsAnotherSession(r *http.Request) bool { return r.URL.RawQuery != "" }

// Enter takes a code from the page's form.
func (d *Door) Enter(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
	got, wait := d.codes.try(r.PostFormValue("code"), addressOf(r))
	switch got {
	case admitted:
		d.sessions.open(w, r, false)
		http.Redirect(w, r, "/", http.StatusSeeOther)
	case admittedOwner:
		d.sessions.open(w, r, true)
		http.Redirect(w, r, "/phones", http.StatusSeeOther)
	case tooManyTries:
		seconds := int(math.Ceil(wait.Round(time.Millisecond).Seconds()))
		w.Header().Set("Retry-After", strconv.Itoa(seconds))
		web.ShowPage(w, http.StatusTooManyRequests, "enter.html", entering{
			Problem: fmt.Sprintf("Too many wrong codes from this address. Wait %d seconds, or scan the QR code, which always works.", seconds), Wait: seconds, Secure: d.o.Secure})
	default:
		web.ShowPage(w, http.StatusForbidden, "enter.html", entering{
			Problem: "This code is wrong or already used. Each code works once: enter the code that is on the computer’s screen now.", Secure: d.o.Secure})
	}
}
