package raster

import "math"

// Share is how much of each pixel of a grid laid over a part of the photo is something: 0 none to 255 all, row by row. The grid's pixels
// lie along the photo's own, StepX × StepY of them to one.
type Share struct {
	X0, Y0       float64 // the outer corner of the first one in the photo, where whole numbers are the corners of pixels
	StepX, StepY float64
	W, H         int
	A            []uint8
}

// Near reports whether there is some of it, more than a tenth, within so many steps of a place of the photo.
func (s *Share) Near(q Px, steps int) bool {
	const some = 25
	x, y := int(math.Floor((q.X+0.5-s.X0)/s.StepX)), int(math.Floor((q.Y+0.5-s.Y0)/s.StepY))
	for j := max(0, y-steps); j <= min(s.H-1, y+steps); j++ {
		for i := max(0, x-steps); i <= min(s.W-1, x+steps); i++ {
			if s.A[j*s.W+i] > some {
				return true
			}
		}
	}
	return false
}
