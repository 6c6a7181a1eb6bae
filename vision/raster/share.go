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

// At returns how much of it there is at a place of the photo; 0 beyond the grid.
func (s *Share) At(q Px) uint8 {
	x, y := s.index(q)
	if x < 0 || y < 0 || x >= s.W || y >= s.H {
		return 0
	}
	return s.A[y*s.W+x]
}

// index returns the column and row of a place of the photo.
func (s *Share) index(q Px) (x, y int) {
	return int(math.Floor((q.X + 0.5 - s.X0) / s.StepX)), int(math.Floor((q.Y + 0.5 - s.Y0) / s.StepY))
}

// Near reports whether there is some of it, more than a tenth, within so many steps of a place of the photo.
func (s *Share) Near(q Px, steps int) bool {
	const some = 25
	x, y := s.index(q)
	for j := max(0, y-steps); j <= min(s.H-1, y+steps); j++ {
		for i := max(0, x-steps); i <= min(s.W-1, x+steps); i++ {
			if s.A[j*s.W+i] > some {
				return true
			}
		}
	}
	return false
}
