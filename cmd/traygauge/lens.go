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
	"traygauge/measure/plan"
)

type lensOptions struct {
	JSON bool
}

func newLensCommand(std *streams) *cobra.Command {
	var opts lensOptions
	cmd := &cobra.Command{
		Use:   "lens DIR [PHOTO...]",
		Short: "Learn a phone's lens from photos of the card, so that its bending can be corrected",
		Long: `Learn how a phone's lens bends its pictures, from a dozen photos of the card alone: in each corner of the picture, in the
middle, and some with the phone tilted by 20° to 30° to each side, from about the distance that trays are photographed from. Photos are
taken from the trial's folder lens/, or from the files and folders named.

What was learnt is kept in lens.json, by camera, focal length and shape of the picture. From then on photos of the same lens are
straightened when they are measured; photos measured before are measured again.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos or a whole lens need attention.`,
		Example: `  traygauge lens kale-trial
  traygauge lens kale-trial card-photos/`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{errors.New("name the trial's folder, then the photos if they are not in its folder lens")}
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
	if _, err := planWithoutMistakes(dir, std); err != nil {
		return err
	}
	bar := newProgress(std.Err, "looking")
	result, err := measure.FitLenses(ctx, dir, paths, bar.show)
	bar.clear()
	if opts.JSON && err == nil {
		enc := json.NewEncoder(std.Out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		err = enc.Encode(result)
	} else if err == nil {
		err = printLenses(std.Out, result)
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

// printLenses says what was not used and why, then what each lens is like.
func printLenses(to io.Writer, r measure.LensResult) error {
	for _, s := range r.Shots {
		if s.Concern != nil {
			if _, err := fmt.Fprintf(to, "%s: not used: %s: %s\n", s.File, s.Concern.Words, s.Concern.Remedy); err != nil {
				return err
			}
		}
	}
	for _, l := range r.Lenses {
		if err := printLens(to, l); err != nil {
			return err
		}
	}
	return nil
}

func printLens(to io.Writer, l measure.FoundLens) error {
	if l.Profile == nil {
		_, err := fmt.Fprintf(to, "%s: no profile: %s: %s\n", l.Lens, l.Concern.Words, l.Concern.Remedy)
		return err
	}
	p := l.Profile
	_, err := fmt.Fprintf(to, `%s: profile from %d photos
  the picture's corners are bent by   %.2f ± %.2f %% of their distance from the middle
  k1, k2                              %.5f, %.5f
  focal length                        %.1f ± %.1f px in a picture of %d × %d
  corners of the card lie off by      %.2f px, root mean square
  card seen out to                    %.0f %% of the way to the picture's corners, in every quarter
  angles between photos               up to %.0f°
`, l.Lens, p.Photos, p.BendPct, 2*p.BendUPct, p.K1, p.K2,
		p.Focal*p.DiagonalPx(), 2*p.Focal*p.DiagonalPx()*p.FocalRelU(), p.Width, p.Height, p.MisfitPx, 100*p.Reach, p.TurnDeg)
	return err
}
