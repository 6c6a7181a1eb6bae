package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// drawnPicture is a small photo of a tray with leaves.
func drawnPicture(t *testing.T) image.Image {
	t.Helper()
	s := synth.Defaults(card.Shoots)
	s.Resize(1000, 750)
	s.Plants = map[string]synth.Plant{}
	for _, cell := range []string{"A1", "A10", "B3", "B8", "C5", "C6", "D2", "D9", "E1", "E10"} {
		s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, RootLengthMM: 500, LeafLengthMM: 22}
	}
	m, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// told counts how many copies with one byte changed behind the first 700 are refused, and of how many others more than 3 % of the picture changed
// by more than eight codes.
func told(t *testing.T, raw []byte, tries int) (refusals, missed int) {
	t.Helper()
	whole, err := Decode(raw)
	if err != nil {
		t.Fatal(err)
	}
	defer whole.Close()
	r := rand.New(rand.NewPCG(11, 12))
	for range tries {
		bad := bytes.Clone(raw)
		bad[700+r.IntN(len(bad)-700)] ^= byte(1 + r.IntN(255))
		p, err := Decode(bad)
		if err != nil {
			refusals++
			continue
		}
		changed := 0
		for i, v := range p.BGR {
			if d := int(v) - int(whole.BGR[i]); d < -8 || d > 8 {
				changed++
			}
		}
		if 100*changed > 3*len(p.BGR) {
			missed++
		}
		p.Close()
	}
	return refusals, missed
}

// A byte changed in a picture's data is told by a PNG always, as its checksum covers every byte; by a JPEG, which has none, where the codes no
// longer fit: in more than half of the cases that change the picture. The whole file is good, and so is one with two stuffing bytes before
// its end.
func TestOneChangedByteIsTold(t *testing.T) {
	m := drawnPicture(t)
	var asJPEG, asPNG bytes.Buffer
	if err := jpeg.Encode(&asJPEG, m, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&asPNG, m); err != nil {
		t.Fatal(err)
	}
	n := asJPEG.Len()
	stuffed := append(append(bytes.Clone(asJPEG.Bytes()[:n-2]), 0, 0), 0xff, 0xd9)
	for name, whole := range map[string][]byte{"JPEG": asJPEG.Bytes(), "stuffed JPEG": stuffed, "PNG": asPNG.Bytes()} {
		p, err := Decode(whole)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		p.Close()
	}
	const tries = 40
	if got, _ := told(t, asPNG.Bytes(), tries); got != tries {
		t.Errorf("PNG: %d of %d told", got, tries)
	}
	got, missed := told(t, asJPEG.Bytes(), tries)
	t.Logf("JPEG: %d of %d refused, %d changed and not told", got, tries, missed)
	if got <= missed {
		t.Errorf("JPEG: %d of %d refused, %d changed and not told", got, tries, missed)
	}
}
