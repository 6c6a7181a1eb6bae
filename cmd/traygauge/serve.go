package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/skip2/go-qrcode"
	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/report/serve"
)

type serveOptions struct {
	LAN       bool
	Port      int
	Cert, Key string
	On        string // the day to show, year-month-day; "" is today
}

func newServeCommand(std *streams) *cobra.Command {
	var opts serveOptions
	cmd := &cobra.Command{
		Use:   "serve DIR",
		Short: "Feeding day in the browser: photograph, see, keep or retake; then look the photos through",
		Long: `Show the trial in a browser: a page for feeding day, made for a phone in one hand, and a page for looking photos through and
correcting what was measured. What is done there is kept in the trial's folder, as the other commands do it.

Without --lan only this computer reaches the pages. With --lan phones on the same network do: the terminal shows a QR code, and a
code to type, that lets one phone in; then it shows the next. Unless --cert and --key are given, the link is not encrypted: use it
only on a network whose users you trust.

Stop it with Ctrl-C; what is being measured is finished first.`,
		Example: `  traygauge serve kale-trial
  traygauge serve kale-trial --lan
  traygauge serve kale-trial --lan --cert cert.pem --key key.pem
  traygauge serve demo-trial --on 2026-03-16`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runServe(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().BoolVar(&opts.LAN, "lan", false, "let phones on the local network in, with a one-time code")
	cmd.Flags().IntVar(&opts.Port, "port", 8510, "listen on `PORT`; 0 is any that is free")
	cmd.Flags().StringVar(&opts.Cert, "cert", "", "certificate `FILE` (PEM), for an encrypted link")
	cmd.Flags().StringVar(&opts.Key, "key", "", "the certificate's private key `FILE` (PEM)")
	cmd.Flags().StringVar(&opts.On, "on", "", "show the pages as on another `DATE` (year-month-day) than today")
	return cmd
}

// runServe serves the trial in folder dir until ctx ends.
func runServe(ctx context.Context, opts serveOptions, dir string, std *streams) error {
	if (opts.Cert == "") != (opts.Key == "") {
		return usageError{errors.New("--cert and --key go together: give both, or neither")}
	}
	if opts.Port < 0 || opts.Port > 65535 {
		return usageError{fmt.Errorf("--port %d: give 1 to 65535, or 0 for any", opts.Port)}
	}
	now, err := clockOn(opts.On)
	if err != nil {
		return usageError{err}
	}
	if _, err := planWithoutMistakes(dir, std); err != nil {
		return err
	}
	host := "127.0.0.1"
	if opts.LAN {
		host = ""
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(opts.Port)))
	if err != nil {
		return fmt.Errorf("cannot listen on port %d: %w: give another with --port", opts.Port, err)
	}
	words := &spoken{to: std.Err, scheme: "http", port: listener.Addr().(*net.TCPAddr).Port, lan: opts.LAN}
	if opts.Cert != "" {
		words.scheme = "https"
	}
	s := serve.New(serve.Options{
		Dir: dir, Version: version(), LAN: opts.LAN, Secure: opts.Cert != "", Now: now,
		Draw:    func(seen measure.Seen, r measure.Reading) error { return drawOverlay(dir, seen, r) },
		Verdict: verdictOn, NewCode: words.code,
		Report: func(ctx context.Context) ([]string, error) { return reportFiles(ctx, dir) },
	})
	defer s.Close()
	words.begin(s.Code())
	return serveOn(ctx, listener, s.Handler(), opts, std.Err)
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
func serveOn(ctx context.Context, listener net.Listener, h http.Handler, opts serveOptions, to io.Writer) error {
	server := &http.Server{
		Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 2 * time.Minute, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: 32 << 10, ErrorLog: log.New(to, "", 0),
	}
	ended := make(chan error, 1)
	go func() {
		if opts.Cert != "" {
			ended <- server.ServeTLS(listener, opts.Cert, opts.Key)
		} else {
			ended <- server.Serve(listener)
		}
	}()
	select {
	case err := <-ended:
		return fmt.Errorf("cannot serve: %w", err)
	case <-ctx.Done():
	}
	fmt.Fprintln(to, "Stopping; what is on its way is finished first.")
	last, stop := context.WithTimeout(context.Background(), 15*time.Second)
	defer stop()
	if err := server.Shutdown(last); err != nil {
		server.Close()
	}
	return nil
}

// reportFiles writes the report as its command does and returns the files.
func reportFiles(ctx context.Context, dir string) ([]string, error) {
	var out, errs bytes.Buffer
	err := runReport(ctx, reportOptions{JSON: true}, dir, &streams{Out: &out, Err: &errs})
	var look attention
	if err != nil && !errors.As(err, &look) {
		return nil, err
	}
	var r reported
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		return nil, fmt.Errorf("the report's list of files: %w", err)
	}
	return r.Files, nil
}

// spoken says in the terminal where the pages are. Codes are shown from other goroutines.
type spoken struct {
	mu     sync.Mutex
	to     io.Writer
	scheme string
	port   int
	lan    bool
}

func (s *spoken) begin(code string) {
	if !s.lan {
		fmt.Fprintf(s.to, "Feeding day:      %s\nLooking through:  %slook\nOnly this computer reaches them; --lan lets phones in. Stop with Ctrl-C.\n", s.address("localhost"), s.address("localhost"))
		return
	}
	if s.scheme == "http" {
		fmt.Fprintln(s.to, "The link is not encrypted: whoever shares this network can read along. Use one whose users you trust, or give --cert and --key.")
	}
	s.code(code)
}

func (s *spoken) address(host string) string {
	return fmt.Sprintf("%s://%s/", s.scheme, net.JoinHostPort(host, strconv.Itoa(s.port)))
}

// code shows a one-time code, to type and as a QR code (ISO/IEC 18004). It stands behind "#", which browsers send to nobody.
func (s *spoken) code(code string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	hosts := lanAddresses()
	if len(hosts) == 0 {
		hosts = []string{"localhost"}
	}
	link := s.address(hosts[0]) + "enter#" + code
	if qr, err := qrcode.New(link, qrcode.Medium); err == nil {
		fmt.Fprintln(s.to, "\n"+qr.ToSmallString(false))
	}
	for _, host := range hosts {
		fmt.Fprintf(s.to, "%s   ", s.address(host))
	}
	fmt.Fprintf(s.to, "\nCode for the next phone: %s-%s (good once, for an hour). Stop with Ctrl-C.\n", code[:len(code)/2], code[len(code)/2:])
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
