// Package fromfolder makes the comparisons and the report of a trial from its folder.
//
//	in    a trial's folder and the program's version
//	out   the plan, the readings and their comparisons; the report's files, written all or none; words about what is doubtful
//
// It must not depend on flags and exit codes, or on how a page, a table or a comparison is made.
package fromfolder

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"traygauge/measure"
	"traygauge/measure/checks"
	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/finding"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/report/terminal"
)

// Trial is a trial as its folder holds it: a plan without mistakes, and at least one reading.
type Trial struct {
	Dir      string
	Plan     *plan.Plan
	Readings []reading.Reading
	Broken   []error                // readings that cannot be read
	Doubtful []reading.TrialConcern // readings that are not, or no longer, of this plan, this program and these photos
}

// Plan loads the plan of the trial in folder dir. Mistakes in it are written to tell with their lines.
func Plan(dir string, tell io.Writer) (*plan.Plan, error) {
	p, findings, err := plan.Load(dir)
	var mistakes *finding.MistakesError
	if errors.As(err, &mistakes) {
		terminal.WriteFindings(tell, findings, dir)
		err = listed{mistakes}
	}
	return p, err
}

// listed is mistakes that were written already: its words only count them.
type listed struct{ mistakes *finding.MistakesError }

func (l listed) Error() string {
	count, _, _ := strings.Cut(l.mistakes.Error(), "\n")
	return count
}

func (l listed) Unwrap() error { return l.mistakes }

// Read reads the trial in folder dir for the program of that version. Which readings are broken or doubtful is written to tell.
func Read(dir, version string, tell io.Writer) (*Trial, error) {
	p, err := Plan(dir, tell)
	if err != nil {
		return nil, err
	}
	t := &Trial{Dir: dir, Plan: p}
	t.Readings, t.Broken = reading.LoadReadings(dir)
	for _, b := range t.Broken {
		fmt.Fprintln(tell, b)
	}
	if len(t.Readings) == 0 {
		return nil, fmt.Errorf("nothing has been measured yet (no readings in %s): copy the photos into %s, run `traygauge measure %s`, then run this command again",
			filepath.Join(dir, trialdir.ReadingsFolder), filepath.Join(dir, trialdir.PhotosFolder), wording.Typed(dir))
	}
	t.Doubtful = measure.Audit(dir, p, version, t.Readings)
	terminal.WriteDoubtfulReadings(tell, dir, t.Doubtful)
	t.Readings = checks.Together(p, doubtWithoutPhoto(t.Readings, t.Doubtful))
	return t, nil
}

// doubtWithoutPhoto returns the readings with a doubt added to each whose photo is gone, since no one can look at that photo again.
func doubtWithoutPhoto(readings []reading.Reading, doubtful []reading.TrialConcern) []reading.Reading {
	readings = slices.Clone(readings)
	for _, d := range doubtful {
		if d.Kind != reading.PhotoGone {
			continue
		}
		for i, r := range readings {
			if r.Photo == d.Photos[0] {
				readings[i].Concerns = append(slices.Clone(r.Concerns), reading.Concern{Kind: reading.PhotoGone,
					Words: "the measured photo is no longer in the trial’s folder, so its figures cannot be checked", Remedy: "put it back"})
			}
		}
	}
	return readings
}

// Attention is the number of readings that someone has to look at, or that have to be made again.
func (t *Trial) Attention() int { return len(t.Broken) + len(t.Doubtful) }

// Compare compares the trial's treatments from its readings and its log. What is wrong with the log is written to tell.
func (t *Trial) Compare(o compare.Options, tell io.Writer) (*outcome.Result, error) {
	return compared(t.Plan, t.Readings, t.Dir, o, tell)
}

func compared(p *plan.Plan, readings []reading.Reading, dir string, o compare.Options, tell io.Writer) (*outcome.Result, error) {
	log, findings, err := logbook.Load(dir)
	if err != nil {
		return nil, err
	}
	for _, f := range findings {
		fmt.Fprintln(tell, f)
	}
	return compare.Of(p, readings, log, o), nil
}
