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
		Short: "Learn a phone’s lens from photos of the card, so that its distortion can be corrected",
		Long: `Learn how a phone’s lens bends its pictures, from a dozen photos of the card alone: in each corner of the picture, in the
middle, and some with the phone tilted by 20° to 30° to each side, from about as far away as you photograph trays. The photos are
read from the trial’s folder lens/, or from the files and folders that you name.

The result is kept in lens.json, by camera, focal length and shape of the picture. From then on photos taken with that lens are
corrected for it when they are measured; photos measured before are measured again.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos or a whole lens need attention.`,
		Example: `  traygauge lens kale-trial
  traygauge lens kale-trial card-photos/`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{errors.New("name the trial’s folder, then the photos if they are not in its folder lens")}
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
			fmt.Fprintf(std.Err, "Kept in %s.\n", filepath.Join(dir, plan.LensesName))
		}
	}
	for _, s := range result.Shots {
		if s.Concern != nil {
			odd++
		}
	}
	switch {
	case failed > 0 || len(result.Lenses) == 0:
		return attention{errors.New("not every lens got a profile: see above")}
	case odd == 1:
		return attention{errors.New("1 photo was not used: see above")}
	case odd > 1:
		return attention{fmt.Errorf("%d photos were not used: see above", odd)}
	}
	return nil
}
