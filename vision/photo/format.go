package photo

import (
	"bytes"
	"encoding/binary"
	"image/color" // with the others: the header readers that guard the decoder
	_ "image/png"

	_ "golang.org/x/image/webp"

	"traygauge/vision/kind"
)

// The remedies that several refusals share.
const (
	copyAgain    = "copy it from the phone again"
	exportAsJPEG = "export it as JPEG"
	fewerPixels  = "photograph with 12 to 50 megapixels"
)

// withArticle puts "a" or "an" before a format's name.
func withArticle(format string) string {
	if format == "AVIF" {
		return "an " + format
	}
	return "a " + format
}

// tooManyPixels refuses a picture that no phone makes, or one without pixels.
func tooManyPixels(width, height int) error {
	if pixels := int64(width) * int64(height); width < 1 || height < 1 || pixels > MostPixels {
		return Refuse(kind.TooLarge, fewerPixels, "has %d × %d pixels (%d megapixels; limit %d)",
			width, height, pixels/1e6, MostPixels/1_000_000)
	}
	return nil
}

// mayBeSeeThrough reports whether the header leaves room for an alpha channel.
func (c *container) mayBeSeeThrough() bool {
	switch c.model {
	case color.NRGBAModel, color.NRGBA64Model, color.NYCbCrAModel:
		return true
	}
	_, palette := c.model.(color.Palette)
	return palette
}

// sniff names a picture's format by its first bytes, whatever the file is called.
func sniff(raw []byte) string {
	switch {
	case bytes.HasPrefix(raw, []byte("\xff\xd8\xff")):
		return "JPEG"
	case bytes.HasPrefix(raw, []byte("\x89PNG\r\n\x1a\n")):
		return "PNG"
	case bytes.HasPrefix(raw, []byte("II*\x00")), bytes.HasPrefix(raw, []byte("MM\x00*")):
		if isRawPhoto(raw) {
			return "raw"
		}
		return "TIFF"
	case bytes.HasPrefix(raw, []byte("GIF8")):
		return "GIF"
	case bytes.HasPrefix(raw, []byte("BM")) && len(raw) >= 26 && binary.LittleEndian.Uint32(raw[2:]) == uint32(len(raw)):
		return "BMP"
	case bytes.HasPrefix(raw, []byte("\xff\x0a")), bytes.HasPrefix(raw, []byte("\x00\x00\x00\x0cJXL ")):
		return "JPEG XL"
	case len(raw) >= 12 && string(raw[:4]) == "RIFF" && string(raw[8:12]) == "WEBP":
		return "WebP"
	case len(raw) >= 12 && string(raw[4:8]) == "ftyp":
		switch string(raw[8:12]) {
		case "heic", "heix", "hevc", "heim", "heis", "mif1", "msf1":
			return "HEIC"
		case "avif", "avis":
			return "AVIF"
		case "crx ":
			return "raw"
		}
	}
	return ""
}

// isRawPhoto reports whether a TIFF file is a camera's raw file, by its tag (DNG 1.4, DNGVersion).
func isRawPhoto(raw []byte) bool {
	const dngVersion = 50706
	return tiffValue(raw, dngVersion) != nil
}

// unturnedTIFF returns raw with its Orientation (tag 274) set to 1, a copy where it is another. OpenCV turns TIFF files by
// itself whatever its flags, and other versions may turn others: so it must find nothing to turn by.
func unturnedTIFF(raw []byte) []byte {
	const orientation = 274
	v := tiffValue(raw, orientation)
	if len(v) != 2 || v[0]+v[1] == 1 {
		return raw
	}
	raw = bytes.Clone(raw)
	v = tiffValue(raw, orientation)
	v[0], v[1] = 1, 0
	if raw[0] == 'M' {
		v[0], v[1] = 0, 1
	}
	return raw
}

// tiffValue returns the bytes of a tag in a TIFF's first directory (TIFF 6.0, section 2), or nil. A value of up to four bytes
// stands in the entry itself.
func tiffValue(raw []byte, tag uint16) []byte {
	if len(raw) < 10 {
		return nil
	}
	var order binary.ByteOrder = binary.LittleEndian
	if raw[0] == 'M' {
		order = binary.BigEndian
	}
	at := uint64(order.Uint32(raw[4:]))
	if at+2 > uint64(len(raw)) {
		return nil
	}
	entries := raw[at+2:]
	for n := int(order.Uint16(raw[at:])); n > 0 && len(entries) >= 12; n, entries = n-1, entries[12:] {
		if order.Uint16(entries) != tag {
			continue
		}
		sizes := map[uint16]uint64{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1}
		size := sizes[order.Uint16(entries[2:])] * uint64(order.Uint32(entries[4:]))
		if size <= 4 {
			return entries[8 : 8+size]
		}
		from := uint64(order.Uint32(entries[8:]))
		if from+size > uint64(len(raw)) {
			return nil
		}
		return raw[from : from+size]
	}
	return nil
}

// cutShort reports whether a file lacks its end. The JPEG library fills a missing end with grey and says nothing, so it
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
		case m == markEOI:
			return true
		case m == 0x00 || m == 0xff || m >= markRST0 && m <= markSOI || m == 0x01:
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
