//go:build unix

package main

import (
	"bytes"
	"strings"
	"syscall"
	"testing"
)

// A terminal that is closed while photos are measured ends the program as Ctrl-C does: what is in work is finished and kept.
func TestAClosedTerminalEndsInOrder(t *testing.T) {
	dir, _ := finished(t)
	c := process(t, "measure", dir, "--again", "--workers", "1")
	var said bytes.Buffer
	c.Stderr = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { c.Wait(); close(ended) }()
	select {
	case <-whileWriting(dir, []string{"readings", "overlays"}, ended):
		c.Process.Signal(syscall.SIGHUP)
	case <-ended:
	}
	<-ended
	if !c.ProcessState.Exited() {
		t.Fatalf("ended by the signal: %v", c.ProcessState)
	}
	if code := c.ProcessState.ExitCode(); code == exitFailed && !strings.Contains(said.String(), "the next run continues from here") {
		t.Errorf("exit %d: %s", code, said.String())
	}
	if n := partsIn(dir, []string{"readings", "overlays"}); n > 0 {
		t.Errorf("%d files are left half written", n)
	}
}
