package terminal

import (
	"fmt"
	"io"

	"traygauge/measure"
)

// WriteLenses says what was not used and why, then what each lens is like.
func WriteLenses(to io.Writer, r measure.LensResult) error {
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
  distortion at the corners           %.2f ± %.2f %% of their distance from the middle
  k1, k2                              %.5f, %.5f
  focal length                        %.1f ± %.1f px in a picture of %d × %d
  error at the card’s corners         %.2f px, root mean square
  card covers                         %.0f %% of the way to the picture’s corners, in every quarter
  angles between photos               up to %.0f°
`, l.Lens, p.Photos, p.BendPct, 2*p.BendUPct, p.K1, p.K2,
		p.Focal*p.DiagonalPx(), 2*p.Focal*p.DiagonalPx()*p.FocalRelU(), p.Width, p.Height, p.MisfitPx, 100*p.Reach, p.TurnDeg)
	return err
}
