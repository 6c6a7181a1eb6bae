// Package serve is the trial in a browser: the feeding-day page for a phone, and the page for looking photos through at a desk.
// Its handlers call what the commands call; all that they keep is in the trial's folder.
package serve

import (
	"context"
	"errors"
	"net/http"
	"sync"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
)

// Options say what is served. Dir, Version, Verdict and Report must be there.
type Options struct {
	Dir     string // the trial's folder
	Version string // of the program, kept in each reading

	LAN    bool // phones come in with a one-time code; otherwise only this computer reaches the server, and needs none
	Secure bool // the link is encrypted

	Now     func() time.Time                                  // nil: the clock's time
	Draw    func(measure.Seen, measure.Reading) error         // makes a photo's overlay
	Verdict func(measure.Reading) string                      // as the measure command says it
	Report  func(context.Context) (files []string, err error) // writes the report, as its command does
	NewCode func(code string)                                 // called with each new one-time code, to show it
}

// Server answers for one trial. Make one with New, and Close it.
type Server struct {
	o       Options
	door    *door
	inbox   *inbox
	bench   *bench
	uploads chan struct{} // a place for each chunk that is on its way
	report  sync.Mutex    // one report at a time
}

// MostUploads is how many chunks may be on their way at the same time.
const MostUploads = 16

// New returns a server for a trial. It measures nothing until it is asked.
func New(o Options) *Server {
	if o.Now == nil {
		o.Now = time.Now
	}
	s := &Server{o: o, door: newDoor(o), inbox: &inbox{dir: o.Dir}, uploads: make(chan struct{}, MostUploads)}
	s.bench = newBench(s.measure)
	s.inbox.clearOld(time.Now())
	return s
}

// Close waits for what is being measured.
func (s *Server) Close() { s.bench.close() }

// Code returns the one-time code that opens the next session.
func (s *Server) Code() string { return s.door.Code() }

// Handler returns all pages and what they ask for.
func (s *Server) Handler() http.Handler {
	open, inside := http.NewServeMux(), http.NewServeMux()
	open.HandleFunc("GET /static/{file}", static)
	open.HandleFunc("GET /enter", s.enterPage)
	open.HandleFunc("POST /enter", s.enter)
	open.Handle("/", s.onlyInside(inside))

	inside.HandleFunc("GET /{$}", s.page("today.html"))
	inside.HandleFunc("GET /look", s.page("look.html"))
	inside.HandleFunc("GET /api/today", s.today)
	inside.HandleFunc("POST /api/fed", s.fed)
	inside.HandleFunc("GET /api/upload", s.uploadState)
	inside.HandleFunc("PUT /api/upload", s.upload)
	inside.HandleFunc("GET /api/verdict", s.verdict)
	inside.HandleFunc("GET /api/photos", s.photos)
	inside.HandleFunc("GET /api/photo", s.photo)
	inside.HandleFunc("GET /picture", s.picture)
	inside.HandleFunc("GET /overlay", s.overlay)
	inside.HandleFunc("POST /api/correct", s.correct)
	inside.HandleFunc("POST /api/blind", s.blind)
	inside.HandleFunc("POST /api/report", s.writeReport)
	inside.HandleFunc("GET /report/{file}", s.reportFile)
	return guard(open)
}

// plan reads the trial's plan as it is now: it may be put right while the server runs.
func (s *Server) plan() (*plan.Plan, error) {
	p, findings, err := plan.Load(s.o.Dir)
	var mistakes *plan.MistakesError
	if errors.As(err, &mistakes) {
		for _, f := range findings {
			if f.Severity == plan.Error {
				return nil, errors.New(f.String())
			}
		}
	}
	return p, err
}
