package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"testing"
)

// plainTIFF is a 64 × 48 RGB picture without compression whose directory comes first, as cameras write it.
func plainTIFF() []byte {
	const w, h, entries, short, long = 64, 48, 10, 3, 4
	data := uint32(8 + 2 + 12*entries + 4 + 6) // behind the directory and the three bit depths
	b := []byte("II*\x00\x08\x00\x00\x00")
	b = binary.LittleEndian.AppendUint16(b, entries)
	for _, e := range [entries][4]uint32{
		{256, long, 1, w}, {257, long, 1, h}, {258, short, 3, data - 6}, {259, short, 1, 1}, {262, short, 1, 2},
		{273, long, 1, data}, {277, short, 1, 3}, {278, long, 1, h}, {279, long, 1, 3 * w * h}, {284, short, 1, 1},
	} {
		b = binary.LittleEndian.AppendUint16(b, uint16(e[0]))
		b = binary.LittleEndian.AppendUint16(b, uint16(e[1]))
		b = binary.LittleEndian.AppendUint32(b, e[2])
		b = binary.LittleEndian.AppendUint32(b, e[3])
	}
	b = append(b, 0, 0, 0, 0, 8, 0, 8, 0, 8, 0)
	return append(b, bytes.Repeat([]byte{200, 100, 50}, w*h)...)
}

// Whatever the format, a file cut short is refused, and never read as a photo with a grey or black end.
func TestAFileCutShortIsRefusedInEveryFormat(t *testing.T) {
	for name, raw := range map[string][]byte{"PNG": tinyPNG(), "TIFF": plainTIFF()} {
		p, err := Decode(raw)
		if err != nil {
			t.Errorf("%s, whole: %v", name, err)
			continue
		}
		if p.Width != 64 || p.Height != 48 {
			t.Errorf("%s: %d × %d", name, p.Width, p.Height)
		}
		p.Close()
		for n := 0; n < len(raw)-12; n += 1 + len(raw)/30 {
			p, err := Decode(raw[:n])
			if err == nil {
				p.Close()
				t.Errorf("%s cut after %d of %d bytes: taken", name, n, len(raw))
				break
			}
			var r *Refusal
			if !errors.As(err, &r) || r.Remedy == "" {
				t.Errorf("%s cut after %d bytes: %v", name, n, err)
			}
		}
	}
}

func TestAFileLargerThanAnyPhotoIsNotRead(t *testing.T) {
	path := t.TempDir() + "/large.jpg"
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(mostBytes + 1); err != nil { // takes no room on the disk
		t.Skip("no sparse files here")
	}
	_, err = Open(path)
	refused(t, "201 MB", err, "too large", "12 to 50 megapixels")
}
