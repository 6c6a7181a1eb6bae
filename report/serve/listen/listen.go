// Package listen serves the pages of report/serve on the network: it listens, encrypts, and prints the addresses in the terminal.
//
//	in    a trial's folder, the kind of access and encryption, the program's version
//	out   pages served until the context ends; links, codes and warnings as text
//
// It must not depend on flags or on what the pages show.
package listen

import (
	"bytes"
	"context"
	"crypto/tls"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"time"

	"traygauge/report/serve"
	"traygauge/report/serve/link"
)

// Options say how the pages are reached.
type Options struct {
	Dir     string // the trial's folder
	Version string // of the program, kept in each reading
	Program string // a file of this program that photos are measured by; "": in this process

	LAN       bool             // phones on the same network may come in
	Port      int              // 0: any that is free
	TLS       bool             // encrypted by a certificate of our own making
	Cert, Key string           // files of a certificate that somebody has; "" for none
	Now       func() time.Time // nil: the clock's time
}

// Serve serves a trial until ctx ends, and says to where. It is an error if the port is taken or a certificate cannot be read or kept.
func Serve(ctx context.Context, o Options, to io.Writer) (err error) {
	var authority *link.Authority
	firstTime := false
	if o.TLS {
		if authority, firstTime, err = openAuthority(); err != nil {
			return err
		}
	}
	host := "127.0.0.1"
	if o.LAN {
		host = ""
	}
	if o.Cert != "" {
		if _, err := tls.LoadX509KeyPair(o.Cert, o.Key); err != nil {
			return fmt.Errorf("cannot use the certificate: %w: give the certificate as --cert and its private key as --key, both as PEM files", err)
		}
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(o.Port)))
	if err != nil {
		return fmt.Errorf("cannot listen on port %d: %w: choose another with --port", o.Port, err)
	}
	words := &spoken{to: to, scheme: "http", port: listener.Addr().(*net.TCPAddr).Port, lan: o.LAN, authority: authority, firstTime: firstTime}
	if o.TLS || o.Cert != "" {
		words.scheme = "https"
	}
	s := serve.New(serve.Options{
		Dir: o.Dir, Version: o.Version, Program: o.Program, LAN: o.LAN, Secure: words.scheme == "https", OwnAuthority: o.TLS, Now: o.Now,
		NewCode: words.code, Say: words.say, Links: words.links,
	})
	defer s.Close()
	words.begin(s)
	return answer(ctx, listener, s.Handler(), o, authority, to)
}

// answer answers until ctx ends, then finishes what is on its way.
func answer(ctx context.Context, listener net.Listener, h http.Handler, o Options, authority *link.Authority, to io.Writer) error {
	server := newHTTPServer(h, to)
	ended := make(chan error, 2)
	others := []*http.Server{server}
	switch {
	case authority != nil:
		encrypted, plain := link.Split(listener)
		server.TLSConfig = authority.Config(ownHosts())
		trust := newHTTPServer(link.PlainHandler(authority, h), to)
		others = append(others, trust)
		go func() { ended <- trust.Serve(plain) }()
		go func() { ended <- server.ServeTLS(encrypted, "", "") }()
	case o.Cert != "":
		go func() { ended <- server.ServeTLS(listener, o.Cert, o.Key) }()
	default:
		go func() { ended <- server.Serve(listener) }()
	}
	select {
	case err := <-ended:
		return fmt.Errorf("cannot serve: %w", err)
	case <-ctx.Done():
	}
	fmt.Fprintln(to, "Stopping after the current uploads and measurements…")
	last, stop := context.WithTimeout(context.Background(), 15*time.Second)
	defer stop()
	for _, s := range others {
		if err := s.Shutdown(last); err != nil {
			s.Close()
		}
	}
	return nil
}

func newHTTPServer(h http.Handler, to io.Writer) *http.Server {
	return &http.Server{
		Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 2 * time.Minute, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: 32 << 10, ErrorLog: log.New(quietTLS{to}, "", 0),
	}
}

// quietTLS leaves out that a phone does not trust the certificate yet: its screen says so, again and again.
type quietTLS struct{ to io.Writer }

func (q quietTLS) Write(line []byte) (int, error) {
	if bytes.Contains(line, []byte("TLS handshake error")) {
		return len(line), nil
	}
	return q.to.Write(line)
}
