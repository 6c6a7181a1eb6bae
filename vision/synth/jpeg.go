package synth

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/disintegration/imaging"
)

// EXIF is what the camera writes beside the pixels. What is zero is left out.
type EXIF struct {
	Taken       time.Time // DateTimeOriginal
	WithZone    bool      // and its offset, OffsetTimeOriginal
	Focal35     int       // FocalLengthIn35mmFilm, mm
	Make, Model string
	Orientation int // 1, 3, 6 or 8; the pixels are stored turned accordingly

	WidthPx, HeightPx int // PixelXDimension and PixelYDimension
}

// Save writes the picture as a JPEG of the given quality and its truth beside it as NAME.truth.json.
func Save(path string, img *image.NRGBA, t Truth, quality int, e EXIF) error {
	if err := WriteJPEG(path, img, quality, e); err != nil {
		return err
	}
	t.Photo = filepath.Base(path)
	if !e.Taken.IsZero() {
		t.Date = e.Taken.Format(time.DateOnly)
	}
	if e.Orientation > 1 {
		t = t.stored(e.Orientation)
	}
	return t.Write(strings.TrimSuffix(path, filepath.Ext(path)) + ".truth.json")
}

// WriteJPEG writes an upright picture as a JPEG with EXIF.
func WriteJPEG(path string, img *image.NRGBA, quality int, e EXIF) error {
	switch e.Orientation {
	case 0, 1:
	case 3:
		img = imaging.Rotate180(img)
	case 6: // the viewer turns it clockwise
		img = imaging.Rotate90(img)
	case 8:
		img = imaging.Rotate270(img)
	default:
		return fmt.Errorf("%s: EXIF orientation %d: give 1, 3, 6 or 8", path, e.Orientation)
	}
	var coded bytes.Buffer
	// Without transparency RGBA is the same bytes, and the encoder is quick with it.
	flat := &image.RGBA{Pix: img.Pix, Stride: img.Stride, Rect: img.Rect}
	if err := jpeg.Encode(&coded, flat, &jpeg.Options{Quality: quality}); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return writeWithEXIF(path, coded.Bytes(), e.segment())
}

// writeWithEXIF puts an APP1 segment behind the JPEG's first marker.
func writeWithEXIF(path string, coded, segment []byte) (err error) {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("write the photo: %w", err)
	}
	defer func() {
		if cerr := f.Close(); err == nil {
			err = cerr
		}
	}()
	w := bufio.NewWriter(f)
	for _, part := range [][]byte{coded[:2], segment, coded[2:]} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	return w.Flush()
}

// Types and tags of EXIF 2.31 (CIPA DC-008-2016, 4.6), OffsetTimeOriginal among them.
const (
	typeASCII, typeShort, typeLong, typeUndefined = 2, 3, 4, 7

	tagMake, tagModel, tagOrientation, tagExifIFD     = 0x010f, 0x0110, 0x0112, 0x8769
	tagVersion, tagTaken, tagTakenOffset, tagFocal35  = 0x9000, 0x9003, 0x9011, 0xa405
	tagWidth, tagHeight                               = 0xa002, 0xa003
	tiffHeader, entryBytes, tagLengthBytes, countsize = 8, 12, 4, 2
)

type entry struct {
	tag, kind uint16
	value     []byte
}

func ascii(tag uint16, s string) entry { return entry{tag, typeASCII, append([]byte(s), 0)} }

func short(tag uint16, v int) entry {
	return entry{tag, typeShort, binary.BigEndian.AppendUint16(nil, uint16(v))}
}

// segment is the whole APP1 segment: a big-endian TIFF of two directories.
func (e EXIF) segment() []byte {
	var first, second []entry
	if e.Make != "" {
		first = append(first, ascii(tagMake, e.Make))
	}
	if e.Model != "" {
		first = append(first, ascii(tagModel, e.Model))
	}
	first = append(first, short(tagOrientation, max(1, e.Orientation)), entry{tagExifIFD, typeLong, make([]byte, 4)})
	second = append(second, entry{tagVersion, typeUndefined, []byte("0231")})
	if !e.Taken.IsZero() {
		second = append(second, ascii(tagTaken, e.Taken.Format("2006:01:02 15:04:05")))
		if e.WithZone {
			second = append(second, ascii(tagTakenOffset, e.Taken.Format("-07:00")))
		}
	}
	if e.WidthPx > 0 {
		second = append(second, short(tagWidth, e.WidthPx), short(tagHeight, e.HeightPx))
	}
	if e.Focal35 > 0 {
		second = append(second, short(tagFocal35, e.Focal35))
	}
	at := tiffHeader + len(directory(first, 0))
	binary.BigEndian.PutUint32(first[len(first)-1].value, uint32(at))
	tiff := append([]byte("MM\x00\x2a\x00\x00\x00\x08"), directory(first, tiffHeader)...)
	tiff = append(tiff, directory(second, at)...)
	out := []byte{0xff, 0xe1}
	out = binary.BigEndian.AppendUint16(out, uint16(2+6+len(tiff)))
	return append(append(out, "Exif\x00\x00"...), tiff...)
}

// directory is one TIFF directory that starts at an offset, its long values behind it.
func directory(entries []entry, offset int) []byte {
	out := binary.BigEndian.AppendUint16(nil, uint16(len(entries)))
	var long []byte
	after := offset + countsize + entryBytes*len(entries) + 4
	size := map[uint16]int{typeASCII: 1, typeShort: 2, typeLong: 4, typeUndefined: 1}
	for _, e := range entries {
		out = binary.BigEndian.AppendUint16(out, e.tag)
		out = binary.BigEndian.AppendUint16(out, e.kind)
		out = binary.BigEndian.AppendUint32(out, uint32(len(e.value)/size[e.kind]))
		if len(e.value) <= tagLengthBytes {
			out = append(out, append(bytes.Clone(e.value), 0, 0, 0, 0)[:4]...)
			continue
		}
		out = binary.BigEndian.AppendUint32(out, uint32(after+len(long)))
		long = append(long, e.value...)
		if len(long)%2 == 1 {
			long = append(long, 0)
		}
	}
	return append(append(out, 0, 0, 0, 0), long...)
}
