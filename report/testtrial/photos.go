package testtrial

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report/overlay"
)

// SecretPlace is what a phone writes beside a picture's pixels, here in an EXIF description and with a GPS latitude.
const SecretPlace = "back room, 12 Hidden Lane"

// exifWithPlace is an EXIF block (Exif 2.32, 4.5: TIFF, little-endian) with a description, and in the GPS directory N 41°.
func exifWithPlace() []byte {
	entry := func(tag, kind uint16, count, value uint32) []byte {
		return []byte{byte(tag), byte(tag >> 8), byte(kind), byte(kind >> 8), byte(count), byte(count >> 8), byte(count >> 16), byte(count >> 24),
			byte(value), byte(value >> 8), byte(value >> 16), byte(value >> 24)}
	}
	text := append([]byte(SecretPlace), 0)
	const first, gps = 8, 8 + 2 + 2*12 + 4
	words := uint32(gps + 2 + 2*12 + 4)
	degrees := words + uint32(len(text)+len(text)%2)
	tiff := append([]byte("II*\x00"), byte(first), 0, 0, 0)
	tiff = append(tiff, 2, 0)
	tiff = append(tiff, entry(0x010e, 2, uint32(len(text)), words)...) // ImageDescription
	tiff = append(tiff, entry(0x8825, 4, 1, gps)...)                   // GPS directory
	tiff = append(tiff, 0, 0, 0, 0)
	tiff = append(tiff, 2, 0)
	tiff = append(tiff, entry(1, 2, 2, 'N')...)     // GPSLatitudeRef
	tiff = append(tiff, entry(2, 5, 3, degrees)...) // GPSLatitude
	tiff = append(append(tiff, 0, 0, 0, 0), text...)
	if len(text)%2 == 1 {
		tiff = append(tiff, 0)
	}
	for _, v := range []byte{41, 1, 0, 1, 0, 1} {
		tiff = append(tiff, v, 0, 0, 0)
	}
	return append([]byte("Exif\x00\x00"), tiff...)
}

// InPhotos gives readings photos in a new folder: a plug a cell, seen and drawn on an overlay, with what a phone writes beside it. The
// photos have scale px a mm. The readings come back with their photos' SHA-256, sizes and plugs' places.
func InPhotos(t testing.TB, p *plan.Plan, readings []reading.Reading, scale float64) (dir string, with []reading.Reading) {
	t.Helper()
	return InGrainyPhotos(t, p, readings, scale, 0)
}

// InGrainyPhotos is InPhotos with grain of that standard deviation, in codes, so that pictures of them take bytes.
func InGrainyPhotos(t testing.TB, p *plan.Plan, readings []reading.Reading, scale, grain float64) (dir string, with []reading.Reading) {
	t.Helper()
	random := rand.New(rand.NewPCG(7, 7))
	dir = t.TempDir()
	wide, high := int(p.Tray.LengthMM*scale), int(p.Tray.WidthMM*scale)
	for n, r := range readings {
		picture := image.NewRGBA(image.Rect(0, 0, wide, high))
		draw.Draw(picture, picture.Rect, image.NewUniform(color.RGBA{62, 44, 32, 255}), image.Point{}, draw.Src)
		drawn := overlay.Overlay{Title: r.Photo}
		plugs := append([]reading.Plug{}, r.Plugs...)
		for i := range plugs {
			row, column := cellAt(plugs[i].Name)
			x, y := scale*(p.Tray.FirstU+float64(column)*p.Tray.PitchMM), scale*(p.Tray.FirstV+float64(row)*p.Tray.PitchMM)
			plugs[i].Place = &reading.Place{X: x, Y: y, AlongX: scale}
			if r.View == reading.Roots {
				plugs[i].Place.AlongX = -scale
			}
			r := 10 * scale // 20 mm wide
			square := image.Rect(int(x-r), int(y-r), int(x+r), int(y+r))
			draw.Draw(picture, square, image.NewUniform(color.RGBA{uint8(90 + 3*n), 140, 60, 255}), image.Point{}, draw.Src)
			drawn.Plugs = append(drawn.Plugs, overlay.PlugMark{Name: plugs[i].Name, State: plugs[i].State,
				Outline: []overlay.Point{{X: x - r, Y: y - r}, {X: x + r, Y: y - r}, {X: x + r, Y: y + r}, {X: x - r, Y: y + r}}})
		}
		for i := 0; grain > 0 && i < len(picture.Pix); i += 4 {
			off := grain * random.NormFloat64()
			for k := range 3 {
				picture.Pix[i+k] = uint8(min(255, max(0, float64(picture.Pix[i+k])+off)))
			}
		}
		var coded bytes.Buffer
		if err := jpeg.Encode(&coded, picture, nil); err != nil {
			t.Fatal(err)
		}
		exif := exifWithPlace()
		raw := append(append([]byte{0xff, 0xd8, 0xff, 0xe1, byte((len(exif) + 2) >> 8), byte(len(exif) + 2)}, exif...), coded.Bytes()[2:]...)
		raw = append(raw, fmt.Sprintf("%d", n)...) // behind its end, so that no two files are the same
		path := filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(r.Photo))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, raw, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := overlay.Draw(trialdir.OverlayPath(dir, r.Photo), groundOf(picture), picture.Rect.Max, drawn); err != nil {
			t.Fatal(err)
		}
		r.Plugs, r.SHA256, r.WidthPx, r.HeightPx = plugs, sha256Of(raw), wide, high
		with = append(with, r)
	}
	return dir, with
}

// Public is a trial with all that is not for everybody, and the words for it.
func Public(t testing.TB) (dir string, p *plan.Plan, readings []reading.Reading, secrets []string) {
	t.Helper()
	p = Plan()
	p.Treatments[1].Note = "EUR 912.50 the litre, ask Josefina"
	readings = WholeTrays()
	for i := range readings {
		readings[i].Photo = "phone of Josefina/" + readings[i].Photo
	}
	dir, readings = InPhotos(t, p, readings, 2)
	for i := range readings {
		readings[i].Concerns = []reading.Concern{{Kind: reading.TrayTwice, Words: "the same tray is in " + readings[0].Photo, Remedy: "delete tray1-shoots.jpg or Josefina’s other one"}}
		readings[i].Correct([]correct.Correction{{ID: i + 1, When: time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC), Who: "Josefina Fontes", What: correct.Exclude,
			Why: "josefina dropped it; Fontes saw it", SHA256: readings[i].SHA256, Photo: readings[i].Photo, Plug: "A1"}})
	}
	return dir, p, readings, []string{"Josefina", "josefina", "Fontes", "912.50", "phone of", "tray1-shoots", "day10/", ".jpg"}
}

// groundOf reduces a photo to its overlay's size.
func groundOf(photo image.Image) *image.RGBA {
	small := imaging.Fit(photo, overlay.LongSide, overlay.LongSide, imaging.Box)
	ground := image.NewRGBA(small.Rect)
	draw.Draw(ground, ground.Rect, small, small.Rect.Min, draw.Src)
	return ground
}

// cellAt returns the row and column of a plug named like A1, both from 0.
func cellAt(name string) (row, column int) {
	column, _ = strconv.Atoi(name[1:])
	return int(name[0] - 'A'), column - 1
}

// sha256Of returns a file's SHA-256 in hexadecimal digits.
func sha256Of(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}
