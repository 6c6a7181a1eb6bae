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
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/vision/kind"
)

// tinyPicture is 64 × 48 pixels of a ramp.
func tinyPicture() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for y := range 48 {
		for x := range 64 {
			m.Set(x, y, color.RGBA{uint8(4 * x), uint8(5 * y), 120, 255})
		}
	}
	return m
}

func tinyJPEG() []byte {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, tinyPicture(), nil)
	return b.Bytes()
}

func tinyPNG() []byte {
	var b bytes.Buffer
	_ = png.Encode(&b, tinyPicture())
	return b.Bytes()
}

// hugePNG is a PNG header that claims 20000 × 10000 pixels, which nothing follows but the end.
func hugePNG() []byte {
	head := []byte("IHDR\x00\x00\x4e\x20\x00\x00\x27\x10\x08\x02\x00\x00\x00")
	b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	b = binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(head))
	return append(b, "\x00\x00\x00\x00IEND\xae\x42\x60\x82"...)
}

// refused fails unless err is a *Refusal of the kind, with a remedy that holds the words.
func refused(t *testing.T, what string, err error, want kind.Kind, remedy string) {
	t.Helper()
	var r *Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: %v, want a refusal", what, err)
		return
	}
	if r.Kind != want || !strings.Contains(r.Remedy, remedy) || r.Words == "" {
		t.Errorf("%s: %q, %q, do %q; want %q and a remedy with %q", what, r.Kind, r.Words, r.Remedy, want, remedy)
	}
}

func TestWhatIsNoPhotoIsRefusedWithARemedy(t *testing.T) {
	noise := make([]byte, 5000)
	for i, r := 0, rand.New(rand.NewPCG(1, 2)); i < len(noise); i++ {
		noise[i] = byte(r.Uint32())
	}
	for _, c := range []struct {
		name   string
		raw    []byte
		kind   kind.Kind
		remedy string
	}{
		{"words", []byte("tray 4, photo to follow"), "not a photo", "JPEG"},
		{"nothing", nil, "not a photo", "JPEG"},
		{"noise", noise, "not a photo", "JPEG"},
		{"noise that begins like a JPEG", append([]byte("\xff\xd8\xff"), noise...), "broken", "copy it from the phone again"},
		{"a GIF", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), "not readable here", "export it as JPEG"},
		{"an AVIF", []byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1avif"), "not readable here", "export it as JPEG"},
		{"a camera's raw file", rawTIFF(), "not readable here", "export it as JPEG"},
		{"200 megapixels", hugePNG(), "too large", "12 to 50 megapixels"},
		{"PNG without its end", tinyPNG()[:len(tinyPNG())-20], "cut short", "copy it from the phone again"},
		{"PNG without its picture", append(tinyPNG()[:33:33], "\x00\x00\x00\x00IEND\xae\x42\x60\x82"...), "broken", "copy it from the phone again"},
	} {
		p, err := Decode(c.raw)
		if err == nil {
			p.Close()
		}
		refused(t, c.name, err, c.kind, c.remedy)
	}
}

func TestWhatIsNoFileIsRefusedWithARemedy(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if err := os.Mkdir(at("folder.jpg"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("empty.jpg"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		kind   kind.Kind
		remedy string
	}{
		{"folder.jpg", "not a photo", "folder"},
		{"empty.jpg", "empty file", "copy it from the phone again"},
		{"missing.jpg", "unreadable", "still there"},
	} {
		_, err := Open(at(c.name))
		refused(t, c.name, err, c.kind, c.remedy)
		if err != nil && strings.Contains(err.Error(), dir) {
			t.Errorf("%s: the message repeats the path: %v", c.name, err)
		}
	}
}

// A JPEG cut anywhere is refused: the library would fill what is missing with grey.
func TestAJPEGCutAnywhereIsRefused(t *testing.T) {
	raw := tinyJPEG()
	for n := range len(raw) - 1 {
		p, err := Decode(raw[:n])
		if err == nil {
			p.Close()
			t.Fatalf("cut after %d of %d bytes: taken", n, len(raw))
		}
		var r *Refusal
		if !errors.As(err, &r) || r.Remedy == "" {
			t.Fatalf("cut after %d bytes: %v", n, err)
		}
		if n == len(raw)-2 || n == len(raw)*3/4 {
			refused(t, "cut in the picture", err, "cut short", "copy it from the phone again")
		}
	}
}

// EXIF's own end marker, in a thumbnail, is not the photo's.
func TestAThumbnailsEndIsNotThePhotosEnd(t *testing.T) {
	raw := tinyJPEG()
	thumb := append([]byte("Exif\x00\x00 thumbnail "), raw...)
	block := append([]byte{0xff, 0xe1, byte((len(thumb) + 2) >> 8), byte(len(thumb) + 2)}, thumb...)
	whole := append(append(append([]byte{}, raw[:2]...), block...), raw[2:]...)
	p, err := Decode(whole)
	if err != nil {
		t.Fatal(err)
	}
	p.Close()
	_, err = Decode(whole[:len(whole)-2])
	refused(t, "cut behind the thumbnail", err, "cut short", "copy it from the phone again")
}

func TestAnyColourModelBecomesThreeChannels(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 10, 6))
	palette := image.NewPaletted(image.Rect(0, 0, 10, 6), color.Palette{color.Gray{80}, color.RGBA{200, 100, 50, 255}})
	clear := image.NewNRGBA(image.Rect(0, 0, 10, 6)) // with an alpha channel that hides nothing
	deep := image.NewRGBA64(image.Rect(0, 0, 10, 6))
	deepClear := image.NewNRGBA64(image.Rect(0, 0, 10, 6))
	for y := range 6 {
		for x := range 10 {
			grey.Set(x, y, color.RGBA{200, 200, 200, 255})
			palette.SetColorIndex(x, y, 1)
			clear.Set(x, y, color.RGBA{200, 100, 50, 255})
			deep.Set(x, y, color.RGBA{200, 100, 50, 255})
			deepClear.Set(x, y, color.RGBA{200, 100, 50, 255})
		}
	}
	deepClear.SetNRGBA64(9, 5, color.NRGBA64{200 * 257, 100 * 257, 50 * 257, 65535})
	for name, m := range map[string]image.Image{
		"grey": grey, "palette": palette, "alpha": clear, "16 bits": deep, "16 bits and alpha": deepClear,
	} {
		var b bytes.Buffer
		if err := png.Encode(&b, m); err != nil {
			t.Fatal(err)
		}
		p, err := Decode(b.Bytes())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Width != 10 || p.Height != 6 || len(p.BGR) != 180 {
			t.Errorf("%s: %d × %d, %d bytes", name, p.Width, p.Height, len(p.BGR))
		}
		want := []byte{50, 100, 200}
		if name == "grey" {
			want = []byte{200, 200, 200}
		}
		if !bytes.Equal(p.BGR[90:93], want) {
			t.Errorf("%s: pixel %v, want %v", name, p.BGR[90:93], want)
		}
		p.Close()
	}
}

// FuzzDecode: whatever the bytes, a photo or a refusal comes back, and looking for a card in the photo ends.
func FuzzDecode(f *testing.F) {
	f.Add(tinyJPEG())
	f.Add(tinyPNG())
	f.Add(hugePNG())
	f.Add(plainTIFF())
	for _, name := range []string{"field.heic", "quarters-turned.heic", "quarters.webp"} {
		raw, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x00\x00"))
	f.Add([]byte("RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		p, err := Decode(raw)
		if err != nil {
			var r *Refusal
			if !errors.As(err, &r) || r.Remedy == "" {
				t.Fatalf("no refusal: %v", err)
			}
			return
		}
		defer p.Close()
		if len(p.BGR) != 3*p.Width*p.Height || p.Width < 1 || p.Height < 1 {
			t.Fatalf("%d × %d with %d bytes", p.Width, p.Height, len(p.BGR))
		}
	})
}
