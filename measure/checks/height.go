package checks

import (
	"fmt"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
)

// mostLeafShare is how high leaves may be, over the camera's height. An area is by ((Z − h)/Z)² less than on the card's plane: at two fifths that
// is a third, and a mistake of a centimetre in h is one of 7 % from half a metre up.
const mostLeafShare = 0.4

// LeavesAtTheCamera refuses a height of the leaves that is not well below the camera.
func LeavesAtTheCamera(s *vision.Scene, heightMM float64) error {
	z := s.Plane.HeightMM
	if z <= 0 || heightMM <= mostLeafShare*z {
		return nil
	}
	return &vision.Refusal{Kind: reading.LeafHeight, Words: fmt.Sprintf("the plan says that the leaves are %.0f mm above the card, but the camera was only %.0f mm above it; the leaves must be below two fifths of that", heightMM, z),
		Remedy: "correct leaf_height_mm in " + plan.FileName + ", or take the photo from farther away, and measure again"}
}

// LeavesGrewOn doubts a height that the plan gives for an earlier day only.
func LeavesGrewOn(day int, heightMM float64) reading.Concern {
	return reading.Concern{Kind: reading.LeafHeightNotInPlan,
		Words:  fmt.Sprintf("the plan has no leaf height for day %d or later, so the last one, %.3g mm, was used", day, heightMM),
		Remedy: fmt.Sprintf("measure the height of the leaves above the card in mm and add day %d to leaf_height_mm_on_day in %s", day, plan.FileName),
		Bias:   "its leaf areas would be too large if the leaves have grown since"}
}

// FocalOfTheWholePicture doubts leaves above the card in a photo that was cropped after it was taken: its file has the focal length of the whole picture. In drawn photos cropped
// to 0.8 and 0.65 of their width, areas of leaves 15 to 45 mm high came out 3 to 5 % and 4 to 11 % smaller (measured once; no command prints it).
func FocalOfTheWholePicture(p *vision.Photo, heightMM float64) *reading.Concern {
	if heightMM == 0 || !p.Meta.CutOrResized(p.Width, p.Height) {
		return nil
	}
	return &reading.Concern{Kind: reading.LeafHeight,
		Words: fmt.Sprintf("the photo was cropped or resized: the camera stored %d × %d pixels, the file has %d × %d, so its focal length may be wrong, and the correction for the leaf height of %g mm depends on it",
			p.Meta.WidthPx, p.Meta.HeightPx, p.Width, p.Height, heightMM),
		Remedy: "copy the original photo from the phone",
		Bias:   "its leaf areas would be too small if it was cropped"}
}
