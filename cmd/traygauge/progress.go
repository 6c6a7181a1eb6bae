package main

import (
	"io"

	"traygauge/report/terminal"

	"github.com/schollz/progressbar/v3"
)

// progress is a progress bar on a terminal. It prints nothing to files or pipes.
type progress struct {
	bar  *progressbar.ProgressBar
	to   io.Writer
	what string
}

func newProgress(to io.Writer, what string) *progress { return &progress{to: to, what: what} }

// show moves the bar to done of total, and draws it first for 0.
func (p *progress) show(done, total int, _ string) {
	if total == 0 || !terminal.IsTerminal(p.to) {
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

// clear removes the bar, so that a line can be printed. The next show draws it again.
func (p *progress) clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}
