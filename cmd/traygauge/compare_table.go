package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"traygauge/measure/stats"
	"traygauge/measure/stats/table"
	"traygauge/measure/trialdir"
	"traygauge/report/owntable"
)

// tableOptions say what of a table is compared, and how.
type tableOptions struct {
	File, Value, By, Control, Unit string
	Level                          float64
	Scale, Procedure               string
	Interaction                    []string // of neither, one part, the other, both
	JSON                           bool
}

// runCompareTable compares the values of a table.
func runCompareTable(opts tableOptions, std *streams) error {
	o, err := opts.check()
	if err != nil {
		return err
	}
	t, err := readTable(opts, std.In)
	if err != nil {
		return err
	}
	r, err := t.Compare(opts.File, opts.Interaction, opts.JSON, o)
	if err != nil {
		return inTable(opts.File, err)
	}
	if opts.JSON {
		return owntable.WriteJSON(std.Out, r)
	}
	return owntable.Write(std.Out, r)
}

// check turns the command line's words into options.
func (opts tableOptions) check() (stats.Options, error) {
	o := stats.Options{Control: opts.Control, Level: opts.Level}
	switch {
	case opts.Value == "":
		return o, usageError{errors.New("--table needs --value COLUMN, the column with the numbers")}
	case opts.By == "":
		return o, usageError{errors.New("--table needs --by COLUMN, the column with the group of each number")}
	case len(opts.Interaction) != 0 && len(opts.Interaction) != 4:
		return o, usageError{fmt.Errorf("--interaction needs four groups, NEITHER,ONE,OTHER,BOTH, not %d", len(opts.Interaction))}
	case !(opts.Level >= 0.5 && opts.Level < 1):
		return o, usageError{fmt.Errorf("--level %v: give a number between 0.5 and 1, such as 0.95", opts.Level)}
	}
	switch o.Scale = stats.Scale(opts.Scale); o.Scale {
	case stats.AnyScale, stats.LogScale, stats.RawScale:
	default:
		return o, usageError{fmt.Errorf("--scale %s: use log or raw", opts.Scale)}
	}
	switch o.Procedure = stats.Procedure(strings.ReplaceAll(opts.Procedure, "-", " ")); o.Procedure {
	case stats.AnyProcedure, stats.OneVariance, stats.OwnVariances, stats.ByRanks:
	default:
		return o, usageError{fmt.Errorf("--procedure %s: use one-variance, own-variances or ranks", opts.Procedure)}
	}
	return o, nil
}

func readTable(opts tableOptions, in io.Reader) (*table.Table, error) {
	if opts.File != "-" {
		f, err := os.Open(opts.File)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w: check the file’s name and folder", opts.File, trialdir.PlainCause(err))
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, fmt.Errorf("%s is a folder: give a CSV file", opts.File)
		}
		in = f
	}
	t, err := table.Read(in, table.Columns{Value: opts.Value, By: opts.By, Unit: opts.Unit})
	if err != nil {
		return nil, inTable(opts.File, err)
	}
	return t, nil
}

// inTable puts the table's name before an error, once.
func inTable(file string, err error) error {
	if file == "-" {
		file = "standard input"
	}
	if strings.Contains(err.Error(), "\n") {
		return fmt.Errorf("%s:\n%w", file, err)
	}
	return fmt.Errorf("%s: %w", file, err)
}
