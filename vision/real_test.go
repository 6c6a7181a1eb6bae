package vision

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/vision/card"
)

// Real photos with somebody else's truth are not part of the project, and have no card: these tests print how the measuring
// does on them where they are at hand.
var realPhotos = filepath.Join("..", "..", "shared", "photos", "real")

// withoutCard is a photo seen as if straight from above at a made-up scale, its upper left corner at the tray's own: what
// lies beside the photo is the card. White is the light that counts as paper's.
func withoutCard(p *Photo, face card.Face, pxMM float64, white RGB) *Scene {
	m := Matrix3{pxMM, 0, 0, 0, pxMM, -card.Height * pxMM, 0, 0, 1}
	s := &Scene{Photo: p, Face: face, Plane: Plane{toPx: m, toMM: m.inverse()}, scale: 1}
	s.Light = Light{White: white, Level: float64(white[1]), ToPaper: RGB{1 / white[0], 1 / white[1], 1 / white[2]}}
	return s
}

// lightsOf returns the linear light of every seventh pixel.
func lightsOf(p *Photo) (all []RGB) {
	for i := 0; i < p.Width*p.Height; i += 7 {
		all = append(all, p.light(3*i))
	}
	return all
}

// brightest is the luminance that only a thousandth of the photo exceeds.
func brightest(all []RGB) float32 {
	lum := make([]float32, len(all))
	for i, c := range all {
		lum[i] = c.luminance()
	}
	return float32(quantile(lum, 0.999))
}

// rootsBelow looks at all of the photo below a row as at one plug's bottom.
func rootsBelow(p *Photo, top int, pxMM float64) *rootCell {
	all := lightsOf(p)
	grey := medianLight(all) // the paper behind is grey
	white := grey.times(brightest(all) / grey.luminance())
	s := withoutCard(p, card.Roots, pxMM, white)
	rect := image.Rect(0, top, p.Width, p.Height)
	c := &rootCell{pxMM: pxMM, blurPx: 1, gain: s.Light.ToPaper, shine: 1, photo: p}
	c.u, c.v = card.Width-float64(p.Width)/2/pxMM, float64(p.Height)/2/pxMM
	c.p = &patch{rect: rect, w: rect.Dx(), h: rect.Dy(), inside: make([]bool, rect.Dx()*rect.Dy()), n: rect.Dx() * rect.Dy(),
		ring: make([]uint8, rect.Dx()*rect.Dy())}
	for i := range c.p.inside {
		c.p.inside[i] = true
	}
	for i := range c.edge.radius {
		c.edge.radius[i] = 1e6
	}
	c.lum = newMixer(luminanceOf, c.gain, 0)
	s.measureRoots([]*rootCell{c})
	return c
}

// lengthWherePx is the length in px of the centre lines found where a mask allows.
func (c *rootCell) lengthWherePx(mask func(i int) bool) float64 {
	l := &rootLines{fine: c.lines.fine, support: make([]bool, len(c.lines.support))}
	for i, on := range c.lines.support {
		l.support[i] = on && mask(i)
	}
	sum := 0.0
	sure, _ := l.ways()
	for _, w := range sure {
		sum += float64(w)
	}
	return sum
}

// tracedRoots are the poly-lines of an RSML file (Lobet et al. 2015, Plant Physiol. 167, 617-627), px.
func tracedRoots(t *testing.T, path string) (roots [][]Px) {
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
			var at Px
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
func walked(roots [][]Px, at func(x, y float64)) {
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

// grownBy tells for each pixel whether one of on lies within radius, a square of 2·radius + 1.
func grownBy(on []bool, w, h, radius int) []bool {
	r := newRaster(w, h)
	defer r.Close()
	for i, ok := range on {
		if ok {
			r.v[i] = 1
		}
	}
	around := r.averaged(radius)
	defer around.Close()
	near := make([]bool, len(on))
	for i, m := range around.v {
		near[i] = m > 1e-7
	}
	return near
}

// barleyPxMM is a guess: a barley grain is about 9 mm long (common knowledge, no source), and 110 px in these photos.
const barleyPxMM = 12

// mostMissed is the share in % of the traces that must not go unseen.
const mostMissed = 15.0

// TestRealRoots compares with traced barley roots on grey paper, as they are and at half the size, which is nearer to a tray's
// photo. What is traced is the length of the traces' union, which a picture can show. Where nobody reads the figures, two of the
// photos do.
func TestRealRoots(t *testing.T) {
	rows := readReal(t, "barley-roots", "lengths.csv")
	folder := overlayFolder(t)
	for _, reduce := range []int{1, 2} {
		if !testing.Verbose() {
			if reduce == 1 {
				continue
			}
			rows = rows[:2]
		}
		var b strings.Builder
		const head = "%-10s %9s %9s %9s %9s %9s %11s\n"
		fmt.Fprintf(&b, "\ntraced barley roots; scale made up: %d px a mm\n"+head, barleyPxMM/reduce, "photo", "traced px", "found px", "bias", "missed", "far off", "mean width")
		for _, row := range rows {
			b.WriteString(compareTraced(t, row, reduce, folder))
		}
		b.WriteString("missed: share of the traces without a root found within 10 px; far off: length found over 25 px from any trace, of the traced\n")
		if folder != "" {
			fmt.Fprintf(&b, "found roots in red, traces in blue: %s\n", folder)
		}
		t.Log(b.String())
	}
}

// compareTraced measures one photo, reduced by a whole number, and says how it compares. px are the photo's own.
func compareTraced(t *testing.T, row map[string]string, reduce int, folder string) string {
	t.Helper()
	name := row["split"] + "_" + row["photo"]
	union, err := strconv.ParseFloat(row["union_px"], 64)
	if err != nil {
		t.Fatal(err)
	}
	top, err := strconv.Atoi(row["top_of_traces_y"])
	if err != nil {
		t.Fatal(err)
	}
	top /= reduce
	p := reduced(t, filepath.Join(realPhotos, "barley-roots", name+".jpg"), reduce)
	defer p.Close()
	c := rootsBelow(p, top, float64(barleyPxMM/reduce))
	w, h := c.p.w, c.p.h
	traced, found := make([]bool, w*h), make([]bool, w*h)
	walked(tracedRoots(t, filepath.Join(realPhotos, "barley-roots", name+".rsml")), func(x, y float64) {
		if xi, yi := int(x)/reduce, int(y)/reduce-top; xi >= 0 && yi >= 0 && xi < w && yi < h {
			traced[yi*w+xi] = true
		}
	})
	for i, a := range c.plug.Root.A {
		found[i] = a > 127
	}
	nearFound, nearTrace := grownBy(found, w, h, 10/reduce), grownBy(traced, w, h, 25/reduce)
	var on, missed float64
	for i, ok := range traced {
		if ok {
			on++
			if !nearFound[i] {
				missed++
			}
		}
	}
	length := c.plug.LengthMM * c.pxMM * float64(reduce)
	far := c.lengthWherePx(func(i int) bool { return !nearTrace[i] }) * float64(reduce)
	if folder != "" {
		saveOverlay(t, filepath.Join(folder, fmt.Sprintf("%s_%d.png", name, barleyPxMM/reduce)), p, top, found, traced)
	}
	if 100*missed/on > mostMissed {
		t.Errorf("%s: %.0f %% of the traced roots were not seen", name, 100*missed/on)
	}
	return fmt.Sprintf("%-10s %9.0f %9.0f %+8.1f%% %8.1f%% %8.1f%% %8.2f mm\n", name, union, length, 100*(length/union-1), 100*missed/on, 100*far/union,
		c.plug.RootMM2/c.plug.LengthMM)
}

// reduced opens a photo, a whole number of its pixels each way averaged to one.
func reduced(t *testing.T, path string, by int) *Photo {
	t.Helper()
	img, err := imaging.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	var raw bytes.Buffer
	if err := png.Encode(&raw, imaging.Resize(img, img.Bounds().Dx()/by, 0, imaging.Box)); err != nil {
		t.Fatal(err)
	}
	p, err := Decode(raw.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return p
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

// overlayFolder is where pictures for looking at go, "" where nobody looks.
func overlayFolder(t *testing.T) string {
	t.Helper()
	if !testing.Verbose() {
		return ""
	}
	folder, err := os.MkdirTemp("", "overlays-")
	if err != nil {
		t.Fatal(err)
	}
	return folder
}

// saveOverlay writes the photo from a row on, dimmed, with what was found in red and the truth in blue; both make magenta.
func saveOverlay(t *testing.T, path string, p *Photo, top int, found, truth []bool) {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, p.Width, p.Height-top))
	for y := range p.Height - top {
		for x := range p.Width {
			at, i := p.at(x, y+top), y*p.Width+x
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
	folder := overlayFolder(t)
	overlap := 0.0
	var b strings.Builder
	fmt.Fprintf(&b, "\nwheat on soil; scale made up: %d px a mm; white is the brightest thousandth\n%-50s %8s %8s %8s %8s %8s\n", wheatPxMM, "photo", "masked", "area", "overlap", "missed", "too much")
	fmt.Fprintf(&b, "%-50s %8s %8s %8s\n", "", "share", "found", "IoU")
	for _, mask := range masks {
		p, err := Open(strings.TrimSuffix(mask, "_mask.png") + ".png")
		if err != nil {
			t.Fatal(err)
		}
		truth := openMask(t, mask, p.Width, p.Height)
		share := leafShares(p)
		var want, got, both float64
		found := make([]bool, len(share))
		for i, a := range share {
			v := float64(a) / 255
			got += v
			found[i] = a > 127
			if truth[i] {
				want++
				both += v
			}
		}
		name := strings.TrimSuffix(filepath.Base(mask), "_mask.png")
		fmt.Fprintf(&b, "%-50s %7.1f%% %+7.1f%% %8.2f %7.1f%% %7.1f%%\n", name, 100*want/float64(len(truth)), 100*(got/want-1), both/(want+got-both), 100*(1-both/want), 100*(got-both)/want)
		if folder != "" {
			saveOverlay(t, filepath.Join(folder, name+".png"), p, 0, found, truth)
		}
		overlap += both / (want + got - both) / float64(len(masks))
		p.Close()
	}
	if overlap < leastOverlap {
		t.Errorf("leaf found and masked overlap by %.2f on the mean", overlap)
	}
	b.WriteString("missed: masked leaf not found; too much: found outside the mask; both as shares of the masked area\n")
	if folder != "" {
		fmt.Fprintf(&b, "found leaf in red, masks in blue: %s\n", folder)
	}
	t.Log(b.String())
}

// leafShares is how much of each pixel of the photo is taken for leaf.
func leafShares(p *Photo) []uint8 {
	white := brightest(lightsOf(p))
	s := withoutCard(p, card.Shoots, wheatPxMM, RGB{white, white, white})
	c := &canopy{s: s, plane: s.Plane}
	c.take(p.Bounds(), wheatPxMM)
	c.findLeaf()
	c.green.Close()
	return c.share
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
