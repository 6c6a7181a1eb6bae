package vision

import (
	"bytes"
	"errors"
	"image/jpeg"

	"gocv.io/x/gocv"
)

// damaged reports whether a decoded JPEG lost some of its middle, as a copy that failed half-way does. The JPEG library goes on
// without a word: it fills the picture's end with the last colour it had, and plants there would be missing. So an even
// last corner raises the suspicion, and only then the stricter but slower decoder looks at the whole file.
func damaged(raw []byte, stored gocv.Mat) bool {
	if !evenLastCorner(stored) {
		return false
	}
	_, err := jpeg.Decode(bytes.NewReader(raw))
	var broken jpeg.FormatError
	return errors.As(err, &broken)
}

// evenLastCorner reports whether the lower right pixels all have one and the same colour, which noise hardly ever leaves in a
// photo. Six pixels a side lie within a JPEG's last block wherever the picture's edge does not cut it smaller.
func evenLastCorner(m gocv.Mat) bool {
	pix, err := m.DataPtrUint8()
	if err != nil {
		return true
	}
	row := 3 * m.Cols()
	last := pix[len(pix)-3:]
	for y := max(0, m.Rows()-6); y < m.Rows(); y++ {
		for x := max(0, m.Cols()-6); x < m.Cols(); x++ {
			if !bytes.Equal(pix[y*row+3*x:y*row+3*x+3], last) {
				return false
			}
		}
	}
	return true
}
