// Package photo turns a photo file's bytes into an upright picture in sRGB, or says why it cannot.
//
// In: bytes of a JPEG, PNG, WebP, TIFF or HEIC file. Out: a Photo, what its file says of camera and time, its smaller copies; or a Refusal with what to do.
// Damage that would pass for a picture is looked for here, and colour profiles end here.
// It must not know cards, trays, plants or the trial.
package photo

import (
	"errors"
	"fmt"
	"image"
	"os"
	"sync"

	"gocv.io/x/gocv"

	"traygauge/vision/jpeg"
	"traygauge/vision/kind"
	"traygauge/vision/raster"
)

// Limits on what is decoded at all. Phones give 8 to 50 megapixels; the rest leaves room for a camera.
const (
	MostPixels = 120_000_000
	mostBytes  = 200 << 20
)

// Photo is a decoded photo, upright. Whoever opens it closes it.
type Photo struct {
	Width, Height int
	Meta          Meta
	Quality       int       // of a JPEG, 1 to 100; 0: another format
	Doubts        []Refusal // what could not be made out of the file, though its picture could

	// BGR holds Width × Height pixels of three bytes, row by row, 8-bit sRGB in the order blue, green, red. It is
	// valid until Close.
	BGR []byte

	ownStep float64 // of a JPEG's lowest frequencies
	mat     gocv.Mat
	storage *jpeg.Storage // of the pixels, which a later photo may use again; nil where OpenCV has them

	mu    sync.Mutex
	small *Small // made last
}

// Refusal is why a photo cannot be measured, and what its user can do about it.
type Refusal struct {
	Kind   kind.Kind
	Words  string // what is wrong
	Remedy string // what to do
}

// Error joins what is wrong and what to do.
func (r *Refusal) Error() string { return r.Words + ": " + r.Remedy }

// Refuse returns a Refusal; format and args say what is wrong.
func Refuse(k kind.Kind, remedy, format string, args ...any) *Refusal {
	return &Refusal{Kind: k, Words: fmt.Sprintf(format, args...), Remedy: remedy}
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
		return nil, Refuse(kind.Unreadable, "check that the file is still there and that you have permission to read it", "cannot be opened (%v)", plain(err))
	case info.IsDir():
		return nil, Refuse(kind.NotAPhoto, "rename the folder or move it out of photos/", "is a folder, not a photo")
	case !info.Mode().IsRegular():
		return nil, Refuse(kind.NotAPhoto, "copy the photo itself here", "is not an ordinary file")
	case info.Size() == 0:
		return nil, Refuse(kind.EmptyFile, "copy it from the phone again", "is an empty file (0 bytes)")
	case info.Size() > mostBytes:
		return nil, Refuse(kind.TooLarge, "photograph with 12 to 50 megapixels", "has %d MB (limit %d MB)", info.Size()>>20, mostBytes>>20)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, Refuse(kind.Unreadable, "check that you have permission to read it", "cannot be read (%v)", plain(err))
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

// Close frees the pixels.
func (p *Photo) Close() {
	p.BGR = nil
	p.mat.Close()
	giveBack(p.storage)
	p.storage = nil
}

// idle holds the storage of the photo that was closed last: handing out so much memory takes the system a fifth of what decoding takes.
var idle = make(chan *jpeg.Storage, 1)

// take returns storage of at least n bytes, whatever is in them.
func take(n int) *jpeg.Storage {
	select {
	case s := <-idle:
		if len(s.Bytes) >= n {
			return s
		}
	default:
	}
	return jpeg.NewStorage(n)
}

func giveBack(s *jpeg.Storage) {
	if s == nil {
		return
	}
	select {
	case idle <- s:
	default:
	}
}

// Grey reports whether the photo shows no colour at all, as a camera's black-and-white filter makes it. One pixel in a few dozen is
// looked at.
func (p *Photo) Grey() bool {
	const most = 2 // codes that JPEG's rounding may leave between the channels of a grey
	for i := 0; i+2 < len(p.BGR); i += 3 * 37 {
		b, g, r := int(p.BGR[i]), int(p.BGR[i+1]), int(p.BGR[i+2])
		if max(b, g, r)-min(b, g, r) > most {
			return false
		}
	}
	return true
}

// Bounds returns the photo's rectangle.
func (p *Photo) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// RGBA returns a copy of the photo's pixels as a picture.
func (p *Photo) RGBA() *image.RGBA {
	picture := image.NewRGBA(p.Bounds())
	for i, j := 0, 0; i < len(picture.Pix) && j+2 < len(p.BGR); i, j = i+4, j+3 {
		picture.Pix[i], picture.Pix[i+1], picture.Pix[i+2], picture.Pix[i+3] = p.BGR[j+2], p.BGR[j+1], p.BGR[j], 255
	}
	return picture
}

// At returns the offset of pixel (x, y) in BGR.
func (p *Photo) At(x, y int) int { return 3 * (y*p.Width + x) }

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

// Light returns the linear light of the pixel at offset i of BGR.
func (p *Photo) Light(i int) raster.RGB {
	return raster.RGB{raster.LinearOf[p.BGR[i+2]], raster.LinearOf[p.BGR[i+1]], raster.LinearOf[p.BGR[i]]}
}

// Holds reports whether all of q is in the photo.
func (p *Photo) Holds(q []raster.Px) bool {
	for _, at := range q {
		if !(at.X >= 0 && at.Y >= 0 && at.X <= float64(p.Width-1) && at.Y <= float64(p.Height-1)) {
			return false
		}
	}
	return true
}
