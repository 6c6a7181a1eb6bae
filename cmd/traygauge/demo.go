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
		Short: "Make an invented trial with drawn photos to try everything on",
		Long: `Make an invented trial of kale in a new folder: plan, log, and drawn photos of eight trays on three review days. What
the photos show is known and kept in truth/. One tray grows fast and yellows early, one has brown roots, one many empty
plugs; one photo is blurred, one lacks the card.

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

// runDemo makes the trial in folder dir and says what to do with it.
func runDemo(ctx context.Context, opts demoOptions, dir string, std *streams) error {
	bar := newProgress(std.Err, "drawing")
	err := demo.Write(ctx, dir, demo.Options{Workers: opts.Workers, Progress: bar.show})
	bar.clear()
	if err != nil {
		return err
	}
	fmt.Fprintf(std.Err, `%[1]s holds an invented trial with drawn photos. Now run:
  traygauge check %[1]s     what the plan says, and what it cannot show
  traygauge measure %[1]s   a verdict for each photo; two of them went wrong on purpose
  traygauge report %[1]s    the page with the answer, a workbook and CSV tables, in %[1]s/report
  traygauge print %[1]s     the card, tray tags and feeding sheets, as a PDF
`, dir)
	return nil
}
