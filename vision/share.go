package vision

// Share is how much of each pixel of a grid laid over a part of the photo is something: 0 none to 255 all, row by row. The grid's pixels
// lie along the photo's own, StepX × StepY of them to one.
type Share struct {
	X0, Y0       float64 // the outer corner of the first one in the photo, where whole numbers are the corners of pixels
	StepX, StepY float64
	W, H         int
	A            []uint8
}
