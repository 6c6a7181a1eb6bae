package scene

import (
	"image"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/vision/card"
	"traygauge/vision/kind"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// A mirrored photo and one too blurred for its card to be seen are told as such; one without a card is still told as that, sharp or slightly soft.
func TestWhyNoCardIsFound(t *testing.T) {
	s := testphoto.FewPlants(card.Shoots)
	s.Resize(1600, 1200)
	img, truth, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	s.Card = false
	bare, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what    string
		picture *image.NRGBA
		kind    kind.Kind
		remedy  string
	}{
		{"mirrored", imaging.FlipH(img), "mirrored", "switch off mirroring"},
		{"upside down and mirrored", imaging.FlipV(img), "mirrored", "switch off mirroring"},
		{"very blurred", imaging.Blur(img, 1600.0/2800*9), "blurred", "hold the phone still"},
		{"blurred still more", imaging.Blur(img, 12), "blurred", "hold the phone still"},
		{"no card", bare, "no card", "put the card"},
		{"no card, a little soft", imaging.Blur(bare, 1.2), "no card", "put the card"},
	} {
		_, err := findIn(t, c.picture, truth)
		turnedAway(t, c.what, err, c.kind, c.remedy)
	}
}

// A picture of twenty thousand small squares, every one of which could be a marker, is no card within seconds.
func TestThousandsOfSquaresAreSoonNoCard(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 4000, 3000))
	for i := range m.Pix {
		x, y := i/4%4000, i/4/4000
		if m.Pix[i] = 255; i%4 < 3 && x%24 > 2 && x%24 < 20 && y%24 > 2 && y%24 < 20 {
			m.Pix[i] = 0
		}
	}
	done := make(chan error, 1)
	p := testphoto.Stored(t, m, synth.Truth{}, 1)
	go func() {
		_, err := FindCard(p, CardOptions{})
		done <- err
	}()
	select {
	case err := <-done:
		turnedAway(t, "squares", err, "no card", "put the card")
	case <-time.After(30 * time.Second): // 5 s on an ordinary computer; it was two minutes
		t.Fatal("still looking after half a minute")
	}
}
