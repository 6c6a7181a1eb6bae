// Package serve is the web app of a trial: the feeding-day page for a phone, the page for reviewing photos, and the page that lists paired
// phones. Its handlers call the same functions as the commands. All state is in the trial's folder.
//
//	in    requests that package door accepted, the trial's folder
//	out   data for the pages as JSON; stored photos, feedings and corrections
//
// It must not depend on access control, on uploads and queues, or on the look of the pages.
package serve

import (
	"errors"
	"net/http"
	"sync"
	"time"

	"traygauge/measure/finding"
	"traygauge/measure/plan"
	"traygauge/report/serve/door"
	"traygauge/report/serve/inbox"
	"traygauge/report/serve/web"
	"traygauge/report/serve/work"
)

// Options say what is served. Dir and Version must be there.
type Options struct {
	Dir     string // the trial's folder
	Version string // of the program, kept in each reading

	LAN    bool // phones come in with a one-time code; otherwise only this computer reaches the server, and needs none
	Secure bool // the link is encrypted

	OwnAuthority bool // … by a certificate that phones have to trust: see PlainHandler

	Now     func() time.Time   // nil: the clock's time
	NewCode func(door.Code)    // called with each new one-time code, to show it
	Say     func(words string) // prints for whoever runs the server; nil: prints nothing
	Links   func() []string    // addresses under which phones reach the pages, each ending with "/"

	// Program is a file of this program that photos are measured by, each in a process of its own: see MeasureApart. "": it is done in this
	// process, which cannot be stopped and has to be left behind.
	Program string
}

// Server answers for one trial. Make one with New, and Close it.
type Server struct {
	o        Options
	door     *door.Door
	inbox    *inbox.Inbox
	jobs     *work.Jobs
	readings readingsKept
	report   sync.Mutex // one report at a time
}

// New returns a server for a trial. It measures nothing until it is asked.
func New(o Options) *Server {
	if o.Now == nil {
		o.Now = time.Now
	}
	door := door.New(door.Options{Dir: o.Dir, LAN: o.LAN, Secure: o.Secure, OwnAuthority: o.OwnAuthority, NewCode: o.NewCode, Say: o.Say, Links: o.Links})
	s := &Server{o: o, door: door, inbox: inbox.New(o.Dir)}
	s.jobs = work.New(s.measureAndName)
	return s
}

// Close waits for what is being measured, and keeps who is let in.
func (s *Server) Close() {
	s.jobs.Close()
	s.door.Close()
}

// Code returns the one-time code that lets the next phone in.
func (s *Server) Code() door.Code { return s.door.Code() }

// OwnerLink is the address under which the computer's own browser comes in.
func (s *Server) OwnerLink(page string) string { return s.door.OwnerLink(page) }

// Handler returns all pages and what they ask for.
func (s *Server) Handler() http.Handler {
	open, inside := http.NewServeMux(), http.NewServeMux()
	open.HandleFunc("GET /static/{file}", web.Static)
	open.HandleFunc("GET /offline.js", web.OfflineScript)
	open.HandleFunc("GET /enter", s.door.EnterPage)
	open.HandleFunc("POST /enter", s.door.Enter)
	open.HandleFunc("GET /overlays/{file...}", s.fromReport)
	open.HandleFunc("GET /photos/{file...}", s.fromReport)
	open.Handle("/", s.door.OnlyInside(inside))

	inside.HandleFunc("GET /{$}", s.door.Page("today.html"))
	inside.HandleFunc("GET /review", s.door.Page("review.html"))
	inside.Handle("GET /look", http.RedirectHandler("/review", http.StatusPermanentRedirect)) // its name before
	inside.HandleFunc("GET /api/today", s.today)
	inside.HandleFunc("POST /api/fed", s.fed)
	inside.HandleFunc("POST /api/withdraw", s.withdraw)
	inside.HandleFunc("GET /api/upload", s.uploadState)
	inside.HandleFunc("PUT /api/upload", s.upload)
	inside.HandleFunc("GET /api/verdict", s.verdict)
	inside.HandleFunc("POST /api/settle", s.settle)
	inside.HandleFunc("GET /api/photos", s.photos)
	inside.HandleFunc("GET /api/photo", s.photo)
	inside.HandleFunc("GET /picture", s.picture)
	inside.HandleFunc("GET /overlay", s.overlay)
	inside.HandleFunc("POST /api/correct", s.correct)
	inside.HandleFunc("POST /api/blind", s.blind)
	inside.HandleFunc("POST /api/report", s.writeReport)
	inside.HandleFunc("GET /report/{file}", s.reportFile)
	inside.HandleFunc("GET /shown/{file...}", s.shown)
	inside.Handle("GET /phones", s.door.OnlyOwner(s.door.Page("phones.html")))
	inside.Handle("GET /api/phones", s.door.OnlyOwner(s.door.Phones))
	inside.Handle("POST /api/phones/out", s.door.OnlyOwner(s.door.LetOut))
	inside.Handle("POST /api/phones/name", s.door.OnlyOwner(s.door.NamePhone))
	inside.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		web.Refuse(w, r, http.StatusNotFound, "there is nothing at this address")
	})
	return door.Guard(s.o.Secure, open)
}

// plan reads the trial's plan as it is now: it may be corrected while the server runs.
func (s *Server) plan() (*plan.Plan, error) {
	p, findings, err := plan.Load(s.o.Dir)
	var mistakes *finding.MistakesError
	if errors.As(err, &mistakes) {
		for _, f := range findings {
			if f.Severity == finding.Error {
				return nil, errors.New(f.String())
			}
		}
	}
	return p, err
}
