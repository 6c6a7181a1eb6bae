package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"traygauge/measure/store"
	"traygauge/report/fromfolder"
	"traygauge/report/pdf"
)

type printOptions struct {
	Out          string // "" is sheets.pdf in the trial's folder
	Paper        string
	Card         int
	BenchColumns int
}

func newPrintCommand(std *streams) *cobra.Command {
	var opts printOptions
	cmd := &cobra.Command{
		Use:   "print DIR",
		Short: "Make a PDF to print: card, tray tags, bench map, feeding sheets",
		Long: `Make a PDF with both faces of the reference card, a tag for each tray, the bench map, and a feeding sheet for each feeding
day. Print it at 100 % (turn off "fit to page") on white matte paper.

Exit codes: 0 done, 1 failed, 2 wrong usage.`,
		Example: `  traygauge print kale-trial
  traygauge print kale-trial --paper letter -o kale-sheets.pdf`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runPrint(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().StringVarP(&opts.Out, "output", "o", "", "write to `FILE` instead of DIR/sheets.pdf")
	cmd.Flags().StringVar(&opts.Paper, "paper", "a4", "paper `SIZE`: a4 or letter")
	cmd.Flags().IntVar(&opts.Card, "card", 1, "card `NUMBER`, printed on the card")
	cmd.Flags().IntVar(&opts.BenchColumns, "bench-columns", 4, "`NUMBER` of positions in a row on the bench map, 1 to 8")
	return cmd
}

// runPrint writes the sheets of the trial in folder dir.
func runPrint(_ context.Context, opts printOptions, dir string, std *streams) error {
	switch {
	case opts.Paper != "a4" && opts.Paper != "letter":
		return usageError{fmt.Errorf("--paper %s: use a4 or letter", opts.Paper)}
	case opts.Card < 1:
		return usageError{fmt.Errorf("--card %d: give a number from 1", opts.Card)}
	case opts.BenchColumns < 1 || opts.BenchColumns > 8:
		return usageError{fmt.Errorf("--bench-columns %d: give a number from 1 to 8", opts.BenchColumns)}
	}
	p, err := fromfolder.Plan(dir, std.Err)
	if err != nil {
		return err
	}
	out := opts.Out
	if out == "" {
		out = filepath.Join(dir, "sheets.pdf")
	}
	err = store.WriteWhole(out, func(w io.Writer) error {
		return pdf.Sheets(w, p, pdf.Options{Paper: opts.Paper, CardNumber: opts.Card, BenchColumns: opts.BenchColumns})
	})
	if err != nil {
		return err
	}
	fmt.Fprintln(std.Err, `Print at 100 % (turn off "fit to page"), then check the line at the foot of each page with a steel rule.`)
	_, err = fmt.Fprintln(std.Out, out)
	return err
}
