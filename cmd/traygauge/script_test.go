package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts in testdata/scripts run this program as a command of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"traygauge": main})
}

// Scripts read like a terminal: a command, then what it has to say. `go test -update` writes compared outputs again.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/scripts", UpdateScripts: *update})
}
