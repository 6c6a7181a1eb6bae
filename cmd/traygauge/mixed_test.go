package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/disintegration/imaging"
	"golang.org/x/image/tiff"

	"traygauge/measure/reading"
	"traygauge/report/terminal"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

var mixedWidth = flag.Int("mixed", 1120, "width in pixels of the photos of TestMixedFolder")

// mixedTrial is smallTrial with a review every day for a fortnight, so that two trays give fifty photos.
var mixedTrial = strings.Replace(smallTrial, "review_days: [10]", "review_days: [10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22]", 1)

// mixedSpec is smallSpec at the size wanted.
func mixedSpec(face card.Face, tray int) synth.Spec {
	s := smallSpec(face, tray)
	s.Resize(*mixedWidth, *mixedWidth*3/4)
	s.Light.BlurPX = 0.5 // few pixels for a millimetre: they must be sharp ones
	return s
}

func mixedPicture(t *testing.T, s synth.Spec) *image.NRGBA {
	t.Helper()
	img, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// expected is what the program must say of a photo.
type expected struct {
	verdict, kind string // kind "": no concern of the photo's own
	tray, day     int
	view          reading.View
}

// mixedFolder writes photos as they come from phones, messengers and picture programs, and what is to be said of each.
type mixedFolder struct {
	t       *testing.T
	dir     string
	expect  map[string]expected
	undated []string // photos whose date their format or converter dropped
}

func (m *mixedFolder) path(name string) string {
	path := filepath.Join(m.dir, "photos", filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		m.t.Fatal(err)
	}
	return path
}

func (m *mixedFolder) write(name string, content []byte, e expected) {
	m.t.Helper()
	if err := os.WriteFile(m.path(name), content, 0o644); err != nil {
		m.t.Fatal(err)
	}
	m.expect[name] = e
}

// jpeg writes a photo with EXIF; its orientation is stored as cameras do, pixels turned.
func (m *mixedFolder) jpeg(name string, img *image.NRGBA, orientation int, e expected) {
	m.t.Helper()
	exif := synth.EXIF{Taken: takenOn(e.day), WithZone: orientation != 8, Focal35: 26, Orientation: orientation}
	if err := synth.WriteJPEG(m.path(name), img, 92, exif); err != nil {
		m.t.Fatal(err)
	}
	m.expect[name] = e
}

// takenOn is half past nine in the trial's zone, Lisbon, which is UTC until the end of March.
func takenOn(day int) time.Time { return time.Date(2026, 3, 2+day, 9, 30, 0, 0, time.UTC) }

// converted runs a converter from the picture's PNG or from a photo; without the program it returns false.
func (m *mixedFolder) converted(name, from string, e expected, program string, args ...string) bool {
	m.t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		return false
	}
	for i, arg := range args {
		args[i] = strings.NewReplacer("FROM", from, "TO", m.path(name)).Replace(arg)
	}
	if out, err := exec.Command(program, args...).CombinedOutput(); err != nil {
		m.t.Fatalf("%s: %v: %s", program, err, out)
	}
	m.expect[name] = e
	return true
}

// dated gives a file without EXIF the time of its photo, as a copy that keeps times does.
func (m *mixedFolder) dated(name string, day int) {
	m.t.Helper()
	if err := os.Chtimes(m.path(name), takenOn(day), takenOn(day)); err != nil {
		m.t.Fatal(err)
	}
	m.undated = append(m.undated, name)
}

// photo writes the ith good photo in the form that its number says.
func (m *mixedFolder) photo(i int, img *image.NRGBA, e expected) {
	m.t.Helper()
	img = marked(img, i)
	folder := []string{"", "DCIM/100PHONE/", "day two, tray tops/"}[i%3]
	name := func(ext string) string { return fmt.Sprintf("%sIMG_%04d.%s", folder, 400+i, ext) }
	var coded bytes.Buffer
	switch i % 10 {
	case 1:
		m.jpeg(name("JPG"), img, 6, e)
	case 2:
		m.jpeg(name("jpeg"), img, 3, e)
	case 3:
		m.jpeg(name("jpg"), img, 8, e)
	case 4:
		from := filepath.Join(m.t.TempDir(), "from.jpg")
		if err := synth.WriteJPEG(from, img, 95, synth.EXIF{Taken: takenOn(e.day), WithZone: true, Focal35: 26}); err != nil {
			m.t.Fatal(err)
		}
		if !m.converted(name("HEIC"), from, e, "heif-enc", "-q", "90", "-o", "TO", "FROM") {
			m.jpeg(name("HEIC"), img, 1, e) // a JPEG by a wrong name
		}
	case 5:
		from := filepath.Join(m.t.TempDir(), "from.png")
		if err := imaging.Save(img, from, imaging.PNGCompressionLevel(png.BestSpeed)); err != nil {
			m.t.Fatal(err)
		}
		if !m.converted(name("webp"), from, e, "cwebp", "-quiet", "-q", "92", "FROM", "-o", "TO") {
			m.write(name("webp"), must(os.ReadFile(from)), e) // a PNG by a wrong name
		}
		m.dated(name("webp"), e.day)
	case 6:
		if err := tiff.Encode(&coded, img, nil); err != nil {
			m.t.Fatal(err)
		}
		m.write(name("tif"), coded.Bytes(), e)
		m.dated(name("tif"), e.day)
	case 7:
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&coded, img); err != nil {
			m.t.Fatal(err)
		}
		m.write(name("png"), coded.Bytes(), e)
		m.dated(name("png"), e.day)
	case 8: // turned by a picture program: the pixels lie otherwise and no orientation says so
		m.jpeg(name("jpg"), [](func(image.Image) *image.NRGBA){imaging.Rotate90, imaging.Rotate180, imaging.Rotate270}[i/10%3](img), 1, e)
	case 9:
		m.jpeg(name("png"), img, 1, e) // a JPEG by a wrong name
	default:
		m.jpeg(name("jpg"), img, 1, e)
	}
}

func must(raw []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return raw
}

// marked returns a copy with a corner of a grey of its own, so that no two files are the same.
func marked(img *image.NRGBA, i int) *image.NRGBA {
	img = imaging.Clone(img)
	for y := range 16 {
		for x := range 16 {
			img.Set(x, y, color.Gray{uint8(4 * i)})
		}
	}
	return img
}

// bad writes ten files that are wrong in ten ways.
func (m *mixedFolder) bad(roots, shoots *image.NRGBA, whole []byte) {
	m.t.Helper()
	m.write("IMG_0900.jpg", whole[:len(whole)/2], expected{verdict: unfit, kind: "cut short"})
	m.write("IMG_0901.jpg", nil, expected{verdict: unfit, kind: "empty file"})
	m.write("IMG_0902.jpg", []byte("the photo follows by post"), expected{verdict: unfit, kind: "not a photo"})
	m.write("IMG_0903.png", hugePNG(), expected{verdict: unfit, kind: "too large"})
	m.write("copy/IMG_0400 (1).jpg", must(os.ReadFile(m.path("IMG_0400.jpg"))), expected{verdict: unfit, kind: "same photo twice"})
	blurred := imaging.Blur(roots, float64(*mixedWidth)/700)
	m.jpeg("IMG_0905.jpg", blurred, 1, expected{verdict: retake, kind: "blurred", tray: 7, day: 12, view: "roots"})
	s := mixedSpec(card.Shoots, 7)
	s.Card = false
	m.jpeg("IMG_0906.jpg", mixedPicture(m.t, s), 1, expected{verdict: retake, kind: "no card", day: 12})
	s = mixedSpec(card.Shoots, 7)
	s.Number = 0
	m.jpeg("IMG_0907.jpg", mixedPicture(m.t, s), 1, expected{verdict: doubt, kind: "no tag", day: 12, view: "shoots"})
	m.jpeg("IMG_0908.jpg", marked(shoots, 58), 1, expected{verdict: good, tray: 7, day: 40, view: "shoots"}) // the clock was wrong
	m.jpeg("IMG_0909.jpg", imaging.Grayscale(shoots), 1, expected{verdict: retake, kind: "no colours", tray: 7, day: 13, view: "shoots"})
}

// Sixty photos as a feeding day leaves them sort themselves; ten are bad in ten ways, and each gets its reason. `make mixed`
// does the same with photos of 12 megapixels.
func TestMixedFolder(t *testing.T) {
	m := &mixedFolder{t: t, dir: trialWith(t, mixedTrial, ""), expect: map[string]expected{}}
	pictures := map[string]*image.NRGBA{}
	i := 0
	for day := 10; day <= 22; day++ {
		for _, tray := range []int{1, 7} {
			for _, face := range []card.Face{card.Roots, card.Shoots} {
				if day == 22 && face == card.Shoots {
					continue // fifty are enough: the last day lacks two
				}
				key := fmt.Sprint(tray, face)
				if pictures[key] == nil {
					pictures[key] = mixedPicture(t, mixedSpec(face, tray))
				}
				m.photo(i, pictures[key], expected{verdict: good, tray: tray, day: day, view: reading.View(face.String())})
				i++
			}
		}
	}
	m.bad(pictures["7 roots"], pictures["7 shoots"], must(os.ReadFile(m.path("IMG_0400.jpg"))))
	if len(m.expect) != 60 {
		t.Fatalf("%d photos", len(m.expect))
	}
	start := time.Now()
	first := m.measure()
	t.Logf("60 photos of %d px: measured in %v", *mixedWidth, time.Since(start).Round(time.Millisecond))
	m.compare(first)
	start = time.Now()
	second := m.measure()
	t.Logf("the second run: %d measured, %d kept, in %v", second.Measured, second.Kept, time.Since(start).Round(time.Millisecond))
	if second.Measured != 0 {
		t.Errorf("%d photos were measured again", second.Measured)
	}
	m.compare(second)
}

func (m *mixedFolder) measure() terminal.Measured {
	m.t.Helper()
	code, out, errs := traygauge("measure", m.dir, "--json")
	var got terminal.Measured
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitAttention {
		m.t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	return got
}

// compare holds what was said of each photo, and of all together, against what is to be said.
func (m *mixedFolder) compare(got terminal.Measured) {
	m.t.Helper()
	if len(got.Photos) != len(m.expect) {
		m.t.Errorf("%d photos, want %d", len(got.Photos), len(m.expect))
	}
	for _, p := range got.Photos {
		want := m.expect[p.Photo]
		var kinds []string
		for _, c := range p.Concerns {
			kinds = append(kinds, string(c.Kind))
			if c.Words == "" || c.Remedy == "" {
				m.t.Errorf("%s: %q without words or a remedy", p.Photo, c.Kind)
			}
		}
		day := 0
		if p.Day != nil {
			day = *p.Day
		}
		if string(p.Verdict) != want.verdict || strings.Join(kinds, ", ") != want.kind || p.Tray != want.tray || p.View != want.view ||
			want.day > 0 && day != want.day {
			m.t.Errorf("%s: %s (%v), tray %d, day %d, %s; want %+v", p.Photo, p.Verdict, p.Concerns, p.Tray, day, p.View, want)
		}
	}
	about := map[string][]string{}
	for _, c := range got.Concerns {
		about[string(c.Kind)] = append(about[string(c.Kind)], c.Photos...)
	}
	slices.Sort(m.undated)
	slices.Sort(about["no date"])
	if !slices.Equal(about["no date"], m.undated) {
		m.t.Errorf("without a date: %v, want %v", about["no date"], m.undated)
	}
	if !slices.Equal(about["date not in plan"], []string{"IMG_0908.jpg"}) {
		m.t.Errorf("on a day that the plan does not know: %v", about["date not in plan"])
	}
	for _, kind := range []string{"view missing", "review missing"} {
		if _, told := about[kind]; told != (kind == "view missing") {
			m.t.Errorf("%s: told %v", kind, told)
		}
	}
}
