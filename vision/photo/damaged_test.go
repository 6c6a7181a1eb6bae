package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"testing"
)

// noisyJPEG is a grey picture with a sensor's noise, or an even one.
func noisyJPEG(t *testing.T, width, height int, noise uint8) []byte {
	t.Helper()
	r := rand.New(rand.NewPCG(3, 4))
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			v := 100 + uint8(r.IntN(int(noise)+1))
			m.SetRGBA(x, y, color.RGBA{v, v + 10, v - 20, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A copy that failed half-way may hold the file's end but not all of its middle. Read as it is, it would show a tray whose
// last plants are missing.
func TestAJPEGWithAHoleIsRefused(t *testing.T) {
	for _, size := range [][2]int{{640, 480}, {637, 475}} { // whole blocks at the edge, and cut ones
		raw := noisyJPEG(t, size[0], size[1], 20)
		n := len(raw)
		zeros := append([]byte{}, raw...)
		clear(zeros[n/2 : n/2+4096])
		gone := append(append([]byte{}, raw[:n/2]...), raw[n/2+4096:]...)
		tail := append(append([]byte{}, raw[:n*7/10]...), 0xff, 0xd9)
		for name, damagedFile := range map[string][]byte{"zeros": zeros, "4096 bytes gone": gone, "end put on early": tail} {
			p, err := Decode(damagedFile)
			if err == nil {
				p.Close()
			}
			refused(t, name, err, "broken", "copy it from the phone again")
		}
	}
}

// An even picture, such as a scanned page with white margins, is whole all the same.
func TestAnEvenPictureIsNotDamaged(t *testing.T) {
	for _, noise := range []uint8{0, 20} {
		p, err := Decode(noisyJPEG(t, 320, 200, noise))
		if err != nil {
			t.Errorf("noise %d: %v", noise, err)
			continue
		}
		p.Close()
	}
}
