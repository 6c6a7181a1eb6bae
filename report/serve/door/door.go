// Package door controls access. A phone pairs with the code on the computer's screen, the computer's own browser with a link; after that, both have a session.
//
//	in    requests, typed codes, phones.json
//	out   accepted requests with their sender, refusals, the code for the next phone, the list of paired phones
//
// It must not depend on the pages behind it.
package door

import (
	"net/http"

	"traygauge/report/serve/web"
)

// Options say who may come in.
type Options struct {
	Dir          string          // the trial's folder, where the list of phones is kept
	LAN          bool            // phones come in with a one-time code; otherwise only this computer reaches the server, and needs none
	Secure       bool            // the link is encrypted
	OwnAuthority bool            // … by a certificate that phones have to trust
	NewCode      func(Code)      // called with each new one-time code, to show it
	Say          func(string)    // prints for whoever runs the server; nil: prints nothing
	Links        func() []string // addresses under which phones reach the pages, each ending with "/"
}

func (o Options) say(words string) {
	if o.Say != nil {
		o.Say(words)
	}
}

// Door lets browsers in: by a code, and then by their sessions. Close it.
type Door struct {
	o        Options
	codes    *codes
	sessions *sessions
	shares   *shares
}

// New returns the door of a trial, through which all go who were let in before.
func New(o Options) *Door {
	return &Door{o: o, codes: newCodes(o), sessions: loadSessions(o), shares: newShares()}
}

// Close keeps who is let in.
func (d *Door) Close() {
	d.codes.close()
	d.sessions.close()
}

// Code returns the one-time code that lets the next phone in.
func (d *Door) Code() Code { return d.codes.current() }

// Page answers with one of the pages, which carries its session's token.
func (d *Door) Page(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := VisitorOf(r)
		web.ShowPage(w, http.StatusOK, name, struct {
			Token, Trial string
			Plain, Owner bool
		}{v.token, d.sessions.trial, d.o.LAN && !d.o.Secure, v.Owner})
	}
}
