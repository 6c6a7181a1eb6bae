package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image/jpeg"
	"strings"

	"gocv.io/x/gocv"
)

// damageWarned reports whether libjpeg's warning speaks of damage. Zeros in front of the end marker, with which some cameras stuff their
// files, come after the whole picture and are none.
func damageWarned(warning string, raw []byte) bool {
	if strings.HasSuffix(warning, " extraneous bytes before marker 0xd9") && onlyZerosBeforeEnd(raw) {
		return false
	}
	return strings.HasPrefix(warning, "Corrupt JPEG data") || strings.HasPrefix(warning, "Premature end of JPEG") || strings.HasPrefix(warning, "Inconsistent progression")
}

// onlyZerosBeforeEnd reports whether zeros and nothing else lie between the last code of a JPEG's last scan and its end marker. A code ends on
// 1 bits (ITU-T T.81, F.1.2.3).
func onlyZerosBeforeEnd(raw []byte) bool {
	end := bytes.LastIndex(raw, []byte{0xff, 0xd9})
	return end > 2 && raw[end-1] == 0 && raw[end-2] == 0 || end > 2 && raw[end-1] == 0 && raw[end-2]&1 == 1
}

// wrongChecksum reports whether one of a PNG's chunks that make the picture does not have the checksum that it says (PNG specification,
// 5.5): those whose names begin with a capital letter.
func (c *container) wrongChecksum() bool {
	if c.format != "PNG" {
		return false
	}
	for _, p := range c.parts {
		critical := p.kind[0]&0x20 == 0
		if critical && crc32.ChecksumIEEE(c.raw[p.end-len(p.body)-4:p.end]) != binary.BigEndian.Uint32(c.raw[p.end:]) {
			return true
		}
	}
	return !c.whole
}

// damaged reports whether a decoded JPEG lost some of its middle, as a copy that failed half-way does. Where libjpeg does not notice, it fills
// the picture's end with the last colour it had, and plants there would be missing. So an even last corner raises the suspicion, and only then
// the stricter but slower decoder looks at the whole file.
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
