package main

import (
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress is a bar on a terminal, and nothing anywhere else: a log file has no use for it.
type progress struct {
	bar  *progressbar.ProgressBar
	to   io.Writer
	what string
}

func newProgress(to io.Writer, what string) *progress { return &progress{to: to, what: what} }

// show moves the bar to done of total, and draws it first for 0.
func (p *progress) show(done, total int, _ string) {
	if total == 0 || !isTerminal(p.to) {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(total,
			progressbar.OptionSetWriter(p.to),
			progressbar.OptionSetDescription(p.what),
			progressbar.OptionShowCount(),
			progressbar.OptionSetPredictTime(true),
			progressbar.OptionSetWidth(30),
			progressbar.OptionClearOnFinish(),
			progressbar.OptionEnableColorCodes(false), // no colour at all: nothing to switch off for NO_COLOR
		)
	}
	if done == 0 {
		p.bar.RenderBlank()
		return
	}
	p.bar.Set(done) // a terminal that is gone is no reason to stop the work
}

// clear takes the bar away, so that a line can be printed; the next show brings it back.
func (p *progress) clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}

// isTerminal reports whether somebody can watch a bar move on w.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd())) && os.Getenv("TERM") != "dumb"
}
