package jpeg

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"
)

// halves is a picture whose left half is of one colour and whose right half is of another, off the edges of a JPEG's blocks.
func halves(left, right color.RGBA) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 96, 50))
	for y := range 50 {
		for x := range 96 {
			m.SetRGBA(x, y, left)
			if x >= 48 {
				m.SetRGBA(x, y, right)
			}
		}
	}
	return m
}

var (
	orange = color.RGBA{220, 120, 30, 255}
	blue   = color.RGBA{20, 70, 200, 255}
)

func alike(got []byte, want color.RGBA) bool {
	for i, w := range [3]uint8{want.B, want.G, want.R} {
		if d := int(got[i]) - int(w); d < -4 || d > 4 {
			return false
		}
	}
	return true
}

// Go's own encoder writes the file; the colours that it was given come out as blue, green and red.
func TestDecodeLaysColoursOutAsBGR(t *testing.T) {
	var file bytes.Buffer
	if err := jpeg.Encode(&file, halves(orange, blue), &jpeg.Options{Quality: 98}); err != nil {
		t.Fatal(err)
	}
	bgr := make([]byte, 3*96*50)
	warning, err := DecodeBGR(file.Bytes(), 96, 50, bgr)
	if err != nil || warning != "" {
		t.Fatal(warning, err)
	}
	for _, y := range []int{0, 25, 49} {
		if row := bgr[3*96*y:]; !alike(row[3*10:], orange) || !alike(row[3*90:], blue) {
			t.Errorf("row %d: %v and %v", y, row[3*10:3*11], row[3*90:3*91])
		}
	}
}

func TestDecodeAGreyFile(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 20, 10))
	for i := range grey.Pix {
		grey.Pix[i] = 77
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, grey, nil); err != nil {
		t.Fatal(err)
	}
	bgr := make([]byte, 3*20*10)
	if _, err := DecodeBGR(file.Bytes(), 20, 10, bgr); err != nil || !alike(bgr[3*55:], color.RGBA{77, 77, 77, 255}) {
		t.Error(bgr[:3], err)
	}
}

// Go's own decoder reads the file: the pictures lie one below the other.
func TestEncodePutsPicturesOneBelowTheOther(t *testing.T) {
	file, err := Encode(95, halves(orange, orange), halves(blue, blue))
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil || m.Bounds() != image.Rect(0, 0, 96, 100) {
		t.Fatal(m, err)
	}
	for y, want := range map[int]color.RGBA{10: orange, 90: blue} {
		r, g, b, _ := m.At(50, y).RGBA()
		if !alike([]byte{byte(b >> 8), byte(g >> 8), byte(r >> 8)}, want) {
			t.Errorf("row %d: %d %d %d", y, r>>8, g>>8, b>>8)
		}
	}
}

func TestEncodeRefusesPicturesThatDoNotFit(t *testing.T) {
	narrow := image.NewRGBA(image.Rect(0, 0, 10, 10))
	for name, pictures := range map[string][]*image.RGBA{
		"none": nil, "no pixels": {image.NewRGBA(image.Rectangle{})}, "two widths": {halves(orange, blue), narrow},
		"a part": {halves(orange, blue).SubImage(image.Rect(0, 0, 5, 5)).(*image.RGBA)}, "too high": {image.NewRGBA(image.Rect(0, 0, 1, 70000))},
	} {
		if _, err := Encode(90, pictures...); err == nil {
			t.Errorf("%s: encoded", name)
		}
	}
}

// A file that ends early is decoded as far as it goes, with a warning; what is no JPEG, or of another size, is an error. None prints or ends the program.
func TestDecodeReportsWhatIsWrong(t *testing.T) {
	var whole bytes.Buffer
	if err := jpeg.Encode(&whole, halves(orange, blue), nil); err != nil {
		t.Fatal(err)
	}
	file, bgr := whole.Bytes(), make([]byte, 3*96*50)
	if warning, err := DecodeBGR(file[:len(file)-30], 96, 50, bgr); err != nil || !strings.HasPrefix(warning, "Premature end of JPEG") {
		t.Errorf("cut short: %q, %v", warning, err)
	}
	for name, raw := range map[string][]byte{"nothing": nil, "words": []byte("no picture"), "a head alone": file[:20]} {
		if _, err := DecodeBGR(raw, 96, 50, bgr); err == nil {
			t.Errorf("%s: decoded", name)
		}
	}
	if _, err := DecodeBGR(file, 50, 96, bgr); err == nil {
		t.Error("decoded as if it were turned")
	}
	if _, err := DecodeBGR(file, 96, 50, bgr[3:]); err == nil {
		t.Error("decoded into too few bytes")
	}
}
