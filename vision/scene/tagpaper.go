package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// Around a tag's marker there is paper on all sides.
const (
	tagPaperMM = 2.3 // from the marker's edge, where the paper is; its own edge is 6 mm off
	tagSpots   = 7   // along each side
	clippedTag = 253 // codes from here on may have been more
)

// TagPaper returns how light the paper of the tag next to the card is, in times of the card's paper, for each colour; ok is false where there is no tag, or its paper is
// overexposed or not in the photo.
func (s *Scene) TagPaper() (times raster.RGB, ok bool) {
	tag, ok := s.nearestTag()
	if !ok {
		return times, false
	}
	middle := middleOf(tag.Corners)
	out := 1 + 2*tagPaperMM/(card.TagMarker.Max.X-card.TagMarker.Min.X)
	var seen []raster.RGB
	for k, a := range tag.Corners {
		b := tag.Corners[(k+1)%4]
		for i := range tagSpots {
			share := (float64(i) + 1) / (tagSpots + 1)
			x := middle.X + out*(a.X*(1-share)+b.X*share-middle.X)
			y := middle.Y + out*(a.Y*(1-share)+b.Y*share-middle.Y)
			if x < 0 || y < 0 || x >= float64(s.Photo.Width-1) || y >= float64(s.Photo.Height-1) {
				return times, false
			}
			at := s.Photo.At(int(x+0.5), int(y+0.5))
			if max(s.Photo.BGR[at], s.Photo.BGR[at+1], s.Photo.BGR[at+2]) >= clippedTag {
				return times, false
			}
			seen = append(seen, s.Photo.Light(at).Scaled(s.Light.ToPaper))
		}
	}
	return raster.MiddleRGB(seen), true
}

// nearestTag returns the tag whose middle is nearest to the card's.
func (s *Scene) nearestTag() (nearest Tag, ok bool) {
	middle, least := middleOf(s.CardOutline()), math.Inf(1)
	for _, t := range s.Tags {
		m := middleOf(t.Corners)
		if far := math.Hypot(m.X-middle.X, m.Y-middle.Y); far < least {
			nearest, least = t, far
		}
	}
	return nearest, !math.IsInf(least, 1)
}

// middleOf returns the mean of four corners.
func middleOf(q [4]raster.Px) (m raster.Px) {
	for _, c := range q {
		m.X, m.Y = m.X+c.X/4, m.Y+c.Y/4
	}
	return m
}
