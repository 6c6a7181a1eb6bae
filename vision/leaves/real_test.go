package leaves

import (
	"flag"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/coverage"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/testphoto"
	"traygauge/vision/tray"
)

// What is found is printed for real photos, too, where they are at hand; see testphoto.Real.
var pictures = flag.String("pictures", "", "folder for pictures of what was found beside the truth")

// wheatPxMM is made up: the least at which the program measures, so that each pixel of the photo is one of the network's. Leaves of 2 to 6 px then count as 0.7 to
// 2 mm wide, which is still narrower than wheat's are.
const wheatPxMM = 3

// leastOverlap is the least mean of intersection over union, a pixel being leaf where more than half of it is; hard sun, thin leaves and soil in the leaves' colour
// make it low.
const leastOverlap = 0.45

// TestRealLeaves compares what is taken for leaf with hand-made masks of young wheat on soil.
func TestRealLeaves(t *testing.T) {
	masks, _ := filepath.Glob(filepath.Join(testphoto.Real, "wheat-topview", "*_mask.png"))
	if len(masks) == 0 {
		t.Skip("the real photos are not here")
	}
	overlap, least := 0.0, 1.0
	var b strings.Builder
	fmt.Fprintf(&b, "\nwheat on soil; scale made up: %d px a mm; white is the testphoto.Brightest thousandth\n%-50s %8s %8s %8s %8s %8s\n", wheatPxMM, "photo", "masked", "area", "overlap", "missed", "too much")
	fmt.Fprintf(&b, "%-50s %8s %8s %8s\n", "", "share", "found", "IoU")
	for _, mask := range masks {
		p, err := photo.Open(strings.TrimSuffix(mask, "_mask.png") + ".png")
		if err != nil {
			t.Fatal(err)
		}
		truth := openMask(t, mask, p.Width, p.Height)
		share := leafShares(t, p)
		var want, area, got, both float64
		found := make([]bool, len(share))
		for i, v := range share {
			area += v
			found[i] = v > 0.5
			want, got, both = want+one(truth[i]), got+one(found[i]), both+one(truth[i] && found[i])
		}
		name := strings.TrimSuffix(filepath.Base(mask), "_mask.png")
		iou := both / (want + got - both)
		fmt.Fprintf(&b, "%-50s %7.1f%% %+7.1f%% %8.2f %7.1f%% %7.1f%%\n", name, 100*want/float64(len(truth)), 100*(area/want-1), iou, 100*(1-both/want), 100*(got-both)/want)
		if folder := *pictures; folder != "" {
			testphoto.SaveOverlay(t, filepath.Join(folder, name+".png"), p, 0, found, truth)
		}
		overlap, least = overlap+iou/float64(len(masks)), min(least, iou)
		p.Close()
	}
	if overlap < leastOverlap {
		t.Errorf("leaf found and masked overlap by %.2f on the mean", overlap)
	}
	fmt.Fprintf(&b, "mean overlap %.2f, least %.2f\nmissed: masked leaf not found; too much: found outside the mask; both as shares of the masked area\n", overlap, least)
	t.Log(b.String())
}

func one(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// leafShares is how much of each pixel of the photo is taken for leaf, 0 to 1.
func leafShares(t *testing.T, p *photo.Photo) []float64 {
	t.Helper()
	white := testphoto.Brightest(testphoto.Lights(p))
	s := scene.FromAbove(p, card.Shoots, wheatPxMM, raster.RGB{white, white, white})
	whole := tray.Layout{Rows: 1, Columns: 1, LengthMM: float64(p.Width) / wheatPxMM, WidthMM: float64(p.Height) / wheatPxMM, PitchMM: 50,
		FirstU: float64(p.Width) / wheatPxMM / 2, FirstV: float64(p.Height) / wheatPxMM / 2}
	c := &canopy{s: s, t: whole, o: Options{ChlorosisHueDeg: 105, ChlorosisChroma: 15}, plants: make([]plantSum, 1)}
	slip := tray.Grid{U: -0.5 / wheatPxMM, V: -0.5 / wheatPxMM} // so that prepared pixels lie on the photo's
	c.sheet = newSheet(s, s.Plane, whole, slip)
	for _, strip := range c.sheet.strips() {
		in := c.prepare(strip, coverage.Input{})
		maps, err := coverage.Leaves.Run(in, coverage.Maps{})
		if err != nil {
			t.Fatal(err)
		}
		c.addUp(strip, in, maps)
	}
	share := make([]float64, p.Width*p.Height)
	for i := range share {
		u, v := s.TrayUV(s.Plane.ToMM(raster.Px{X: float64(i % p.Width), Y: float64(i / p.Width)}))
		share[i] = float64(c.sheet.leafAt(slip.Back(whole, u, v))) / 255
	}
	return share
}

func openMask(t *testing.T, path string, w, h int) []bool {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if img.Bounds().Dx() != w || img.Bounds().Dy() != h {
		t.Fatalf("%s: not as large as its photo", path)
	}
	on := make([]bool, w*h)
	for i := range on {
		v, _, _, _ := img.At(i%w, i/w).RGBA()
		on[i] = v > 0x7fff
	}
	return on
}
