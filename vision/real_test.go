package vision

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/coverage"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// Real photos with somebody else's truth are not part of the project, and have no card: these tests print how the measuring
// does on them where they are at hand.
var pictures = flag.String("pictures", "", "folder for pictures of what was found beside the truth")

var realPhotos = filepath.Join("..", "..", "shared", "photos", "real")

// lightsOf returns the linear light of every seventh pixel.
func lightsOf(p *photo.Photo) (all []raster.RGB) {
	for i := 0; i < p.Width*p.Height; i += 7 {
		all = append(all, p.Light(3*i))
	}
	return all
}

// luminance of linear sRGB (IEC 61966-2-1:1999; ITU-R BT.709-6, 3.2).
func luminance(c raster.RGB) float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// brightest is the luminance that only a thousandth of the photo exceeds.
func brightest(all []raster.RGB) float32 {
	lum := make([]float32, len(all))
	for i, c := range all {
		lum[i] = luminance(c)
	}
	slices.Sort(lum)
	return lum[len(lum)*999/1000]
}

// rootsBelow lays prepared patches over all of the photo below a row and returns, for each of the photo's pixels, the root's share and the
// centre line in px: each patch counts where it is away from its own border.
func rootsBelow(t *testing.T, p *photo.Photo, top int, pxMM float64) (share, line []float64) {
	t.Helper()
	all := lightsOf(p)
	grey := raster.MedianRGB(all) // the paper behind is grey
	k := brightest(all) / luminance(grey)
	s := scene.FromAbove(p, card.Roots, pxMM, raster.RGB{k * grey[0], k * grey[1], k * grey[2]})
	share, line = make([]float64, p.Width*p.Height), make([]float64, p.Width*p.Height)
	const side, border = 192, 32
	step := float64(side-2*border) / preparedPerMM
	for y := float64(top)/pxMM + step/2; y < float64(p.Height)/pxMM+step/2; y += step {
		for x := step / 2; x < float64(p.Width)/pxMM+step/2; x += step {
			patch := prepareAt(s, s.Plane.ToMM(raster.Px{X: x*pxMM - 0.5, Y: y*pxMM - 0.5}), side, &scratch{})
			maps, err := coverage.Roots.Run(patch.in, coverage.Tensor{})
			if err != nil {
				t.Fatal(err)
			}
			for j := border; j < side-border; j++ {
				for i := border; i < side-border; i++ {
					at := func(m int) float32 { return maps.V[((4*m+2*(j%2)+i%2)*maps.H+j/2)*maps.W+i/2] }
					q := patch.px(float64(i), float64(j))
					px, py := int(q.X+0.5), int(q.Y+0.5)
					if px < 0 || py < top || px >= p.Width || py >= p.Height {
						continue
					}
					k := py*p.Width + px
					share[k] = max(share[k], float64(raster.Sigmoid(at(mapWhite))+raster.Sigmoid(at(mapBrown))))
					line[k] += float64(raster.Softplus(at(mapLine))) * patch.stepX
				}
			}
		}
	}
	return share, line
}

// tracedRoots are the poly-lines of an RSML file (Lobet et al. 2015, Plant Physiol. 167, 617-627), px.
func tracedRoots(t *testing.T, path string) (roots [][]raster.Px) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(strings.NewReader(string(text)))
	for {
		token, err := d.Token()
		if err != nil {
			return roots
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "geometry":
			roots = append(roots, nil)
		case "point":
			var at raster.Px
			for _, a := range e.Attr {
				v, err := strconv.ParseFloat(a.Value, 64)
				if err != nil {
					t.Fatal(err)
				}
				if a.Name.Local == "x" {
					at.X = v
				} else if a.Name.Local == "y" {
					at.Y = v
				}
			}
			roots[len(roots)-1] = append(roots[len(roots)-1], at)
		}
	}
}

// walked calls at for every px along the traces.
func walked(roots [][]raster.Px, at func(x, y float64)) {
	for _, root := range roots {
		for i := 1; i < len(root); i++ {
			a, b := root[i-1], root[i]
			n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y))
			for k := 0.0; k < n; k++ {
				at(a.X+(b.X-a.X)*k/n, a.Y+(b.Y-a.Y)*k/n)
			}
		}
	}
}

// near reports whether a marked pixel lies within a square of 2·radius + 1 about a place.
func near(on []bool, w, h, x, y, radius int) bool {
	for j := max(0, y-radius); j <= min(h-1, y+radius); j++ {
		for i := max(0, x-radius); i <= min(w-1, x+radius); i++ {
			if on[j*w+i] {
				return true
			}
		}
	}
	return false
}

// barleyPxMM is a guess: a barley grain is about 9 mm long (common knowledge, no source), and 110 px in these photos.
const barleyPxMM = 12

// mostMissed is the share in % of the traces that must not go unseen.
const mostMissed = 30.0

// TestRealRoots compares the network's length with traced barley roots on grey paper. What is traced is the length of the traces' union,
// which a picture can show.
func TestRealRoots(t *testing.T) {
	var b strings.Builder
	fmt.Fprintf(&b, "\ntraced barley roots; scale made up: %d px a mm\n%-10s %9s %9s %9s %9s %9s\n", barleyPxMM, "photo", "traced px", "found px", "bias", "missed", "far off")
	for _, row := range readReal(t, "barley-roots", "lengths.csv") {
		name := row["split"] + "_" + row["photo"]
		union, errUnion := strconv.ParseFloat(row["union_px"], 64)
		top, errTop := strconv.Atoi(row["top_of_traces_y"])
		if err := errors.Join(errUnion, errTop); err != nil {
			t.Fatal(err)
		}
		p, err := photo.Open(filepath.Join(realPhotos, "barley-roots", name+".jpg"))
		if err != nil {
			t.Fatal(err)
		}
		share, line := rootsBelow(t, p, top, barleyPxMM)
		traced, found := make([]bool, len(share)), make([]bool, len(share))
		walked(tracedRoots(t, filepath.Join(realPhotos, "barley-roots", name+".rsml")), func(x, y float64) {
			if xi, yi := int(x), int(y); xi >= 0 && yi >= top && xi < p.Width && yi < p.Height {
				traced[yi*p.Width+xi] = true
			}
		})
		var length, far, on, missed float64
		for i, a := range share {
			found[i] = a > 0.5
			length += line[i]
			if line[i] > 0.01 && !near(traced, p.Width, p.Height, i%p.Width, i/p.Width, 25) {
				far += line[i]
			}
		}
		for i, ok := range traced {
			if ok {
				on++
				if !near(found, p.Width, p.Height, i%p.Width, i/p.Width, 10) {
					missed++
				}
			}
		}
		if 100*missed/on > mostMissed {
			t.Errorf("%s: %.0f %% of the traced roots were not seen", name, 100*missed/on)
		}
		fmt.Fprintf(&b, "%-10s %9.0f %9.0f %+8.1f%% %8.1f%% %8.1f%%\n", name, union, length, 100*(length/union-1), 100*missed/on, 100*far/union)
		if folder := *pictures; folder != "" {
			saveOverlay(t, filepath.Join(folder, name+".png"), p, top, found, traced)
		}
		p.Close()
	}
	b.WriteString("missed: share of the traces without a root found within 10 px; far off: length found over 25 px from any trace, of the traced\n")
	t.Log(b.String())
}

// readReal reads a table beside real photos, or skips where they are not at hand.
func readReal(t *testing.T, path ...string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(append([]string{realPhotos}, path...)...))
	if err != nil {
		t.Skip("the real photos are not here")
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = r[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// saveOverlay writes the photo from a row on, dimmed, with what was found in red and the truth in blue; both make magenta.
func saveOverlay(t *testing.T, path string, p *photo.Photo, top int, found, truth []bool) {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, p.Width, p.Height-top))
	for y := range p.Height - top {
		for x := range p.Width {
			at, i := p.At(x, y+top), (y+top)*p.Width+x
			c := color.NRGBA{p.BGR[at+2] / 2, p.BGR[at+1] / 2, p.BGR[at] / 2, 255}
			if found[i] {
				c.R = 255
			}
			if truth[i] {
				c.B = 255
			}
			img.SetNRGBA(x, y, c)
		}
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// wheatPxMM is made up: leaves 2 to 6 px wide, taken for a seedling's of about half a mm to one.
const wheatPxMM = 6

// leastOverlap is the least mean of intersection over union; hard sun, thin leaves and soil in the leaves' colour make it low.
const leastOverlap = 0.3

// TestRealLeaves compares what is taken for leaf with hand-made masks of young wheat on soil.
func TestRealLeaves(t *testing.T) {
	masks, _ := filepath.Glob(filepath.Join(realPhotos, "wheat-topview", "*_mask.png"))
	if len(masks) == 0 {
		t.Skip("the real photos are not here")
	}
	overlap, least := 0.0, 1.0
	var b strings.Builder
	fmt.Fprintf(&b, "\nwheat on soil; scale made up: %d px a mm; white is the brightest thousandth\n%-50s %8s %8s %8s %8s %8s\n", wheatPxMM, "photo", "masked", "area", "overlap", "missed", "too much")
	fmt.Fprintf(&b, "%-50s %8s %8s %8s\n", "", "share", "found", "IoU")
	for _, mask := range masks {
		p, err := photo.Open(strings.TrimSuffix(mask, "_mask.png") + ".png")
		if err != nil {
			t.Fatal(err)
		}
		truth := openMask(t, mask, p.Width, p.Height)
		share := leafShares(t, p)
		var want, got, both float64
		found := make([]bool, len(share))
		for i, v := range share {
			got += v
			found[i] = v > 0.5
			if truth[i] {
				want++
				both += v
			}
		}
		name := strings.TrimSuffix(filepath.Base(mask), "_mask.png")
		iou := both / (want + got - both)
		fmt.Fprintf(&b, "%-50s %7.1f%% %+7.1f%% %8.2f %7.1f%% %7.1f%%\n", name, 100*want/float64(len(truth)), 100*(got/want-1), iou, 100*(1-both/want), 100*(got-both)/want)
		if folder := *pictures; folder != "" {
			saveOverlay(t, filepath.Join(folder, name+".png"), p, 0, found, truth)
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

// leafShares is how much of each pixel of the photo is taken for leaf, 0 to 1.
func leafShares(t *testing.T, p *photo.Photo) []float64 {
	t.Helper()
	white := brightest(lightsOf(p))
	s := scene.FromAbove(p, card.Shoots, wheatPxMM, raster.RGB{white, white, white})
	whole := tray.Layout{Rows: 1, Columns: 1, LengthMM: float64(p.Width) / wheatPxMM, WidthMM: float64(p.Height) / wheatPxMM, PitchMM: 50,
		FirstU: float64(p.Width) / wheatPxMM / 2, FirstV: float64(p.Height) / wheatPxMM / 2}
	c := &canopy{s: s, t: whole, o: LeafOptions{ChlorosisHueDeg: 105, ChlorosisChroma: 15}, plants: make([]plantSum, 1)}
	c.sheet = newSheet(s, s.Plane, whole, tray.Grid{})
	for _, strip := range c.sheet.strips() {
		maps, err := coverage.Leaves.Run(c.prepare(strip, coverage.Tensor{}), coverage.Tensor{})
		if err != nil {
			t.Fatal(err)
		}
		c.addUp(strip, maps)
	}
	share := make([]float64, p.Width*p.Height)
	for i := range share {
		u, v := s.TrayUV(s.Plane.ToMM(raster.Px{X: float64(i % p.Width), Y: float64(i / p.Width)}))
		share[i] = float64(c.sheet.leafAt(u, v)) / 255
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
