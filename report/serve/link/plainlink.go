package link

import (
	"bufio"
	"net"
	"net/http"
	"sync"
	"time"

	"traygauge/report/serve/door"
	"traygauge/report/serve/web"
)

// helloTime is how long a connection may take to say whether it is encrypted.
const helloTime = 10 * time.Second

// Split splits a listener into one for encrypted and one for plain connections, by their first byte: TLS begins with 22 (RFC 8446, 5.1,
// handshake). So a phone that opens the address with http gets a page that says what to do instead of an error. Closing either closes both.
func Split(l net.Listener) (encrypted, plain net.Listener) {
	s := &splitter{Listener: l, closed: make(chan struct{})}
	e, p := &side{s, make(chan net.Conn)}, &side{s, make(chan net.Conn)}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				s.once.Do(func() { close(s.closed) })
				return
			}
			go s.sort(c, e, p)
		}
	}()
	return e, p
}

type splitter struct {
	net.Listener
	once   sync.Once
	closed chan struct{}
}

// sort passes a connection to its side.
func (s *splitter) sort(c net.Conn, encrypted, plain *side) {
	c.SetReadDeadline(time.Now().Add(helloTime))
	begun := &begunConn{c, bufio.NewReaderSize(c, 1)}
	first, err := begun.r.Peek(1)
	if err != nil {
		c.Close()
		return
	}
	c.SetReadDeadline(time.Time{})
	to := plain
	if first[0] == 22 {
		to = encrypted
	}
	select {
	case to.conns <- begun:
	case <-s.closed:
		c.Close()
	}
}

// begunConn is a connection whose first byte was peeked at.
type begunConn struct {
	net.Conn
	r *bufio.Reader
}

func (c *begunConn) Read(p []byte) (int, error) { return c.r.Read(p) }

// side is a listener for one kind of connection.
type side struct {
	*splitter
	conns chan net.Conn
}

func (s *side) Accept() (net.Conn, error) {
	select {
	case c := <-s.conns:
		return c, nil
	case <-s.closed:
		return nil, net.ErrClosed
	}
}

func (s *side) Close() error {
	s.once.Do(func() { close(s.closed) })
	return s.Listener.Close()
}

// AuthorityPath is where phones find the certificate to trust.
const AuthorityPath = "/traygauge.crt"

// PlainHandler answers plain requests: with the certificate, and with a page that says how to trust it. The computer's own browser gets the
// pages themselves under localhost, because its requests do not leave the computer.
func PlainHandler(a *Authority, pages http.Handler) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /static/{file}", web.Static)
	mux.HandleFunc("GET "+AuthorityPath, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/x-x509-ca-cert")
		w.Header().Set("Content-Disposition", `attachment; filename="traygauge.crt"`)
		w.Write(a.PEM())
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		web.ShowPage(w, http.StatusOK, "trust.html", struct{ Path, Fingerprint, Page string }{AuthorityPath, a.Fingerprint(), "https://" + r.Host + "/"})
	})
	trust := door.Guard(false, mux)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if door.FromThisComputer(r) {
			pages.ServeHTTP(w, r)
			return
		}
		trust.ServeHTTP(w, r)
	})
}
