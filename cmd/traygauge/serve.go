package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"traygauge/report/fromfolder"
	"traygauge/report/serve/listen"
	"traygauge/report/serve/work"
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
		Short: "Start the web app for feeding day, taking photos and reviewing them",
		Long: `Start a web app for the trial. It has a page for feeding day, made for a phone held in one hand, and a page for reviewing photos
and correcting measurements. All data stays in the trial’s folder, in the same files that the other commands use.

By default only this computer can open the pages. With --lan, phones on the same network can open them too. The terminal shows
a QR code, and a code to type instead; each code pairs one phone, and then a new one appears. The Phones page on this computer
shows the code too, and lists the paired phones. A phone stays paired for a day after its last use, even if the program restarts.

With --tls the connection is encrypted, and the feeding-day page opens even when the phone is offline. Each phone has to trust
this computer’s certificate once; the terminal explains how. To use your own certificate, give --cert and --key. Without
encryption, use the app only on a network where you trust everyone.

Press Ctrl-C to stop.

Exit codes: 0 stopped, 1 failed, 2 wrong usage.`,
		Example: `  traygauge serve kale-trial
  traygauge serve kale-trial --lan
  traygauge serve kale-trial --lan --tls
  traygauge serve kale-trial --lan --cert cert.pem --key key.pem
  traygauge serve demo-trial --on 2026-03-16`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runServe(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().BoolVar(&opts.LAN, "lan", false, "let phones on the local network connect, each with a one-time code")
	cmd.Flags().IntVar(&opts.Port, "port", 8510, "listen on `PORT`; 0 picks a free one")
	cmd.Flags().BoolVar(&opts.TLS, "tls", false, "encrypt the connection with a certificate made on this computer; each phone has to trust it once")
	cmd.Flags().StringVar(&opts.Cert, "cert", "", "your own certificate `FILE` (PEM), for an encrypted connection")
	cmd.Flags().StringVar(&opts.Key, "key", "", "private key `FILE` (PEM) of your own certificate")
	cmd.Flags().StringVar(&opts.On, "on", "", "show the pages as of `DATE` (year-month-day) instead of today")
	return cmd
}

// check reports options that do not fit together.
func (o serveOptions) check() error {
	switch {
	case (o.Cert == "") != (o.Key == ""):
		return errors.New("--cert and --key belong together: give both or neither")
	case o.TLS && o.Cert != "":
		return errors.New("--tls makes a certificate and --cert uses your own: give only one of them")
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
	if _, err := fromfolder.Plan(dir, std.Err); err != nil {
		return err
	}
	program, err := os.Executable()
	if err != nil {
		program = "" // photos are measured in this process
	}
	return listen.Serve(ctx, listen.Options{
		Dir: dir, Version: version(), Program: program, LAN: opts.LAN, Port: opts.Port, TLS: opts.TLS, Cert: opts.Cert, Key: opts.Key, Now: now,
	}, std.Err)
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

// newOnePhotoCommand makes the command by which serve measures a photo in a process of its own. It is not for people.
func newOnePhotoCommand(std *streams) *cobra.Command {
	var as string
	cmd := &cobra.Command{
		Use: work.PhotoCommand + " DIR PHOTO", Hidden: true, Args: cobra.ExactArgs(2), Short: "Measure one photo, for serve",
		RunE: func(cmd *cobra.Command, args []string) error {
			return work.AnswerApart(cmd.Context(), args[0], args[1], as, std.Out)
		},
	}
	cmd.Flags().StringVar(&as, "as", version(), "`VERSION` that the reading is kept under")
	return cmd
}
