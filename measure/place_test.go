package measure

import (
	"bytes"
	"image/jpeg"
	"math"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
)

// A plant from above is where its leaves are in the photo: leaves 40 mm over the card are seen farther out than their cell, the more the nearer they
// are to the tray's edge, and plants do not stand in the middle. What is green around the place that is kept has its middle there, within 1.5 mm.
func TestPlaceIsWhereThePlantIsSeen(t *testing.T) {
	s := testtray.Small(card.Shoots)
	s.LeafHeight = 40
	for cell, plant := range s.Plants {
		plant.LeafLengthMM = 9
		s.Plants[cell] = plant
	}
	raw, _ := testtray.JPEG(t, s, true)
	photo, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	green := func(x, y int) bool {
		r, g, b, _ := photo.At(x, y).RGBA()
		return 10*g > 12*r && 10*g > 12*b
	}
	n := 0
	for _, p := range One(raw, time.Time{}, testtray.Plan(s.Tray, 40), reading.Given{}, nil).Plugs {
		if p.State != reading.Planted {
			continue
		}
		n++
		reach, seen, sumX, sumY := int(0.45*s.Tray.PitchMM*p.Place.PxPerMM()), 0.0, 0.0, 0.0
		for dy := -reach; dy <= reach; dy++ {
			for dx := -reach; dx <= reach; dx++ {
				if green(int(p.Place.X)+dx, int(p.Place.Y)+dy) {
					seen, sumX, sumY = seen+1, sumX+float64(dx), sumY+float64(dy)
				}
			}
		}
		if off := math.Hypot(sumX, sumY) / seen / p.Place.PxPerMM(); !(off < 1.5) {
			t.Errorf("plant %s is seen %.1f mm off its place", p.Name, off)
		}
	}
	if n < len(s.Plants)-1 {
		t.Errorf("%d of %d plants were found", n, len(s.Plants))
	}
}
