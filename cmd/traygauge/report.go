package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/blind"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/report"
)

type reportOptions struct {
	JSON bool
}

func newReportCommand(std *streams) *cobra.Command {
	var opts reportOptions
	cmd := &cobra.Command{
		Use:   "report DIR",
		Short: "Write the spreadsheet and the tables from what was measured",
		Long: `Write DIR/report/plugs.csv, trays.csv, comparisons.csv and trial.xlsx from the readings that the measure command
left, and sum up the trays and what they show.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos gave nothing to report or have to be measured again.`,
		Example: `  traygauge report kale-trial
  traygauge report kale-trial --json`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runReport(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().BoolVar(&opts.JSON, "json", false, "print JSON")
	return cmd
}

// reported is what the report command prints as JSON.
type reported struct {
	Files  []string             `json:"files"`
	Trays  []map[string]any     `json:"trays"`
	Unused []report.UnusedPhoto `json:"unused"`
	Broken []string             `json:"broken"` // readings that are to be made again

	Compared *compare.Result `json:"compared"`
}

// runReport writes the report of the trial in folder dir.
func runReport(_ context.Context, opts reportOptions, dir string, std *streams) error {
	p, err := planWithoutMistakes(dir, std)
	if err != nil {
		return err
	}
	readings, broken := measure.LoadReadings(dir)
	for _, b := range broken {
		fmt.Fprintln(std.Err, b)
	}
	if len(readings) == 0 {
		return fmt.Errorf("no readings in %s: run `traygauge measure %s` first", filepath.Join(dir, "readings"), dir)
	}
	warnOfOldReadings(std, p, dir, readings)
	trial := report.Collect(p, readings)
	if trial.Blind, err = blind.Words(dir, trial.Plan.Zone); err != nil {
		return err
	}
	compared, err := compareReadings(p, readings, dir, compare.Options{}, std)
	if err != nil {
		return err
	}
	files, err := writeReport(filepath.Join(dir, "report"), trial, compared)
	if err != nil {
		return err
	}
	result := reported{Files: files, Compared: compared, Trays: report.TrayRecords(trial), Unused: report.UnusedPhotos(trial), Broken: []string{}}
	for _, b := range broken {
		result.Broken = append(result.Broken, b.Error())
	}
	if opts.JSON {
		enc := json.NewEncoder(std.Out)
		enc.SetIndent("", "  ")
		err = enc.Encode(result)
	} else {
		err = printReported(std, trial, result)
	}
	if err != nil {
		return err
	}
	n := len(broken)
	for _, r := range trial.Unused {
		n += count(r.ExcludedBy() == nil) // an excluded one was looked at
	}
	switch {
	case n == 1:
		return attention{errors.New("1 photo needs attention")}
	case n > 1:
		return attention{fmt.Errorf("%d photos need attention", n)}
	}
	return nil
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// warnOfOldReadings says so when the plan, or the program, has changed since the photos were measured.
func warnOfOldReadings(std *streams, p *plan.Plan, dir string, readings []measure.Reading) {
	now, old := measure.SettingsOf(p, version()), 0
	for _, r := range readings {
		if r.Settings != now {
			old++
		}
	}
	if old > 0 {
		fmt.Fprintf(std.Err, "%d of %d readings were made with another plan or program version: run `traygauge measure %s` again before relying on the report\n", old, len(readings), dir)
	}
}

// writeReport writes the report's files into folder dir and returns their paths.
func writeReport(dir string, trial *report.Trial, compared *compare.Result) (files []string, err error) {
	if err := measure.MakeFolder(filepath.Dir(dir), filepath.Base(dir)); err != nil {
		return nil, err
	}
	store.SyncFolder(filepath.Dir(dir))
	unlock, err := store.Lock(filepath.Dir(dir), false) // the lock is the trial's: the report's folder is for showing around
	if err != nil {
		return nil, fmt.Errorf("cannot write %s now: it is %w: let it finish first", dir, err)
	}
	defer unlock()
	for _, f := range []struct {
		name  string
		write func(io.Writer, *report.Trial) error
	}{
		{"plugs.csv", report.WritePlugsCSV}, {"trays.csv", report.WriteTraysCSV},
		{"comparisons.csv", func(w io.Writer, _ *report.Trial) error { return report.WriteComparisonsCSV(w, compared) }},
		{"trial.xlsx", report.WriteWorkbook},
	} {
		path := filepath.Join(dir, f.name)
		if err := store.WriteWhole(path, func(w io.Writer) error { return f.write(w, trial) }); err != nil {
			return nil, err
		}
		files = append(files, path)
	}
	return files, store.RemoveParts(dir, 0)
}

// printReported writes the summary to Out; what needs attention and where the files are goes to Err.
func printReported(std *streams, trial *report.Trial, r reported) error {
	if err := report.WriteSummary(std.Out, trial); err != nil {
		return err
	}
	if err := writeShort(std.Out, r.Compared); err != nil {
		return err
	}
	for _, u := range r.Unused {
		fmt.Fprintf(std.Err, "%s: %s\n", measure.Shown(u.Photo), u.Why)
	}
	for _, f := range r.Files {
		fmt.Fprintln(std.Err, "wrote "+f)
	}
	return nil
}
