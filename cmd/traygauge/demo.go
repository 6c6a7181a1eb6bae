package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"traygauge/measure/demo"
)

type demoOptions struct {
	Workers int
}

func newDemoCommand(std *streams) *cobra.Command {
	var opts demoOptions
	cmd := &cobra.Command{
		Use:   "demo DIR",
		Short: "Make a demo trial with drawn photos to try the program on",
		Long: `Make an invented kale trial in a new folder: a plan, a log, and drawn photos of eight trays on three review days. The
folder truth/ holds the true values behind the photos. One tray grows fast and yellows early, one has brown roots, and
one has many empty plugs. One photo is blurred, and one has no card in it.

Exit codes: 0 done, 1 failed, 2 wrong usage.`,
		Example: `  traygauge demo kale-demo
  traygauge measure kale-demo
  traygauge report kale-demo`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := checkWorkers(cmd, opts.Workers); err != nil {
				return err
			}
			return runDemo(cmd.Context(), opts, args[0], std)
		},
	}
	cmd.Flags().IntVar(&opts.Workers, "workers", 0, "draw `N` photos at the same time, 1 to 64 (default: one per processor)")
	return cmd
}

// runDemo makes the trial in folder dir and prints the next steps.
func runDemo(ctx context.Context, opts demoOptions, dir string, std *streams) error {
	bar := newProgress(std.Err, "drawing")
	err := demo.Write(ctx, dir, demo.Options{Workers: opts.Workers, Progress: bar.show})
	bar.clear()
	if err != nil {
		return err
	}
	fmt.Fprintf(std.Err, `The demo trial is in %[1]s. Next, run:
  traygauge check %[1]s     shows the plan, and how small a difference the trial can detect
  traygauge measure %[1]s   measures the photos; two of them are bad on purpose
  traygauge report %[1]s    writes a web page, a workbook and CSV tables to %[1]s/report
  traygauge print %[1]s     makes a PDF of the card, tray tags and feeding sheets
`, dir)
	return nil
}
