package scene

import (
	"math"

	"traygauge/vision/lens"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// photoLens is what is known of the lens behind a photo.
type photoLens struct {
	profile *lens.Profile // nil where there is none for this lens
	curve   *lens.Curve   // nil for a pinhole
	spread  []*lens.Curve // lenses a standard deviation off, each in a direction of its own
	f       float64       // focal length in px
	fRelU   float64       // its relative standard uncertainty; 0 where the photo names no focal length and f is a guess
	middle  raster.Px     // principal point
}

// assumedFocal35 is the focal length taken for the tilt alone when a photo names none: a phone's main lens (common
// practice, no source). Areas never rest on it.
const assumedFocal35 = 26

// A focal length written as a 35 mm equivalent is a whole number, ±2 % at 26 mm, and a lens focused on a tray stands further out
// than at rest, by its own focal length over the distance, about 1 % for a phone. Taken as a rectangle of ±3 %.
const writtenFocalRelU = 0.03 / 1.7320508

// lensOf picks the profile of p's lens, or says what may be expected of a lens without one.
func lensOf(p *photo.Photo, profiles []lens.Profile) photoLens {
	l := photoLens{middle: raster.Px{X: float64(p.Width-1) / 2, Y: float64(p.Height-1) / 2}}
	f, named := p.Meta.FocalPx(p.Width, p.Height)
	if !named {
		f, _ = photo.Meta{Focal35: assumedFocal35}.FocalPx(p.Width, p.Height)
	}
	l.f = f
	if named {
		l.fRelU = writtenFocalRelU
	}
	for i := range profiles {
		if profiles[i].Same(lensKey(p)) && l.take(&profiles[i], p) {
			return l
		}
	}
	r2 := (raster.Sq(l.middle.X) + raster.Sq(l.middle.Y)) / raster.Sq(f)
	l.spread = []*lens.Curve{lens.Lens{F: f, CX: l.middle.X, CY: l.middle.Y, K1: unknownBendU / r2}.Over(p.Width, p.Height)}
	return l
}

// sensorTurn is the EXIF orientation by which the camera's own picture became p. An upright picture higher than wide whose file says
// nothing was turned before it was written, as HEIC decoders and editors do: by a quarter, to the usual side.
func sensorTurn(p *photo.Photo) int {
	if p.Meta.Orientation <= 1 && p.Height > p.Width {
		return 6
	}
	return p.Meta.Orientation
}

func lensKey(p *photo.Photo) lens.Key {
	w, h := lens.Turned(p.Width, p.Height, sensorTurn(p))
	return lens.Key{Camera: p.Meta.Camera, Focal35: p.Meta.Focal35, FocalMM: p.Meta.FocalMM, Aspect: float64(w) / float64(h)}
}

// take uses a profile; ok is false, and l unchanged, for one that cannot be of a real lens.
func (l *photoLens) take(profile *lens.Profile, p *photo.Photo) (ok bool) {
	fitted := profile.In(p.Width, p.Height, sensorTurn(p))
	curve := fitted.Over(p.Width, p.Height)
	if curve == nil {
		return false
	}
	l.profile, l.curve, l.middle = profile, curve, raster.Px{X: fitted.CX, Y: fitted.CY}
	l.f, l.fRelU = fitted.F, math.Max(profile.FocalRelU(), 1e-6)
	for _, off := range profile.Spread(p.Width, p.Height, sensorTurn(p)) {
		if c := off.Over(p.Width, p.Height); c != nil {
			l.spread = append(l.spread, c)
		}
	}
	return true
}
