//go:build unix

package main

import (
	"os/signal"
	"syscall"
)

// A file that grows beyond the user's limit (ulimit -f) is an error of the write like a full disk, not the end of the program.
func init() { signal.Ignore(syscall.SIGXFSZ) }
