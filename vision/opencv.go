package vision

import (
	"gocv.io/x/gocv"

	"traygauge/vision/coverage"
)

// OpenCV returns the version of OpenCV that this program runs with. Decoding and finding markers are its work, so readings may
// differ between two of them.
func OpenCV() string { return gocv.OpenCVVersion() }

// Networks returns the SHA-256 of the networks' files, roots' first: readings made by others differ.
func Networks() [2]string { return [2]string{coverage.Roots.ID(), coverage.Leaves.ID()} }
