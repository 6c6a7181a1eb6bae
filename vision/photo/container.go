package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg" // with the others: the header readers that guard the decoder
	_ "image/png"

	"golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"

	"traygauge/vision/kind"
)

// container is a photo's file taken apart, once for all who look into it: what it says of its picture, and its parts.
type container struct {
	raw           []byte
	format        string
	width, height int // 0 for HEIC, whose header libheif reads
	model         color.Model

	// parts are a JPEG's segments up to its first scan's (ITU-T T.81, B.1.1), and the chunks of PNG (ISO/IEC 15948, 5.3) and WebP (RFC 9649, 2.3);
	// other formats have none. whole reports whether they follow on one another up to that scan or to the chunk that ends a PNG.
	parts []part
	whole bool
}

// part is a segment or chunk: kind is a JPEG marker's second byte or a chunk's four letters, end where in the file its body ends.
type part struct {
	kind string
	body []byte
	end  int
}

// The JPEG markers that are looked for (ITU-T T.81, table B.1).
const (
	markSOF0 = 0xc0 // frame, baseline
	markSOF1 = 0xc1 // frame, extended sequential
	markDHT  = 0xc4 // Huffman tables
	markRST0 = 0xd0 // restart
	markSOI  = 0xd8 // start of the image
	markEOI  = 0xd9 // its end
	markSOS  = 0xda // scan
	markDQT  = 0xdb // quantisation tables
	markDRI  = 0xdd // restart interval
	markAPP0 = 0xe0 // application data: APP0 …
	markAPP2 = 0xe2
	markAPPF = 0xef // … APP15
	markCOM  = 0xfe // comment
)

// FormatOf names a photo's format by its first bytes, "JPEG", "HEIC", "PNG", "TIFF" or "WebP", and looks at its header without decoding
// it. What Decode would refuse by the header alone, such as what is no photo, claims too many pixels or is cut short, is a *Refusal.
func FormatOf(raw []byte) (string, error) {
	if len(raw) > mostBytes {
		return "", Refuse(kind.TooLarge, "photograph with 12 to 50 megapixels", "has %d MB (limit %d MB)", len(raw)>>20, mostBytes>>20)
	}
	c, err := open(raw)
	return c.format, err
}

// open takes a file apart and refuses what is huge, cut short or unknown before it reaches the decoder: what OpenCV throws there would end the
// program.
func open(raw []byte) (container, error) {
	c := takeApart(raw)
	switch c.format {
	case "":
		return c, Refuse(kind.NotAPhoto, "remove it, or export it as JPEG", "is not a photo in a known format")
	case "HEIC":
		return c, nil
	case "GIF", "BMP", "AVIF", "JPEG XL", "raw":
		return c, Refuse(kind.NotReadableHere, exportAsJPEG, "is %s file, which the program cannot read", withArticle(c.format))
	}
	head, _, err := image.DecodeConfig(bytes.NewReader(raw))
	var jpegKind jpeg.UnsupportedError
	var tiffKind tiff.UnsupportedError
	switch {
	case errors.As(err, &jpegKind), errors.As(err, &tiffKind):
		return c, Refuse(kind.NotReadableHere, exportAsJPEG, "is a kind of %s file that the program cannot read (%v)", c.format, err)
	case err != nil:
		return c, Refuse(kind.Broken, copyAgain, "has a damaged %s header (%v)", c.format, err)
	case head.ColorModel == color.CMYKModel:
		return c, Refuse(kind.NotReadableHere, "export it as an RGB JPEG", "has printer colours (CMYK) instead of camera colours")
	}
	c.width, c.height, c.model = head.Width, head.Height, head.ColorModel
	if err := tooManyPixels(c.width, c.height); err != nil {
		return c, err
	}
	if cutShort(raw, c.format) {
		return c, Refuse(kind.CutShort, copyAgain+": the end of the file is missing", "is a %s file with its end missing", c.format)
	}
	return c, nil
}

// takeApart names the format and lists the parts, as far as they follow on one another.
func takeApart(raw []byte) container {
	c := container{raw: raw, format: sniff(raw)}
	switch c.format {
	case "JPEG":
		c.segments()
	case "PNG":
		c.chunks(8, 4, binary.BigEndian, func(b []byte) (size, kind []byte) { return b[:4], b[4:8] })
	case "WebP":
		c.chunks(12, 0, binary.LittleEndian, func(b []byte) (size, kind []byte) { return b[4:8], b[:4] })
	}
	return c
}

func (c *container) segments() {
	for i := 2; i+4 <= len(c.raw) && c.raw[i] == 0xff; {
		if c.raw[i+1] == 0xff { // fill byte
			i++
			continue
		}
		end := i + 2 + int(binary.BigEndian.Uint16(c.raw[i+2:]))
		if end < i+4 || end > len(c.raw) {
			return
		}
		c.parts = append(c.parts, part{string(c.raw[i+1 : i+2]), c.raw[i+4 : end], end})
		if c.raw[i+1] == markSOS {
			c.whole = true
			return
		}
		i = end
	}
}

// chunks lists chunks from a place of the file on, each a head of eight bytes, a body, and sum bytes of checksum; WebP's are padded to even lengths.
func (c *container) chunks(from, sum int, order binary.ByteOrder, head func([]byte) (size, kind []byte)) {
	for i := from; i+8+sum <= len(c.raw); {
		sizeOf, kindOf := head(c.raw[i:])
		size, kind := uint64(order.Uint32(sizeOf)), string(kindOf)
		if size > uint64(len(c.raw)-i-8-sum) {
			return
		}
		end := i + 8 + int(size)
		c.parts = append(c.parts, part{kind, c.raw[i+8 : end], end})
		if kind == "IEND" {
			c.whole = true
			return
		}
		i = end + sum
		if c.format == "WebP" {
			i += int(size % 2)
		}
	}
}

// marker returns a JPEG part's marker.
func (p part) marker() byte { return p.kind[0] }
