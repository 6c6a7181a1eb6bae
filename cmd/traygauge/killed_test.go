package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"traygauge/report/html/plugs"
)

// Killed fifty times over measure and report, at random moments and while a file is being written, a trial keeps all that
// was there, and the next run makes it complete again.
func TestKilledAtAnyMoment(t *testing.T) {
	dir, want := finished(t)
	took := map[string]time.Duration{}
	for _, args := range [][]string{{"measure", dir, "--again"}, {"report", dir}} {
		start := time.Now()
		finish(t, process(t, args...))
		took[args[0]] = time.Since(start)
	}

	random := rand.New(rand.NewPCG(1, 2))
	killed, writing := 0, 0
	for i := range 50 {
		args, folders, anew := []string{"measure", dir, "--again"}, []string{"readings", "overlays"}, i%9 == 0
		if i%5 == 2 {
			args, folders = []string{"report", dir}, []string{"report"}
		}
		if anew { // from nothing, as in a first run
			for _, folder := range folders {
				if err := os.RemoveAll(filepath.Join(dir, folder)); err != nil {
					t.Fatal(err)
				}
			}
		}
		c := process(t, args...)
		if args[0] == "report" {
			folders = append(folders, "report/"+plugs.Folder)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		left, ended := partsIn(dir, folders), make(chan struct{})
		go func() { c.Wait(); close(ended) }()
		moment := time.After(time.Duration(random.Float64() * 1.1 * float64(took[args[0]])))
		if i%2 == 0 {
			moment = whileWriting(dir, folders, ended)
		}
		select {
		case <-moment:
			c.Process.Kill()
			<-ended
		case <-ended:
		}
		killed += count(!c.ProcessState.Exited())
		writing += count(partsIn(dir, folders) > left)
		for name, content := range trialFiles(t, dir) {
			switch {
			case strings.HasSuffix(name, ".part"), strings.HasPrefix(name, "report.new/"), strings.HasPrefix(name, "report.old/"): // cleared away by the next run
			case want[name] == nil:
				t.Errorf("kill %d: %s is too many", i, name)
			case !bytes.Equal(content, want[name]):
				t.Errorf("kill %d: %s is not what it was", i, name)
			}
		}
		for name := range want {
			if _, err := os.Stat(filepath.Join(dir, name)); err != nil && !(anew && strings.Contains(strings.Join(folders, " "), filepath.Dir(name))) {
				t.Errorf("kill %d: %v", i, err)
			}
		}
		if t.Failed() {
			t.FailNow()
		}
		if anew { // or the next kills would find nothing to lose
			finish(t, process(t, "measure", dir))
			finish(t, process(t, "report", dir))
			sameResults(t, "the run after a kill", trialFiles(t, dir), want)
		}
	}
	t.Logf("50 runs, %d killed before their end, %d of them while a file was being written", killed, writing)
	if killed == 0 || writing == 0 {
		t.Error("no run was killed while it wrote: the test shows nothing")
	}
	finish(t, process(t, "measure", dir))
	finish(t, process(t, "report", dir))
	sameResults(t, "the run after the last kill", trialFiles(t, dir), want)
}

// whileWriting returns a channel that tells when one of the trial's folders holds a file half written.
func whileWriting(dir string, folders []string, ended <-chan struct{}) <-chan time.Time {
	moment := make(chan time.Time, 1)
	before := partsIn(dir, folders)
	go func() {
		for {
			select {
			case <-ended:
				return
			default:
			}
			if partsIn(dir, folders) > before {
				moment <- time.Now()
				return
			}
			time.Sleep(200 * time.Microsecond)
		}
	}()
	return moment
}

func partsIn(dir string, folders []string) (n int) {
	for _, folder := range folders {
		parts, _ := filepath.Glob(filepath.Join(dir, folder, ".*.part")) // the pattern is a good one
		n += len(parts)
	}
	return n
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
