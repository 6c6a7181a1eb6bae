package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"slices"
	"testing"
	"time"
)

// rawTIFF is a TIFF whose directory holds DNGVersion (tag 50706), as a camera's raw file does.
func rawTIFF() []byte {
	b := []byte("II*\x00\x08\x00\x00\x00\x01\x00")
	for _, v := range []uint16{50706, 1} {
		b = binary.LittleEndian.AppendUint16(b, v)
	}
	return append(b, 4, 0, 0, 0, 1, 4, 0, 0, 0, 0, 0, 0)
}

func pngOf(t *testing.T, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestASeeThroughPictureIsRefused(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 10, 6))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	m.SetNRGBA(4, 2, color.NRGBA{10, 20, 30, 254})
	_, err := Decode(pngOf(t, m))
	refused(t, "one pixel hidden a little", err, "see-through", "original photo from the camera")
}

// The frame header of a JPEG with four components, as printers' files have it (ITU-T T.81, B.2.2).
func TestAPrintersFourInksAreRefused(t *testing.T) {
	frame := []byte{0xff, 0xd8, 0xff, 0xee, 0, 14, 'A', 'd', 'o', 'b', 'e', 0, 100, 0, 0, 0, 0, 0,
		0xff, 0xc0, 0, 20, 8, 0, 48, 0, 64, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0}
	scan := []byte{0xff, 0xda, 0, 14, 4, 1, 0, 2, 0, 3, 0, 4, 0, 0, 63, 0, 0xff, 0xd9}
	_, err := Decode(append(frame, scan...))
	refused(t, "CMYK", err, "not readable here", "RGB JPEG")
}

// exifBlock holds one tag, Orientation.
func exifBlock(orientation int) []byte {
	b := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00")
	b = append(b, byte(orientation), 0, 0, 0)
	return append(b, 0, 0, 0, 0)
}

func jpegWithOrientation(raw []byte, orientation int) []byte {
	block := append([]byte("Exif\x00\x00"), exifBlock(orientation)...)
	seg := append([]byte{0xff, 0xe1, 0, byte(len(block) + 2)}, block...)
	return append(append(append([]byte{}, raw[:2]...), seg...), raw[2:]...)
}

// pngWithChunk puts a chunk behind a PNG's header.
func pngWithChunk(raw []byte, kind string, data []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	chunk = append(append(chunk, kind...), data...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return slices.Concat(raw[:33], chunk, raw[33:])
}

// webpWith turns testdata/quarters.webp into an extended file (RFC 9649, 2.7) with one more chunk, behind the picture for EXIF
// and before it for a colour profile.
func webpWith(t *testing.T, kind string, data []byte) []byte {
	t.Helper()
	simple, err := os.ReadFile("testdata/quarters.webp")
	if err != nil {
		t.Fatal(err)
	}
	chunk := func(kind string, data []byte) []byte {
		out := append(binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(data))), data...)
		return append(out, make([]byte, len(data)%2)...)
	}
	flags := map[string]byte{"EXIF": 0x08, "ICCP": 0x20}[kind]
	body := slices.Concat([]byte("WEBP"), chunk("VP8X", []byte{flags, 0, 0, 0, 31, 0, 0, 15, 0, 0}))
	if kind == "ICCP" {
		body = slices.Concat(body, chunk(kind, data), simple[12:])
	} else {
		body = slices.Concat(body, simple[12:], chunk(kind, data))
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// orientedTIFF is plainTIFF's kind of file with an Orientation tag.
func orientedTIFF(pix []byte, w, h, orientation, bits uint32) []byte {
	const entries, short, long = 11, 3, 4
	data := uint32(8 + 2 + 12*entries + 4 + 6)
	b := []byte("II*\x00\x08\x00\x00\x00")
	b = binary.LittleEndian.AppendUint16(b, entries)
	for _, e := range [entries][4]uint32{
		{256, long, 1, w}, {257, long, 1, h}, {258, short, 3, data - 6}, {259, short, 1, 1}, {262, short, 1, 2},
		{273, long, 1, data}, {274, short, 1, orientation}, {277, short, 1, 3}, {278, long, 1, h},
		{279, long, 1, uint32(len(pix))}, {284, short, 1, 1},
	} {
		b = binary.LittleEndian.AppendUint16(b, uint16(e[0]))
		b = binary.LittleEndian.AppendUint16(b, uint16(e[1]))
		b = binary.LittleEndian.AppendUint32(b, e[2])
		b = binary.LittleEndian.AppendUint32(b, e[3])
	}
	b = append(b, 0, 0, 0, 0, byte(bits), 0, byte(bits), 0, byte(bits), 0)
	return append(b, pix...)
}

// quarters is a picture of 32 × 16 whose upper left quarter is red, upper right green, lower left blue, lower right white.
func quarters() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 32, 16))
	for y := range 16 {
		for x := range 32 {
			m.SetRGBA(x, y, [2][2]color.RGBA{{{230, 20, 20, 255}, {20, 230, 20, 255}}, {{20, 20, 230, 255}, {230, 230, 230, 255}}}[y/8][x/16])
		}
	}
	return m
}

// corner names the colour at a corner of an upright photo, a quarter in from it.
func corner(p *Photo, right, low bool) string {
	x, y := p.Width/4, p.Height/4
	if right {
		x = p.Width - 1 - x
	}
	if low {
		y = p.Height - 1 - y
	}
	i := p.At(x, y)
	b, g, r := p.BGR[i] > 128, p.BGR[i+1] > 128, p.BGR[i+2] > 128
	switch {
	case r && g && b:
		return "W"
	case r:
		return "R"
	case g:
		return "G"
	}
	return "B"
}

// What the corners show, upper left, upper right, lower left, lower right, when row 0 and column 0 of the stored picture are
// where the orientation says (CIPA DC-008, tag 274: 1 top-left, 2 top-right, 3 bottom-right, 4 bottom-left, 5 left-top,
// 6 right-top, 7 right-bottom, 8 left-bottom). Stored are R G / B W.
var cornersAt = map[int]string{1: "RGBW", 2: "GRWB", 3: "WBGR", 4: "BWRG", 5: "RBGW", 6: "BRWG", 7: "WGBR", 8: "GWRB"}

func TestEveryOrientationInEveryFormatThatHasIt(t *testing.T) {
	m := quarters()
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	rgb := make([]byte, 0, 3*32*16)
	for i := 0; i < len(m.Pix); i += 4 {
		rgb = append(rgb, m.Pix[i:i+3]...)
	}
	for o := 1; o <= 8; o++ {
		for name, raw := range map[string][]byte{
			"JPEG": jpegWithOrientation(jpg.Bytes(), o),
			"PNG":  pngWithChunk(pngOf(t, m), "eXIf", exifBlock(o)),
			"TIFF": orientedTIFF(rgb, 32, 16, uint32(o), 8),
			"WebP": webpWith(t, "EXIF", exifBlock(o)),
		} {
			p, err := Decode(raw)
			if err != nil {
				t.Errorf("%s %d: %v", name, o, err)
				continue
			}
			got := corner(p, false, false) + corner(p, true, false) + corner(p, false, true) + corner(p, true, true)
			if got != cornersAt[o] || (p.Width == 32) != (o <= 4) {
				t.Errorf("%s, orientation %d: %d × %d, corners %s, want %s", name, o, p.Width, p.Height, got, cornersAt[o])
			}
			p.Close()
		}
	}
}

// A TIFF of 16 bits: each code is the 8-bit one times 257.
func TestA16BitTIFFIsReadInEightBits(t *testing.T) {
	var pix []byte
	for range 32 * 16 {
		for _, v := range []uint16{200, 100, 50} {
			pix = binary.LittleEndian.AppendUint16(pix, v*257)
		}
	}
	p, err := Decode(orientedTIFF(pix, 32, 16, 1, 16))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	for i, want := range []byte{50, 100, 200} {
		if got := p.BGR[300+i]; math.Abs(float64(got)-float64(want)) > 1 {
			t.Errorf("channel %d: %d, want %d", i, got, want)
		}
	}
	turned, err := Decode(orientedTIFF(pix, 32, 16, 6, 16))
	if err != nil {
		t.Fatal(err)
	}
	defer turned.Close()
	if turned.Width != 16 || turned.Height != 32 {
		t.Errorf("orientation 6: %d × %d", turned.Width, turned.Height)
	}
}

func TestADecoderThatHangsIsGivenUp(t *testing.T) {
	release, closed := make(chan bool), make(chan bool)
	_, err := within(time.Millisecond, func() (*Photo, error) {
		<-release
		close(closed)
		return nil, errors.New("too late")
	})
	refused(t, "hanging", err, "too slow", "export it as JPEG")
	close(release)
	<-closed
}

func TestADecoderThatPanicsCostsItsPhotoOnly(t *testing.T) {
	_, err := within(time.Minute, func() (*Photo, error) { panic("index out of range") })
	refused(t, "panic", err, "broken", "copy it from the phone again")
}
