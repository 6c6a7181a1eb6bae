package vision

import "gocv.io/x/gocv"

// OpenCV returns the version of OpenCV that this program runs with. Decoding and finding markers are its work, so readings may
// differ between two of them.
func OpenCV() string { return gocv.OpenCVVersion() }
