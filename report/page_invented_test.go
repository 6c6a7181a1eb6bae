package report

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
	"testing"

	"traygauge/measure"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/trialdir"
	"traygauge/report/overlay"
	"traygauge/report/testtrial"

	"github.com/disintegration/imaging"
)

// secretPlace is what a phone writes beside a picture's pixels, here in an EXIF description and with a GPS latitude.
const secretPlace = "back room, 12 Hidden Lane"

// exifWithPlace is an EXIF block (Exif 2.32, 4.5: TIFF, little-endian) with a description, and in the GPS directory N 41°.
func exifWithPlace() []byte {
	entry := func(tag, kind uint16, count, value uint32) []byte {
		return []byte{byte(tag), byte(tag >> 8), byte(kind), byte(kind >> 8), byte(count), byte(count >> 8), byte(count >> 16), byte(count >> 24),
			byte(value), byte(value >> 8), byte(value >> 16), byte(value >> 24)}
	}
	text := append([]byte(secretPlace), 0)
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

// inPhotos gives readings photos in a new folder: a plug a cell, seen and drawn on an overlay, with what a phone writes beside it. The
// photos have scale px a mm. The readings come back with their photos' SHA-256, sizes and plugs' places.
func inPhotos(t *testing.T, p *plan.Plan, readings []measure.Reading, scale float64) (dir string, with []measure.Reading) {
	t.Helper()
	return inGrainyPhotos(t, p, readings, scale, 0)
}

// inGrainyPhotos is inPhotos with grain of that standard deviation, in codes, so that pictures of them take bytes.
func inGrainyPhotos(t testing.TB, p *plan.Plan, readings []measure.Reading, scale, grain float64) (dir string, with []measure.Reading) {
	t.Helper()
	random := rand.New(rand.NewPCG(7, 7))
	dir = t.TempDir()
	wide, high := int(p.Tray.LengthMM*scale), int(p.Tray.WidthMM*scale)
	for n, r := range readings {
		picture := image.NewRGBA(image.Rect(0, 0, wide, high))
		draw.Draw(picture, picture.Rect, image.NewUniform(color.RGBA{62, 44, 32, 255}), image.Point{}, draw.Src)
		drawn := overlay.Overlay{Title: r.Photo}
		plugs := append([]measure.Plug{}, r.Plugs...)
		for i := range plugs {
			row, column, ok := cellOf(plugs[i].Name, p.Tray.Rows, p.Tray.Columns)
			if !ok {
				continue
			}
			x, y := scale*(p.Tray.FirstU+float64(column)*p.Tray.PitchMM), scale*(p.Tray.FirstV+float64(row)*p.Tray.PitchMM)
			plugs[i].Place = &measure.Place{X: x, Y: y, AlongX: scale}
			if r.View == "roots" {
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
		if err := overlay.Draw(trialdir.OverlayPath(dir, r.Photo), rgbaOf(imaging.Fit(picture, overlay.LongSide, overlay.LongSide, imaging.Box)), picture.Rect.Max, drawn); err != nil {
			t.Fatal(err)
		}
		r.Plugs, r.SHA256, r.WidthPx, r.HeightPx = plugs, shaOf(raw), wide, high
		with = append(with, r)
	}
	return dir, with
}

// pageWithPhotos is the page of three whole trays on two days.
func pageWithPhotos(t *testing.T) Page {
	t.Helper()
	p := testtrial.Plan()
	dir, readings := inPhotos(t, p, testtrial.WholeTrays(), 2)
	return Page{Trial: Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Dir: dir}
}

// sixtyTrays is the page of twenty treatments with three trays each on one day.
func sixtyTrays(t *testing.T) Page {
	t.Helper()
	p := testtrial.Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{10}
	var readings []measure.Reading
	for i := range 20 {
		treatment := plan.Treatment{Name: fmt.Sprintf("extract %c", 'A'+i)}
		if i == 0 {
			treatment.Name = "water only"
		} else {
			treatment.CompareWith = []string{"water only"}
		}
		p.Treatments = append(p.Treatments, treatment)
		for k := range 3 {
			tray := 1 + 3*i + k
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: treatment.Name, Position: tray})
			var roots, leaves []measure.Plug
			for n := range 50 {
				size := 40 * (1 + 0.02*float64(i)) * (0.7 + float64((n*37+tray*11)%50)/80)
				name := plan.PlugName(n/10, n%10)
				roots, leaves = append(roots, testtrial.RootPlug(name, size, 0)), append(leaves, testtrial.LeafPlug(name, size*6, 1))
			}
			readings = append(readings, testtrial.Reading(fmt.Sprintf("day10/tray%d-roots.jpg", tray), tray, "roots", testtrial.Taken(10, 9, 0), roots...),
				testtrial.Reading(fmt.Sprintf("day10/tray%d-shoots.jpg", tray), tray, "shoots", testtrial.Taken(10, 9, 30), leaves...))
		}
	}
	dir, readings := inPhotos(t, p, readings, 1)
	return Page{Trial: Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Dir: dir}
}

// written returns a page's text.
func written(t *testing.T, p Page) string {
	t.Helper()
	text, _ := writtenWith(t, p)
	return text
}

// writtenWith returns a page's text and the pictures beside it.
func writtenWith(t *testing.T, p Page) (text string, beside []PagePicture) {
	t.Helper()
	var out bytes.Buffer
	beside, lost, err := WritePage(&out, p)
	if err != nil {
		t.Fatal(err)
	}
	if p.Dir != "" && len(lost) > 0 {
		t.Errorf("pictures are lost: %q", lost)
	}
	return out.String(), beside
}

// The two invented pages are drawn once for all tests that only read them; their folders are gone by then.
var drawnOnce = map[string]struct {
	page   Page
	text   string
	beside []PagePicture
}{}

func once(t *testing.T, name string, draw func(*testing.T) Page) (Page, string) {
	t.Helper()
	d, done := drawnOnce[name]
	if !done {
		d.page = draw(t)
		d.text, d.beside = writtenWith(t, d.page)
		drawnOnce[name] = d
	}
	return d.page, d.text
}

func threeOnce(t *testing.T) (Page, string) { t.Helper(); return once(t, "three", pageWithPhotos) }

func sixtyOnce(t *testing.T) (Page, string) { t.Helper(); return once(t, "sixty", sixtyTrays) }

// inFile writes a page's text to a file, with the pictures beside it.
func inFile(t *testing.T, text string, beside ...PagePicture) string {
	t.Helper()
	dir := t.TempDir()
	name := filepath.Join(dir, "index.html")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, PicturesFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, picture := range beside {
		if err := os.WriteFile(filepath.Join(dir, PicturesFolder, picture.Name), picture.JPEG, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return name
}

func shaOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}
