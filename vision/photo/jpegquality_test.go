package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"
)

// What Go's own encoder, which scales the same table, was asked for comes back.
func TestTheQualityOfAJPEG(t *testing.T) {
	for _, want := range []int{20, 30, 50, 60, 75, 90, 98} {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewRGBA(image.Rect(0, 0, 16, 16)), &jpeg.Options{Quality: want}); err != nil {
			t.Fatal(err)
		}
		if got := qualityOf(b.Bytes()); got < want-1 || got > want+1 {
			t.Errorf("quality %d reads as %d", want, got)
		}
		for n := range 200 { // a file cut anywhere is no crash
			qualityOf(b.Bytes()[:n])
		}
	}
	if got := qualityOf([]byte("\x89PNG\r\n\x1a\n")); got != 0 {
		t.Errorf("a PNG reads as %d", got)
	}
}

func qualityOf(raw []byte) int {
	c := takeApart(raw)
	return c.jpegQuality()
}
