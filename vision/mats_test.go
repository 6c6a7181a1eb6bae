//go:build matprofile

package vision

import (
	"bytes"
	"image"
	"image/draw"
	"os"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"

	"traygauge/vision/card"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

// TestMatsAreAllClosed measures twenty photos, some of them broken, without a card or with half of one: pictures outside Go's
// memory must all be freed, or a long season's photos would fill the machine.
func TestMatsAreAllClosed(t *testing.T) {
	files := matFiles(t)
	before := gocv.MatProfile.Count()
	measured, turnedAway := 0, 0
	for i := range 20 {
		if measureOnce(t, files[i%len(files)]) {
			measured++
		} else {
			turnedAway++
		}
	}
	if measured < 8 || turnedAway < 8 {
		t.Errorf("%d measured, %d turned away: the photos are not what this test is for", measured, turnedAway)
	}
	if after := gocv.MatProfile.Count(); after != before {
		var where bytes.Buffer
		_ = gocv.MatProfile.WriteTo(&where, 1)
		t.Errorf("%d Mats open before, %d after:\n%s", before, after, where.String())
	}
}

// measureOnce takes one file as far as it goes; ok reports whether that was all the way.
func measureOnce(t *testing.T, path string) (ok bool) {
	t.Helper()
	p, err := Open(path)
	if err != nil {
		return false
	}
	defer p.Close()
	s, err := FindCard(p, CardOptions{})
	if err != nil {
		return false
	}
	if s.Face == card.Roots {
		_, _, err = Roots(s, tray50())
	} else {
		_, _, err = Leaves(s, tray50(), LeafOptions{HeightMM: 20, ChlorosisHueDeg: 105, ChlorosisChroma: 15})
	}
	if err != nil {
		t.Error(err)
	}
	return err == nil
}

// matFiles are ten files: roots and shoots, one of each turned, and six that cannot be measured.
func matFiles(t *testing.T) (paths []string) {
	t.Helper()
	dir := t.TempDir()
	add := func(name string, img *image.NRGBA, truth synth.Truth, orientation int) string {
		path := filepath.Join(dir, name)
		if err := synth.Save(path, img, truth, 92, synth.EXIF{Focal35: 26, Orientation: orientation}); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
		return path
	}
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		img, truth, err := synth.Draw(testphoto.FewPlants(face))
		if err != nil {
			t.Fatal(err)
		}
		whole := add(face.String()+".jpg", img, truth, 1)
		add(face.String()+"_turned.jpg", img, truth, 6)
		draw.Draw(img, testphoto.MarkerBox(truth.Markers[2]), image.Black, image.Point{}, draw.Src)
		add(face.String()+"_half.jpg", img, truth, 1)
		raw, err := os.ReadFile(whole)
		if err != nil {
			t.Fatal(err)
		}
		broken := filepath.Join(dir, face.String()+"_cut.jpg")
		if err := os.WriteFile(broken, raw[:len(raw)/2], 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, broken)
	}
	bare := testphoto.FewPlants(card.Roots)
	bare.Card = false
	img, truth, err := synth.Draw(bare)
	if err != nil {
		t.Fatal(err)
	}
	add("bare.jpg", img, truth, 3)
	return append(paths, filepath.Join(dir, "missing.jpg"))
}
