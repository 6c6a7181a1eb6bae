package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

type lensOptions struct {
	JSON bool
}

func newLensCommand(std *streams) *cobra.Command {
	var opts lensOptions
	cmd := &cobra.Command{
		Use:   "lens DIR [PHOTO...]",
		Short: "Calibrate a phone’s lens from photos of the card, to correct its distortion",
		Long: `Measure how a phone’s lens distorts its pictures, from a dozen photos of the card alone. Take them from about the distance at
which you photograph trays, with the card in each corner of the picture and in the middle. For some of them, tilt the phone by
20° to 30° to each side. Photos are read from the trial’s folder lens/, or from the files and folders that you list.

The result is saved in lens.json, by camera, focal length and picture format. From then on, measure corrects photos taken with
that lens, and measures earlier ones again.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos or a whole lens need attention.`,
		Example: `  traygauge lens kale-trial
  traygauge lens kale-trial card-photos/`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{errors.New("give the trial’s folder, then the photos if they are not in its folder lens")}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return runLens(cmd.Context(), opts, args[0], args[1:], std)
		},
	}
	cmd.Flags().BoolVar(&opts.JSON, "json", false, "print JSON")
	return cmd
}

// runLens fits lens profiles for the trial in folder dir.
func runLens(ctx context.Context, opts lensOptions, dir string, paths []string, std *streams) error {
	if _, err := fromfolder.Plan(dir, std.Err); err != nil {
		return err
	}
	bar := newProgress(std.Err, "looking")
	result, err := measure.FitLenses(ctx, dir, paths, bar.show)
	bar.clear()
	if opts.JSON && err == nil {
		err = terminal.WriteJSON(std.Out, result)
	} else if err == nil {
		err = terminal.WriteLenses(std.Out, result)
	}
	if err != nil {
		return err
	}
	failed, odd := 0, 0
	for _, l := range result.Lenses {
		if l.Profile == nil {
			failed++
		} else {
			fmt.Fprintf(std.Err, "Saved in %s.\n", filepath.Join(dir, plan.LensesName))
		}
	}
	for _, s := range result.Shots {
		if s.Concern != nil {
			odd++
		}
	}
	switch {
	case failed > 0 || len(result.Lenses) == 0:
		return attention{errors.New("some lenses have no profile: see above")}
	case odd == 1:
		return attention{errors.New("1 photo was not used: see above")}
	case odd > 1:
		return attention{fmt.Errorf("%d photos were not used: see above", odd)}
	}
	return nil
}
