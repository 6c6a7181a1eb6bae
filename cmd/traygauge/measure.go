package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/fromfolder"
	"traygauge/report/seen"
	"traygauge/report/terminal"
)

type measureOptions struct {
	Workers int
	Again   bool
	Shard   string
	JSON    bool
	All     bool // every photo's verdict and the trays' table

	Trays, Days []string // PHOTO=NUMBER, by hand
	Who, Why    string
}

func newMeasureCommand(std *streams) *cobra.Command {
	var opts measureOptions
	cmd := &cobra.Command{
		Use:   "measure DIR",
		Short: "Measure the trial’s photos and give each one a verdict",
		Long: `Measure the photos in the trial’s folder photos/ and its sub-folders. Each photo gets a verdict, such as good, doubt or
retake, with the reason and what to do. Readings are saved in readings/. Pictures that show what was counted are saved in
overlays/. The photos themselves are never changed. Photos that this version has already measured with the same settings are
skipped.

--shard I/N measures only part I of N, to spread many photos over several processes or computers that share the trial’s
folder. When all parts are done, run measure once more without --shard. That run measures any photos left over, checks the
photos against each other and prints the summary.

If a photo shows no tag, its tray comes from the name of its file or folder, such as tray-07, or from --assign. An assignment
is recorded in corrections.jsonl with who made it, when and why. The photo keeps its name.

The output has one line for each day with the number of good photos, then the photos that need attention, with the reason and
what to do. --all lists every photo and the figures of every tray.

Results go to standard output, messages and progress to standard error. --json prints one object: "photos" (each with
"photo", "verdict", "tray", "day", "view", "concerns" and the figures behind the verdict), "trays" (with the columns of
trays.csv), "concerns" about the photos as a set, "skipped" (files that are not photos), "measured" and "kept".

Exit codes: 0 all photos good, 1 failed, 2 wrong usage, 3 done but some photos need attention.`,
		Example: `  traygauge measure kale-trial
  traygauge measure kale-trial --json > verdicts.json
  traygauge measure kale-trial --assign day-14/IMG_0412.HEIC=7 --assign day-14/IMG_0413.HEIC=7
  traygauge measure kale-trial --assign-day IMG_0501.jpg=21 --why "the phone’s clock was wrong"`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := checkWorkers(cmd, opts.Workers); err != nil {
				return err
			}
			return runMeasure(cmd.Context(), opts, args[0], std)
		},
	}
	cmd.Flags().IntVar(&opts.Workers, "workers", 0, "measure `N` photos at the same time, 1 to 64 (default: 2, or 1 on a single processor)")
	cmd.Flags().BoolVar(&opts.Again, "again", false, "measure all photos again")
	cmd.Flags().StringVar(&opts.Shard, "shard", "", "measure only part `I/N` of the photos, such as 2/8; parts can run at the same time, on one computer or several")
	cmd.Flags().BoolVar(&opts.JSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&opts.All, "all", false, "list every photo and the figures of every tray")
	cmd.Flags().StringArrayVar(&opts.Trays, "assign", nil, "set the tray that a photo shows, as `PHOTO=TRAY`; can be repeated")
	cmd.Flags().StringArrayVar(&opts.Days, "assign-day", nil, "set the day after sowing on which a photo was taken, as `PHOTO=DAY`; can be repeated")
	cmd.Flags().StringVar(&opts.Who, "who", "", "your `NAME` or nickname, recorded with --assign (default: your user name on this computer)")
	cmd.Flags().StringVar(&opts.Why, "why", "", "the `REASON` for --assign or --assign-day")
	for _, flag := range []string{"assign", "assign-day"} {
		_ = cmd.RegisterFlagCompletionFunc(flag, completePhoto) // the flag is there: it was made above
	}
	return cmd
}

// checkWorkers refuses a number of workers that was given and makes no sense; 0 stands for none given.
func checkWorkers(cmd *cobra.Command, n int) error {
	if cmd.Flags().Changed("workers") && (n < 1 || n > 64) {
		return usageError{fmt.Errorf("--workers %d: give a number from 1 to 64, or leave it out", n)}
	}
	return nil
}

// runMeasure measures the trial in folder dir. What is wrong with a photo is printed as it comes, a line a day at the end.
func runMeasure(ctx context.Context, opts measureOptions, dir string, std *streams) error {
	var shard trialdir.Shard
	if opts.Shard != "" {
		var err error
		if shard, err = trialdir.ParseShard(opts.Shard); err != nil {
			return usageError{fmt.Errorf("--shard: %w", err)}
		}
	}
	assigned, err := opts.assignments()
	if err != nil {
		return usageError{err}
	}
	p, err := fromfolder.Plan(dir, std.Err)
	if err != nil {
		return err
	}
	if len(assigned) > 0 {
		if err := measure.Assign(dir, p, assigned); err != nil {
			return err
		}
	}
	bar := newProgress(std.Err, "measuring")
	o := measure.RunOptions{
		Workers: opts.Workers, Again: opts.Again, Shard: shard, Version: version(), Progress: bar.show,
		Draw: func(s measure.Seen, r reading.Reading) error { return seen.Draw(dir, s, r) },
	}
	if !opts.JSON {
		o.Each = func(r reading.Reading, reused bool) {
			if len(r.Concerns) > 0 || r.ExcludedBy() != nil || opts.All && !reused { // what was good before needs no second line
				bar.clear()
				terminal.WriteVerdict(std.Out, p, r)
			}
		}
	}
	result, err := measure.Run(ctx, dir, p, o)
	bar.clear()
	if err != nil && len(result.Readings) == 0 {
		return err
	}
	if n := len(result.Removed); n > 0 {
		fmt.Fprintf(std.Err, "%s missing (%s) and no longer counted: to count it again, put the file back and run `traygauge measure %s`\n",
			wording.Counted(n, "measured photo is", "measured photos are"), wording.First(wording.Quoted(result.Removed), 6), wording.Typed(dir))
	}
	trial := report.Collect(p, result.Readings)
	if shard.Of > 0 {
		trial.Trays, trial.Days = nil, nil // summed up when all parts are done
	}
	if opts.JSON {
		err = errors.Join(err, terminal.WriteJSON(std.Out, terminal.MeasuredOf(p, result, trial)))
	} else {
		err = errors.Join(err, terminal.WriteMeasured(std.Out, p, result, trial, opts.All))
		if result.Measured+result.Reused == 0 && shard.Of == 0 && err == nil {
			fmt.Fprintf(std.Err, "%s has no photos: copy your photos there and run `traygauge measure %s` again\n", filepath.Join(dir, trialdir.PhotosFolder), wording.Typed(dir))
			return err
		}
		fmt.Fprintf(std.Err, "%d measured, %d unchanged since the last run. Overlays that show what was counted are in %s.\n", result.Measured, result.Reused, filepath.Join(dir, trialdir.OverlaysFolder))
	}
	if err != nil {
		return err
	}
	return needsAttention(result)
}

// needsAttention returns the error for photos that someone has to look at, or nil.
func needsAttention(result measure.Result) error {
	n := 0
	for _, r := range result.Readings {
		if len(r.Concerns) > 0 && r.ExcludedBy() == nil {
			n++
		}
	}
	switch {
	case n == 1:
		return attention{errors.New("1 photo needs attention: see above")}
	case n > 1:
		return attention{fmt.Errorf("%d photos need attention: see above", n)}
	case len(result.Concerns) > 0:
		return attention{errors.New("the photos as a set need attention: see above")}
	}
	return nil
}
