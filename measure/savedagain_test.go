package measure

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// A photo that was made smaller, larger or saved again, and is still called good, gives the same: over the tray within 3 %, and on nearly every
// plug within its error bar. Brown roots and yellow leaves are the kinds that such changes move first.
func TestAPhotoSavedAgainGivesTheSame(t *testing.T) {
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s := synth.Small(face)
		s.Resize(1500, 1730)
		s.Plants = map[string]synth.Plant{}
		for _, cell := range s.Tray.Cells() {
			s.Plants[cell] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 18, Yellow: 0.3, RootLengthMM: 500, RootBrown: 0.6}
		}
		img, _, err := synth.Draw(s)
		if err != nil {
			t.Fatal(err)
		}
		saved := func(picture image.Image, quality int) reading.Reading {
			var file bytes.Buffer
			if err := jpeg.Encode(&file, picture, &jpeg.Options{Quality: quality}); err != nil {
				t.Fatal(err)
			}
			return One(file.Bytes(), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
		}
		first := saved(img, 92)
		resized := func(percent int) image.Image {
			return imaging.Resize(img, img.Bounds().Dx()*percent/100, 0, imaging.CatmullRom)
		}
		for what, again := range map[string]reading.Reading{
			"at 70 % of its size": saved(resized(70), 92), "at 150 %": saved(resized(150), 92),
			"at quality 75": saved(img, 75), "at 80 % and quality 80": saved(resized(80), 80),
		} {
			if again.Verdict() == reading.VerdictRetake {
				t.Errorf("%v %s: %+v", face, what, again.Concerns)
				continue
			}
			before, after, off := 0.0, 0.0, 0
			for i, p := range again.Plugs {
				a, b, u := first.Plugs[i].RootAreaMM2, p.RootAreaMM2, p.RootAreaUMM2
				if face == card.Shoots {
					a, b, u = first.Plugs[i].LeafAreaMM2, p.LeafAreaMM2, p.LeafAreaUMM2
				}
				before, after, off = before+float64(a), after+float64(b), off+count(math.Abs(float64(a-b)) > float64(u))
			}
			t.Logf("%v %s: %+.1f %%, %d plugs beyond their error bar", face, what, 100*(after/before-1), off)
			if !(math.Abs(after/before-1) <= 0.03) || off > 1 {
				t.Errorf("%v %s: %.0f mm² became %.0f, %d of %d plugs beyond their error bar", face, what, before, after, off, len(again.Plugs))
			}
		}
	}
}
