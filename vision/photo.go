// Package vision tells where things are in one photo of a tray and how much of each pixel is root or leaf. It knows pixels
// and the card's plane; it knows no trial.
package vision

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // the header readers that guard the decoder
	_ "image/png"
	"os"

	"gocv.io/x/gocv"
	_ "golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"
)

// Limits on what is decoded at all. Phones give 8 to 50 megapixels; the rest leaves room for a camera.
const (
	MostPixels = 120_000_000
	MostBytes  = 200 << 20
)

// Px is a point in a photo, in pixels: x to the right, y down, the centre of the first pixel at (0, 0).
type Px struct{ X, Y float64 }

// Photo is a decoded photo, upright. Whoever opens it closes it.
type Photo struct {
	Width, Height int
	Meta          Meta

	// BGR holds Width × Height pixels of three bytes, row by row, 8-bit sRGB in the order blue, green, red. It is
	// valid until Close.
	BGR []byte

	mat gocv.Mat
}

// Refusal is why a photo cannot be measured, and what its user can do about it.
type Refusal struct {
	Kind   string // a word or two that stays the same, such as "no card"
	Words  string // what is wrong
	Remedy string // what to do
}

// Error joins what is wrong and what to do.
func (r *Refusal) Error() string { return r.Words + ": " + r.Remedy }

func refuse(kind, remedy, format string, args ...any) *Refusal {
	return &Refusal{Kind: kind, Words: fmt.Sprintf(format, args...), Remedy: remedy}
}

// Open reads and decodes the photo at path and turns it upright by its EXIF orientation. What is no photo, or a broken
// one, gives a *Refusal.
func Open(path string) (*Photo, error) {
	raw, err := ReadFile(path)
	if err != nil {
		return nil, err
	}
	return Decode(raw)
}

// ReadFile reads a photo's bytes, or gives a *Refusal for what is not a file, is empty or too large, or cannot be read.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, refuse("unreadable", "check that the file is still there and that you may read it", "cannot be opened (%v)", plain(err))
	case info.IsDir():
		return nil, refuse("not a photo", "rename the folder or move it out of photos/", "is a folder with a photo's name")
	case !info.Mode().IsRegular():
		return nil, refuse("not a photo", "copy the photo itself here", "is not an ordinary file")
	case info.Size() == 0:
		return nil, refuse("empty file", "copy it from the phone again", "holds 0 bytes")
	case info.Size() > MostBytes:
		return nil, refuse("too large", "photograph with 12 to 50 megapixels", "holds %d MB, more than the %d MB a photo may have", info.Size()>>20, MostBytes>>20)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, refuse("unreadable", "check that you may read it", "cannot be read (%v)", plain(err))
	}
	return raw, nil
}

// plain drops the operation and path from a file error: whoever prints it adds the name once.
func plain(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// Decode decodes a photo's bytes and turns the picture upright. The caller closes the result.
func Decode(raw []byte) (*Photo, error) {
	format, err := vet(raw)
	if err != nil {
		return nil, err
	}
	mat, err := gocv.IMDecode(raw, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
	if err != nil {
		return nil, refuse("broken", "copy it from the phone again", "cannot be decoded (%v)", err)
	}
	if mat.Empty() || mat.Type() != gocv.MatTypeCV8UC3 {
		mat.Close()
		return nil, refuse("broken", "copy it from the phone again", "is a %s file that cannot be decoded", format)
	}
	if format == "JPEG" && damaged(raw, mat) {
		mat.Close()
		return nil, refuse("broken", "copy it from the phone again", "is a JPEG file with part of the picture missing")
	}
	meta := readMeta(raw, format)
	mat = upright(mat, meta.Orientation)
	pix, err := mat.DataPtrUint8()
	if err != nil || len(pix) != mat.Rows()*mat.Cols()*3 {
		mat.Close()
		return nil, refuse("broken", "copy it from the phone again", "cannot be laid out in memory")
	}
	return &Photo{Width: mat.Cols(), Height: mat.Rows(), Meta: meta, BGR: pix, mat: mat}, nil
}

// Close frees the pixels.
func (p *Photo) Close() {
	p.BGR = nil
	p.mat.Close()
}

// Bounds returns the photo's rectangle.
func (p *Photo) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// at returns the offset of pixel (x, y) in BGR.
func (p *Photo) at(x, y int) int { return 3 * (y*p.Width + x) }

// vet names the format by its first bytes and reads the size from its header, so that nothing huge, cut short or
// unknown reaches the decoder: what OpenCV throws there would end the program.
func vet(raw []byte) (format string, err error) {
	format = sniff(raw)
	switch format {
	case "":
		return "", refuse("not a photo", "remove it, or export it as JPEG", "is not a photo in a known format")
	case "heic":
		return "", refuse("not readable here", "set the phone's camera to its most compatible format, or export the photo as JPEG", "is a HEIC file")
	}
	head, _, err := image.DecodeConfig(bytes.NewReader(raw))
	if err != nil {
		return "", refuse("broken", "copy it from the phone again", "has a broken %s header (%v)", format, err)
	}
	if pixels := int64(head.Width) * int64(head.Height); head.Width < 1 || head.Height < 1 || pixels > MostPixels {
		return "", refuse("too large", "photograph with 12 to 50 megapixels", "claims %d × %d pixels (%d megapixels; at most %d are read)",
			head.Width, head.Height, pixels/1e6, MostPixels/1_000_000)
	}
	if cutShort(raw, format) {
		return "", refuse("cut short", "copy it from the phone again: the end of the file is missing", "is a %s file without its end", format)
	}
	return format, nil
}

// sniff names a picture's format by its first bytes, whatever the file is called.
func sniff(raw []byte) string {
	switch {
	case bytes.HasPrefix(raw, []byte("\xff\xd8\xff")):
		return "JPEG"
	case bytes.HasPrefix(raw, []byte("\x89PNG\r\n\x1a\n")):
		return "PNG"
	case bytes.HasPrefix(raw, []byte("II*\x00")), bytes.HasPrefix(raw, []byte("MM\x00*")):
		return "TIFF"
	case len(raw) >= 12 && string(raw[:4]) == "RIFF" && string(raw[8:12]) == "WEBP":
		return "WebP"
	case len(raw) >= 12 && string(raw[4:8]) == "ftyp":
		switch string(raw[8:12]) {
		case "heic", "heix", "hevc", "heim", "heis", "mif1", "msf1", "avif":
			return "heic"
		}
	}
	return ""
}

// cutShort tells whether a file lacks its end. The JPEG library fills a missing end with grey and says nothing, so it
// must be found before.
func cutShort(raw []byte, format string) bool {
	switch format {
	case "JPEG":
		return !hasJPEGEnd(raw)
	case "PNG":
		return !bytes.Contains(raw[max(0, len(raw)-4096):], []byte("IEND"))
	case "WebP":
		claimed := int64(raw[4]) | int64(raw[5])<<8 | int64(raw[6])<<16 | int64(raw[7])<<24
		return claimed+8 > int64(len(raw))
	}
	return false
}

// hasJPEGEnd walks a JPEG's segments (ITU-T T.81, B.1.1) to its scans and looks for the end marker behind the last one,
// so that a thumbnail's own end inside a metadata segment does not count.
func hasJPEGEnd(raw []byte) bool {
	i := 2
	for i+2 <= len(raw) {
		if raw[i] != 0xff {
			i++ // inside a scan's data, or padding
			continue
		}
		switch m := raw[i+1]; {
		case m == 0xd9:
			return true
		case m == 0x00 || m == 0xff || m >= 0xd0 && m <= 0xd8 || m == 0x01:
			i++
			if m != 0xff {
				i++
			}
		case i+4 > len(raw):
			return false
		default:
			i += 2 + int(raw[i+2])<<8 + int(raw[i+3])
		}
	}
	return false
}

// upright turns mat by an EXIF orientation, 1 to 8, and returns the turned one; it closes mat where it makes another.
func upright(mat gocv.Mat, orientation int) gocv.Mat {
	turned := gocv.NewMat()
	switch orientation {
	case 2:
		gocv.Flip(mat, &turned, 1)
	case 3:
		gocv.Rotate(mat, &turned, gocv.Rotate180Clockwise)
	case 4:
		gocv.Flip(mat, &turned, 0)
	case 5:
		gocv.Transpose(mat, &turned)
	case 6:
		gocv.Rotate(mat, &turned, gocv.Rotate90Clockwise)
	case 7:
		gocv.Transpose(mat, &turned)
		gocv.Rotate(turned, &turned, gocv.Rotate180Clockwise)
	case 8:
		gocv.Rotate(mat, &turned, gocv.Rotate90CounterClockwise)
	default:
		turned.Close()
		return mat
	}
	mat.Close()
	return turned
}
