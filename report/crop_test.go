package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report/testtrial"
)

var (
	red       = color.RGBA{200, 30, 30, 255}
	green     = color.RGBA{30, 160, 30, 255}
	blue      = color.RGBA{30, 30, 200, 255}
	nearWhite = color.RGBA{240, 240, 240, 255}
)

// photoOfPlug writes a photo of 400 × 300 px with a plug at (200, 150): a square of 40 px in pale grey, red to the right of it,
// green below, blue above. With secret, the file holds that text beside the picture. It returns the file's SHA-256.
func photoOfPlug(t *testing.T, dir, name, secret string) string {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	draw.Draw(img, img.Rect, image.NewUniform(color.RGBA{90, 90, 90, 255}), image.Point{}, draw.Src)
	for _, part := range []struct {
		x, y int
		c    color.RGBA
	}{{200, 150, nearWhite}, {240, 150, red}, {200, 190, green}, {200, 110, blue}} {
		draw.Draw(img, image.Rect(part.x-20, part.y-20, part.x+20, part.y+20), image.NewUniform(part.c), image.Point{}, draw.Src)
	}
	var coded bytes.Buffer
	if err := jpeg.Encode(&coded, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	raw := coded.Bytes()
	if secret != "" {
		raw = withComment(raw, secret)
	}
	return writePhoto(t, dir, name, raw)
}

// withComment puts a comment segment behind a JPEG's first marker.
func withComment(raw []byte, comment string) []byte {
	segment := append([]byte{0xff, 0xfe, 0, byte(len(comment) + 2)}, comment...)
	return append(append(bytes.Clone(raw[:2]), segment...), raw[2:]...)
}

// writePhoto writes a photo of the trial in folder dir and returns its SHA-256.
func writePhoto(t testing.TB, dir, name string, raw []byte) string {
	t.Helper()
	path := filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, raw, 0o644); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

func plugAt(photo, sha, view string, at *reading.Place) PlugRow {
	p := testtrial.RootPlug("A1", 10, 0)
	p.Place = at
	return PlugRow{Shot{Photo: photo, SHA256: sha, View: view}, p}
}

// In the photo the tray's long side runs downwards at 4 px/mm; the picture shows 30 mm, 120 px of the photo, in 60 px. Seen from
// above, what lies below the plug in the photo is then to its right, and what lies to its right is above it. From below, as
// in a mirror, all is turned by half a circle.
func TestCropIsTurnedAndScaledLikeTheTray(t *testing.T) {
	dir := t.TempDir()
	sha := photoOfPlug(t, dir, "day/a.jpg", "")
	at := &reading.Place{X: 199.5, Y: 149.5, AlongX: 0, AlongY: 4}
	pictures := Crops(dir, []PlugRow{plugAt("day/a.jpg", sha, "shoots", at), plugAt("day/a.jpg", sha, "roots", at)}, CropSize{SideMM: 30, SidePx: 60, Quality: 95})
	type place struct{ x, y int }
	for i, want := range []map[place]color.RGBA{
		{{30, 30}: nearWhite, {50, 30}: green, {30, 10}: red, {10, 30}: blue, {21, 30}: nearWhite, {39, 30}: nearWhite, {30, 21}: nearWhite, {30, 39}: nearWhite},
		{{30, 30}: nearWhite, {10, 30}: green, {30, 50}: red, {50, 30}: blue},
	} {
		img, err := jpeg.Decode(bytes.NewReader(pictures[i]))
		if err != nil || img.Bounds() != image.Rect(0, 0, 60, 60) {
			t.Fatalf("picture %d: %v", i, err)
		}
		for p, c := range want {
			if got := img.At(p.x, p.y); far(got, c) {
				t.Errorf("picture %d has %v at %v, want %v", i, got, p, c)
			}
		}
	}
}

// far reports whether colours differ by more than JPEG's coding makes them, in any channel.
func far(a, b color.Color) bool {
	const most = 25 << 8
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range []int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if d > most || -d > most {
			return true
		}
	}
	return false
}

func TestCropHoldsNothingElseOfThePhoto(t *testing.T) {
	const secret = "52 N 4 E, Ann's phone"
	dir := t.TempDir()
	sha := photoOfPlug(t, dir, "a.jpg", secret)
	picture := Crops(dir, []PlugRow{plugAt("a.jpg", sha, "roots", &reading.Place{X: 200, Y: 150, AlongX: 4})}, CropSize{SideMM: 30, SidePx: 60})[0]
	if len(picture) == 0 || bytes.Contains(picture, []byte(secret)) {
		t.Fatalf("%d bytes, with the photo's comment: %v", len(picture), bytes.Contains(picture, []byte(secret)))
	}
	// The markers of EXIF and other application data, and of comments (ISO/IEC 10918-1, table B.1).
	for at := 2; picture[at] == 0xff && picture[at+1] != 0xda; at += 2 + int(picture[at+2])<<8 + int(picture[at+3]) {
		if m := picture[at+1]; m >= 0xe0 && m <= 0xef || m == 0xfe {
			t.Errorf("the picture has a segment FF%02X", m)
		}
	}
}

func TestCropNeverShowsAnythingElse(t *testing.T) {
	dir := t.TempDir()
	sha := photoOfPlug(t, dir, "a.jpg", "")
	at := &reading.Place{X: 200, Y: 150, AlongX: 4}
	plugs := []PlugRow{
		plugAt("gone.jpg", sha, "roots", at),                          // no such photo
		plugAt("a.jpg", "0123", "roots", at),                          // another photo under the same name
		plugAt("a.jpg", sha, "roots", nil),                            // nobody knows where
		plugAt("../a.jpg", sha, "roots", at),                          // not in the trial
		plugAt("a.jpg", sha, "roots", &reading.Place{X: 200, Y: 150}), // without a scale
	}
	for _, size := range []CropSize{{SideMM: 30, SidePx: 60}, {}, {SideMM: -1, SidePx: 10}} {
		for i, picture := range Crops(dir, plugs, size) {
			if picture != nil {
				t.Errorf("plug %d with %+v has a picture", i, size)
			}
		}
	}
	// At the photo's corner the rest is grey.
	corner := Crops(dir, []PlugRow{plugAt("a.jpg", sha, "shoots", &reading.Place{X: 0, Y: 0, AlongX: 4})}, CropSize{SideMM: 30, SidePx: 60})[0]
	img, err := jpeg.Decode(bytes.NewReader(corner))
	if err != nil || far(img.At(10, 10), color.Gray{224}) || far(img.At(50, 50), color.Gray{90}) {
		t.Errorf("at the photo's corner: %v", err)
	}
}
