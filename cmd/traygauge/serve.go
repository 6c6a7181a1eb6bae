package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/skip2/go-qrcode"
	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/report/fromfolder"
	"traygauge/report/serve"
)

type serveOptions struct {
	LAN       bool
	Port      int
	TLS       bool // encrypted by a certificate of our own making
	Cert, Key string
	On        string // the day to show, year-month-day; "" is today
}

func newServeCommand(std *streams) *cobra.Command {
	var opts serveOptions
	cmd := &cobra.Command{
		Use:   "serve DIR",
		Short: "Serve the trial as a web app: feed, photograph, and review the photos",
		Long: `Serve the trial as a web app: a page for feeding day, made for a phone in one hand, and a page for reviewing photos and
correcting what was measured. Everything is kept in the trial's folder, in the same files that the other commands use.

Without --lan only this computer can open the pages. With --lan phones on the same network can: the terminal shows a QR code, and a
code to type, that pairs one phone; then it shows the next. The link for this computer itself shows the same, and the phones that
are paired. A phone stays paired for a day after its last use, also when the program is restarted.

With --tls the link is encrypted, and the feeding-day page also opens without a connection. Each phone has to trust this computer's
certificate once: the terminal says how. --cert and --key take a certificate of your own instead. Without either, use the program
only on a network whose users you trust.

Stop it with Ctrl-C.

Exit codes: 0 stopped, 1 failed, 2 wrong usage.`,
		Example: `  traygauge serve kale-trial
  traygauge serve kale-trial --lan
  traygauge serve kale-trial --lan --tls
  traygauge serve kale-trial --lan --cert cert.pem --key key.pem
  traygauge serve demo-trial --on 2026-03-16`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runServe(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().BoolVar(&opts.LAN, "lan", false, "let phones on the local network pair, each with a one-time code")
	cmd.Flags().IntVar(&opts.Port, "port", 8510, "listen on `PORT`; 0 takes any that is free")
	cmd.Flags().BoolVar(&opts.TLS, "tls", false, "encrypt the link with a certificate made here, which each phone has to trust once")
	cmd.Flags().StringVar(&opts.Cert, "cert", "", "certificate `FILE` (PEM), for an encrypted link")
	cmd.Flags().StringVar(&opts.Key, "key", "", "the certificate's private key `FILE` (PEM)")
	cmd.Flags().StringVar(&opts.On, "on", "", "show the pages as on `DATE` (year-month-day) instead of today")
	return cmd
}

// check reports options that do not fit together.
func (o serveOptions) check() error {
	switch {
	case (o.Cert == "") != (o.Key == ""):
		return errors.New("--cert and --key go together: give both, or neither")
	case o.TLS && o.Cert != "":
		return errors.New("--tls makes a certificate, --cert takes one of your own: give only one of them")
	case o.Port < 0 || o.Port > 65535:
		return fmt.Errorf("--port %d: give 1 to 65535, or 0 for any", o.Port)
	}
	return nil
}

// runServe serves the trial in folder dir until ctx ends.
func runServe(ctx context.Context, opts serveOptions, dir string, std *streams) error {
	if err := opts.check(); err != nil {
		return usageError{err}
	}
	now, err := clockOn(opts.On)
	if err != nil {
		return usageError{err}
	}
	if _, err := planWithoutMistakes(dir, std); err != nil {
		return err
	}
	var authority *serve.Authority
	firstTime := false
	if opts.TLS {
		if authority, firstTime, err = openAuthority(); err != nil {
			return err
		}
	}
	host := "127.0.0.1"
	if opts.LAN {
		host = ""
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(opts.Port)))
	if err != nil {
		return fmt.Errorf("cannot listen on port %d: %w: choose another with --port", opts.Port, err)
	}
	words := &spoken{to: std.Err, scheme: "http", port: listener.Addr().(*net.TCPAddr).Port, lan: opts.LAN, authority: authority, firstTime: firstTime}
	if opts.TLS || opts.Cert != "" {
		words.scheme = "https"
	}
	s := serve.New(serve.Options{
		Dir: dir, Version: version(), LAN: opts.LAN, Secure: words.scheme == "https", OwnAuthority: opts.TLS, Now: now,
		Measure: measureApart(dir),
		Draw:    func(seen measure.Seen, r measure.Reading) error { return drawOverlay(dir, seen, r) },
		Report: func(context.Context) ([]string, error) {
			r, err := fromfolder.Write(dir, version(), fromfolder.Options{}, io.Discard)
			if err != nil {
				return nil, err
			}
			return r.Files, nil
		},
		NewCode: words.code, Say: words.say, Links: words.links,
	})
	defer s.Close()
	words.begin(s)
	return serveOn(ctx, listener, s.Handler(), opts, authority, std.Err)
}

// openAuthority opens the authority that this computer's certificates are signed by, kept where the system keeps settings.
func openAuthority() (a *serve.Authority, made bool, err error) {
	settings, err := os.UserConfigDir()
	if err != nil {
		return nil, false, fmt.Errorf("there is no settings folder to keep the certificate in: %w: give one with --cert and --key", err)
	}
	return serve.OpenAuthority(filepath.Join(settings, "traygauge"), ownHosts())
}

// ownHosts are the addresses and names under which this computer is reached.
func ownHosts() []string {
	hosts := append(lanAddresses(), "localhost", "127.0.0.1", "::1")
	if name, err := os.Hostname(); err == nil && name != "" {
		hosts = append(hosts, name, name+".local")
	}
	return hosts
}

// clockOn returns a clock that shows the given date with the time of day that it is; none for the true one.
func clockOn(date string) (func() time.Time, error) {
	if date == "" {
		return nil, nil
	}
	on, err := time.ParseInLocation(time.DateOnly, date, time.Local)
	if err != nil {
		return nil, fmt.Errorf("--on %s is not a date: write year-month-day, such as 2026-03-16", date)
	}
	return func() time.Time {
		now := time.Now()
		return time.Date(on.Year(), on.Month(), on.Day(), now.Hour(), now.Minute(), now.Second(), 0, time.Local)
	}, nil
}

// serveOn answers until ctx ends, then finishes what is on its way.
func serveOn(ctx context.Context, listener net.Listener, h http.Handler, opts serveOptions, authority *serve.Authority, to io.Writer) error {
	server := newHTTPServer(h, to)
	ended := make(chan error, 2)
	others := []*http.Server{server}
	switch {
	case authority != nil:
		encrypted, plain := serve.Split(listener)
		server.TLSConfig = authority.Config(ownHosts())
		trust := newHTTPServer(serve.PlainHandler(authority, h), to)
		others = append(others, trust)
		go func() { ended <- trust.Serve(plain) }()
		go func() { ended <- server.ServeTLS(encrypted, "", "") }()
	case opts.Cert != "":
		go func() { ended <- server.ServeTLS(listener, opts.Cert, opts.Key) }()
	default:
		go func() { ended <- server.Serve(listener) }()
	}
	select {
	case err := <-ended:
		return fmt.Errorf("cannot serve: %w", err)
	case <-ctx.Done():
	}
	fmt.Fprintln(to, "Stopping; uploads and measurements in progress are finished first.")
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

// spoken says in the terminal where the pages are. Codes are shown from other goroutines.
type spoken struct {
	mu        sync.Mutex
	to        io.Writer
	scheme    string
	port      int
	lan       bool
	authority *serve.Authority // nil: none of ours
	firstTime bool             // it was made just now
}

func (s *spoken) begin(server *serve.Server) {
	if !s.lan {
		fmt.Fprintf(s.to, "Feeding day:  %s\nReview:       %sreview\nOnly this computer can open them; with --lan phones can, too. Stop with Ctrl-C.\n", s.address("localhost"), s.address("localhost"))
		return
	}
	switch {
	case s.authority != nil:
		plain := strings.Replace(s.links()[0], "https:", "http:", 1)
		if s.firstTime {
			fmt.Fprintln(s.to, "A certificate was made for this computer. Phones that trusted an earlier one have to trust this one.")
		}
		fmt.Fprintf(s.to, "On a new phone, open %s first: the page explains how to trust this computer.\nThe certificate's fingerprint (SHA-256) is\n%s\n", plain, s.authority.Fingerprint())
	case s.scheme == "http":
		fmt.Fprintln(s.to, "The link is not encrypted: anybody on this network can read along. Use a network whose users you trust, or --tls.")
	}
	own := s.address("localhost")
	if s.authority != nil {
		own = strings.Replace(own, "https:", "http:", 1) // see serve.PlainHandler
	}
	fmt.Fprintf(s.to, "On this computer (code, phones, all pages):\n%s\n", server.OwnerLink(own))
	s.code(server.Code())
}

// say tells something while the program runs.
func (s *spoken) say(words string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	fmt.Fprintln(s.to, words)
}

func (s *spoken) address(host string) string {
	return fmt.Sprintf("%s://%s/", s.scheme, net.JoinHostPort(host, strconv.Itoa(s.port)))
}

// links are the addresses under which phones reach the pages.
func (s *spoken) links() []string {
	var links []string
	for _, host := range lanAddresses() {
		links = append(links, s.address(host))
	}
	if len(links) == 0 {
		links = []string{s.address("localhost")}
	}
	return links
}

// code shows a one-time code, to type and as a QR code (ISO/IEC 18004).
func (s *spoken) code(code serve.Code) {
	s.mu.Lock()
	defer s.mu.Unlock()
	links := s.links()
	if qr, err := qrcode.New(serve.EnterLink(links[0], code), qrcode.Medium); err == nil {
		fmt.Fprintln(s.to, "\n"+qr.ToSmallString(false))
	}
	half := len(code.Typed) / 2
	fmt.Fprintf(s.to, "%s\nCode for the next phone: %s-%s (good once; another is shown when it is used, or after an hour). Stop with Ctrl-C.\n",
		strings.Join(links, "   "), code.Typed[:half], code.Typed[half:])
}

// lanAddresses returns this computer's addresses in the networks that it is in, private ones first.
func lanAddresses() (hosts []string) {
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var others []string
	for _, a := range addresses {
		network, ok := a.(*net.IPNet)
		if !ok || network.IP.IsLoopback() || network.IP.IsLinkLocalUnicast() || network.IP.To4() == nil {
			continue
		}
		if network.IP.IsPrivate() {
			hosts = append(hosts, network.IP.String())
		} else {
			others = append(others, network.IP.String())
		}
	}
	return append(hosts, others...)
}
