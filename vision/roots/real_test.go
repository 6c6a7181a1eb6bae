package roots

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/testphoto"
)

// What is found is printed for real photos, too, where they are at hand; see testphoto.Real.
var pictures = flag.String("pictures", "", "folder for pictures of what was found beside the truth")

// barleyPxMM is a guess: a barley grain is about 9 mm long (common knowledge, no source), and 110 px in these photos.
const barleyPxMM = 12

// mostMissed is the share in % of the traces that must not go unseen.
const mostMissed = 15.0

// rootsBelow lays prepared patches over all of the photo below a row and returns, for each of the photo's pixels, the root's share and the
// centre line in px: each patch counts where it is away from its own border.
func rootsBelow(t *testing.T, p *photo.Photo, top int, pxMM float64) (share, line []float64) {
	t.Helper()
	all := testphoto.Lights(p)
	grey := raster.MiddleRGB(all) // the paper behind is grey
	k := testphoto.Brightest(all) / testphoto.Luminance(grey)
	s := scene.FromAbove(p, card.Roots, pxMM, raster.RGB{k * grey[0], k * grey[1], k * grey[2]})
	share, line = make([]float64, p.Width*p.Height), make([]float64, p.Width*p.Height)
	const side, border = 192, 32
	step := float64(side-2*border) / preparedPerMM
	for y := float64(top)/pxMM + step/2; y < float64(p.Height)/pxMM+step/2; y += step {
		for x := step / 2; x < float64(p.Width)/pxMM+step/2; x += step {
			var work seen
			patch := prepareAt(s, s.Plane.ToMM(raster.Px{X: x*pxMM - 0.5, Y: y*pxMM - 0.5}), side, &work)
			if err := work.look(); err != nil {
				t.Fatal(err)
			}
			own := make([]uint8, side*side)
			for k := range own {
				root, _ := work.rootAt(k)
				own[k] = uint8(255*root + 0.5)
			}
			rooted := nearRoot(own, side, side)
			for j := border; j < side-border; j++ {
				for i := border; i < side-border; i++ {
					q := patch.px(float64(i), float64(j))
					px, py := int(q.X+0.5), int(q.Y+0.5)
					if px < 0 || py < top || px >= p.Width || py >= p.Height {
						continue
					}
					k := py*p.Width + px
					root, _ := work.rootAt(j*side + i)
					share[k] = max(share[k], float64(root))
					if rooted[j*side+i] {
						line[k] += float64(work.line[j*side+i]) * patch.stepX
					}
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

// TestRealRoots compares the network's length with traced barley roots on grey paper. What is traced is the length of the traces' union,
// which a picture can show.
func TestRealRoots(t *testing.T) {
	var b strings.Builder
	fmt.Fprintf(&b, "\ntraced barley roots; scale made up: %d px a mm\n%-10s %9s %9s %9s %9s %9s\n", barleyPxMM, "photo", "traced px", "found px", "bias", "missed", "far off")
	for _, row := range testphoto.ReadReal(t, "barley-roots", "lengths.csv") {
		name := row["split"] + "_" + row["photo"]
		union, errUnion := strconv.ParseFloat(row["union_px"], 64)
		top, errTop := strconv.Atoi(row["top_of_traces_y"])
		if err := errors.Join(errUnion, errTop); err != nil {
			t.Fatal(err)
		}
		p, err := photo.Open(filepath.Join(testphoto.Real, "barley-roots", name+".jpg"))
		if err != nil {
			t.Fatal(err)
		}
		share, line := rootsBelow(t, p, top, barleyPxMM)
		traced, found := make([]bool, len(share)), make([]bool, len(share))
		walked(tracedRoots(t, filepath.Join(testphoto.Real, "barley-roots", name+".rsml")), func(x, y float64) {
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
			testphoto.SaveOverlay(t, filepath.Join(folder, name+".png"), p, top, found, traced)
		}
		p.Close()
	}
	b.WriteString("missed: share of the traces without a root found within 10 px; far off: length found over 25 px from any trace, of the traced\n")
	t.Log(b.String())
}
