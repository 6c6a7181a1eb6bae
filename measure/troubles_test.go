package measure

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
	"traygauge/vision/testphoto"
)

var troublesOf = flag.Int("troubles", 0, "how many small drawn scenes TestTroubles puts each kind of trouble into")

// trouble is one thing that goes wrong with photos, and by which concerns it must be reported.
type trouble struct {
	name   string
	kinds  []reading.Kind
	face   card.Face // 0: both
	scene  func(h *hardScene)
	photo  func(img *image.NRGBA) image.Image
	saved  int // JPEG quality; 0: the scene's own
	bytes  func(raw []byte, r *rand.Rand) []byte
	exif   func(e *synth.EXIF, img *image.NRGBA)
	hidden bool // it may leave the picture as it was: only what changes a figure counts
}

// troubles are those that the checks are for.
var troubles = []trouble{
	{name: "the card's other face up", kinds: []reading.Kind{reading.WrongSide}, scene: func(h *hardScene) { h.spec.Shows = card.Roots + card.Shoots - h.spec.Face }},
	{name: "card printed at 97 %", kinds: []reading.Kind{reading.ScaleOff}, scene: func(h *hardScene) { h.spec.PrintScale *= 0.97 }},
	{name: "card printed at 103 %", kinds: []reading.Kind{reading.ScaleOff}, scene: func(h *hardScene) { h.spec.PrintScale *= 1.03 }},
	{name: "card printed at 90 or 110 %", kinds: []reading.Kind{reading.ScaleOff}, scene: func(h *hardScene) { h.spec.PrintScale *= 0.9 + 0.2*float64(h.index/2%2) }},
	{name: "a hand on the tray", kinds: []reading.Kind{reading.SomethingOnTheTray}, scene: over(testtray.Box(30, 20, 125, 110, [3]uint8{205, 150, 125}))},
	{name: "paper on the tray", kinds: []reading.Kind{reading.SomethingOnTheTray}, scene: over(testtray.Box(90, 40, 200, 150, [3]uint8{240, 240, 238}))},
	{name: "a blue cloth on the tray", kinds: []reading.Kind{reading.SomethingOnTheTray}, scene: over(testtray.Box(100, 15, 230, 80, [3]uint8{40, 70, 150}))},
	{name: "a black glove on the tray", kinds: []reading.Kind{reading.SomethingOnTheTray}, scene: over(testtray.Box(70, 0, 125, 80, [3]uint8{38, 36, 35}))},
	{name: "a dark green cloth on the tray", kinds: []reading.Kind{reading.SomethingOnTheTray}, scene: over(testtray.Box(100, 15, 230, 80, [3]uint8{34, 58, 30}))},
	{name: "a black strap across plug bottoms", kinds: []reading.Kind{reading.SomethingOnTheTray}, face: card.Roots, scene: over(testtray.Box(0, 84, 240, 94, [3]uint8{32, 32, 33}))},
	{name: "a green label across plug bottoms", kinds: []reading.Kind{reading.SomethingOnTheTray}, face: card.Roots, scene: over(testtray.Box(60, 34, 110, 49, [3]uint8{58, 135, 52}))},
	{name: "a plan with a row less", kinds: []reading.Kind{reading.OtherTray}, scene: func(h *hardScene) { h.plan.Tray.Rows-- }},
	{name: "a plan of plugs 38 mm apart", kinds: []reading.Kind{reading.OtherTray}, scene: func(h *hardScene) {
		t := &h.plan.Tray
		t.Rows, t.Columns, t.PitchMM, t.PlugBottomMM = 4, 5, 38, 25
	}},
	{name: "one half moved by 8 px between two pictures", kinds: []reading.Kind{reading.Doubled, "blurred", "no card", "half a card", "card bent", "card unclear"}, photo: func(img *image.NRGBA) image.Image {
		return testphoto.Nudged(img, 8, 0, func(_, y int) bool { return 2*y > img.Rect.Dy() })
	}},
	{name: "vivid mode, colours × 1.7", kinds: []reading.Kind{reading.ColoursChanged, "coloured light"}, scene: func(h *hardScene) { h.spec.Phone.Saturation = 1.7 }},
	{name: "overexposed, cut off at 250", kinds: []reading.Kind{"too bright", reading.GreysUnreadable}, scene: func(h *hardScene) { h.spec.Light.Level *= 1.9 / h.spec.Light.Level; h.spec.Phone.Top = 250 }},
	{name: "another colour space (ProPhoto)", kinds: []reading.Kind{reading.ColoursChanged, "coloured light"}, photo: proPhoto},
	{name: "a pink lamp over half of the tray", kinds: []reading.Kind{reading.MixedLight, "coloured light"}, scene: func(h *hardScene) {
		h.spec.Light.Shadow, h.spec.Light.ShadowTurn, h.spec.Light.ShadowGains = 0.01, 90, [3]float64{1, 0.3, 0.9}
	}},
	{name: "a shadow of 93 % on one side", kinds: []reading.Kind{reading.Shadow}, face: card.Roots, hidden: true, scene: func(h *hardScene) {
		h.spec.Light.Shadow, h.spec.Light.ShadowTurn = 0.93, 90
	}},
	{name: "mirrored", kinds: []reading.Kind{"mirrored"}, photo: func(img *image.NRGBA) image.Image { return imaging.FlipH(img) }},
	{name: "strongly blurred", kinds: []reading.Kind{"blurred"}, photo: func(img *image.NRGBA) image.Image { return imaging.Blur(img, float64(img.Bounds().Dx())/250) }},
	{name: "the far half out of focus", kinds: []reading.Kind{reading.PartlyBlurred, "blurred"}, face: card.Roots, photo: func(img *image.NRGBA) image.Image {
		return halfBlurred(img, float64(img.Bounds().Dx())/500)
	}},
	{name: "leaves blurred by portrait mode", kinds: []reading.Kind{reading.PartlyBlurred, "blurred", "a little blurred"}, face: card.Shoots, photo: func(img *image.NRGBA) image.Image {
		return halfBlurred(img, float64(img.Bounds().Dx())/600)
	}},
	{name: "a third of the size", kinds: []reading.Kind{"too far away", "blurred"}, face: card.Roots, photo: func(img *image.NRGBA) image.Image {
		return imaging.Resize(img, img.Bounds().Dx()/3, 0, imaging.CatmullRom)
	}},
	{name: "compressed by a messenger", kinds: []reading.Kind{"compressed"}, saved: 45},
	{name: "compressed by a messenger, saved again", kinds: []reading.Kind{"compressed"}, photo: func(img *image.NRGBA) image.Image { return savedOnceAt(img, 40) }},
	{name: "an editor's clarity of 0.6", kinds: []reading.Kind{reading.ContrastChanged}, photo: func(img *image.NRGBA) image.Image { return clarified(img, 0.6) }},
	{name: "sharpened by a program", kinds: []reading.Kind{reading.ContrastChanged}, face: card.Roots, photo: func(img *image.NRGBA) image.Image {
		return testtray.AwayFrom(img, imaging.Blur(img, float64(img.Bounds().Dx())/400), 1.2)
	}},
	{name: "a scanner app", kinds: []reading.Kind{reading.ContrastChanged}, photo: func(img *image.NRGBA) image.Image { return testtray.Scanned(img, 1) }},
	{name: "contrast equalised in tiles", kinds: []reading.Kind{reading.ContrastChanged}, photo: func(img *image.NRGBA) image.Image { return testtray.Equalised(img, 1.5) }},
	{name: "red and blue fringes of 1.5 px", kinds: []reading.Kind{reading.ColoursChanged}, face: card.Roots, photo: func(img *image.NRGBA) image.Image { return testtray.Fringed(img, 1.5) }},
	{name: "a print's dots of red", kinds: []reading.Kind{reading.ColoursChanged, "coloured light"}, photo: dotted},
	{name: "an insect net over the leaves", kinds: []reading.Kind{reading.VeilOverTray}, face: card.Shoots, scene: func(h *hardScene) { h.spec.Things = net(4, 0.6) }},
	{name: "one byte changed", kinds: []reading.Kind{"broken", "cut short"}, hidden: true, bytes: func(raw []byte, r *rand.Rand) []byte {
		raw[700+r.IntN(len(raw)-700)] ^= byte(1 + r.IntN(255))
		return raw
	}},
	{name: "all plants hidden", kinds: []reading.Kind{reading.HardlyAnyPlants, reading.WrongSide, reading.SomethingOnTheTray}, face: card.Shoots, scene: func(h *hardScene) {
		for name, p := range h.spec.Plants {
			h.spec.Plants[name] = synth.Plant{Plug: p.Plug}
		}
		h.spec.NeighbourMM = 0
	}},
	{name: "cropped, with the whole picture's EXIF", kinds: []reading.Kind{reading.LeafHeight, reading.LeafHeightNotUsed}, face: card.Shoots, hidden: true, exif: func(e *synth.EXIF, img *image.NRGBA) {
		e.Focal35 = e.Focal35 * 8 / 10
		e.WidthPx, e.HeightPx = img.Rect.Dx()*10/8, img.Rect.Dy()*10/8
	}},
	{name: "leaf height at the camera", kinds: []reading.Kind{"leaf height", "leaf height not used"}, face: card.Shoots, scene: func(h *hardScene) { h.plan.Tray.LeafHeightMM = 450 }},
}

func over(t synth.Thing) func(h *hardScene) {
	return func(h *hardScene) { h.spec.Things = []synth.Thing{t} }
}

// net is threads that many mm wide, that many apart, over 400 mm both ways.
func net(apart, wide float64) (threads []synth.Thing) {
	for at := 0.0; at < 400; at += apart {
		for _, box := range [][4]float64{{at, 0, at + wide, 400}, {0, at, 400, at + wide}} {
			threads = append(threads, testtray.Box(box[0], box[1], box[2], box[3], [3]uint8{200, 200, 196}))
		}
	}
	return threads
}

// dotted takes up to 0.2·√2 of red's code up and down in waves a hundred-and-twentieth of the picture long, as the dots of a photographed print do.
func dotted(img *image.NRGBA) image.Image {
	out := imaging.Clone(img)
	turn := 2 * math.Pi * 120 / float64(img.Bounds().Dx())
	for i := 0; i < len(out.Pix); i += 4 {
		x, y := i%out.Stride/4, i/out.Stride
		m := 1 + 0.2*math.Sqrt2*math.Cos(turn*float64(x))*math.Cos(turn*float64(y))
		out.Pix[i] = uint8(min(255, float64(out.Pix[i])*m))
	}
	return out
}

// proPhoto is what a picture in the ROMM RGB of ISO 22028-2 looks like when its profile is lost: matrix from linear sRGB, Bradford-adapted to D50 (values
// from memory), and a gamma of 1.8.
func proPhoto(img *image.NRGBA) image.Image {
	m := [3][3]float64{{0.5293, 0.3300, 0.1407}, {0.0984, 0.8735, 0.0281}, {0.0169, 0.1177, 0.8654}}
	out := imaging.Clone(img)
	linear := func(v uint8) float64 {
		if x := float64(v) / 255; x > 0.04045 {
			return math.Pow((x+0.055)/1.055, 2.4)
		}
		return float64(v) / 255 / 12.92
	}
	for i := 0; i < len(out.Pix); i += 4 {
		c := [3]float64{linear(out.Pix[i]), linear(out.Pix[i+1]), linear(out.Pix[i+2])}
		for k := range 3 {
			out.Pix[i+k] = uint8(255*math.Pow(min(1, max(0, m[k][0]*c[0]+m[k][1]*c[1]+m[k][2]*c[2])), 1/1.8) + 0.5)
		}
	}
	return out
}

// halfBlurred blurs a picture's lower half, in which the card lies or does not: hard scenes are turned.
func halfBlurred(img *image.NRGBA, sigma float64) image.Image {
	b := img.Bounds()
	from := b.Dy() / 2
	return imaging.Paste(img, imaging.Crop(imaging.Blur(img, sigma), image.Rect(0, from, b.Dx(), b.Dy())), image.Pt(0, from))
}

// savedOnceAt is a picture after a JPEG of a low quality.
func savedOnceAt(img *image.NRGBA, quality int) image.Image {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		panic(err)
	}
	again, err := jpeg.Decode(&b)
	if err != nil {
		panic(err)
	}
	return again
}

// clarified adds a share of the difference to what lies around, over a hundredth of the picture.
func clarified(img *image.NRGBA, share float64) image.Image {
	b := img.Bounds()
	around := imaging.Resize(imaging.Blur(imaging.Resize(img, b.Dx()/4, 0, imaging.Box), float64(b.Dx())/400), b.Dx(), b.Dy(), imaging.Linear)
	return testtray.AwayFrom(img, around, share)
}

// look draws hard scene i with a trouble, nil for none, and measures the photo.
func (c *trouble) look(t *testing.T, i int) reading.Reading {
	t.Helper()
	h := hardSceneOf(i)
	if c != nil && c.scene != nil {
		c.scene(&h)
	}
	img, _, err := synth.Draw(h.spec)
	if err != nil {
		t.Fatal(err)
	}
	var picture image.Image = img
	quality := h.spec.JPEGQuality
	if c != nil && c.photo != nil {
		picture = c.photo(img)
	}
	if c != nil && c.saved > 0 {
		quality = c.saved
	}
	e := synth.EXIF{Orientation: 1}
	if h.namesFocal {
		e.Focal35 = int(h.spec.Camera.Focal35)
	}
	if c != nil && c.exif != nil {
		c.exif(&e, img)
	}
	file := filepath.Join(t.TempDir(), "p.jpg")
	if err := synth.WriteJPEG(file, imaging.Clone(picture), quality, e); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if c != nil && c.bytes != nil {
		raw = c.bytes(bytes.Clone(raw), rand.New(rand.NewPCG(uint64(i), 99)))
	}
	return One(raw, time.Time{}, h.plan, reading.Given{}, nil)
}

// figureOf is what a photo's verdict is about: the area over the tray, and how many plugs it is of.
func figureOf(r reading.Reading) (area float64, plugs int) {
	for _, p := range r.Plugs {
		if p.RootAreaMM2.Known() {
			area += float64(p.RootAreaMM2)
		}
		if p.LeafAreaMM2.Known() {
			area += float64(p.LeafAreaMM2)
		}
		plugs += count(p.State == reading.Planted)
	}
	return area, plugs
}

// `make mixed` prints of each kind of trouble how often it was tried, told and missed, and how often photos without any are doubted. A trouble that
// is reported by another name is reported; missed is a photo called good, or only doubted for what it was doubted for before.
func TestTroubles(t *testing.T) {
	if *troublesOf == 0 {
		t.Skip("say -troubles N; make mixed does")
	}
	good := make([]reading.Reading, *troublesOf)
	var doubted []string
	var byKind []reading.Kind
	for i := range good {
		good[i] = (*trouble)(nil).look(t, i)
		if good[i].Verdict() != reading.VerdictGood {
			doubted = append(doubted, fmt.Sprintf("scene %d: %s", i, fmt.Sprint(testtray.Kinds(good[i]))))
		}
		byKind = append(byKind, testtray.Kinds(good[i])...)
	}
	fmt.Printf("%-34s %6s %6s %6s %6s\n", "kind of trouble", "tried", "told", "named", "missed")
	for k := range troubles {
		c := &troubles[k]
		tried, told, named, missed := 0, 0, 0, []string{}
		for i := range good {
			if c.face != 0 && c.face != hardSceneOf(i).spec.Face {
				continue
			}
			r := c.look(t, i)
			isNamed, isTold := false, false
			for _, kind := range testtray.Kinds(r) {
				isNamed = isNamed || slices.Contains(c.kinds, kind)
				isTold = isTold || !slices.Contains(testtray.Kinds(good[i]), kind)
			}
			if c.hidden && !isNamed {
				a, n := figureOf(r)
				b, m := figureOf(good[i])
				if n == m && math.Abs(a-b) <= 0.02*b {
					continue // nothing was changed that counts
				}
			}
			tried++
			named += count(isNamed)
			if isNamed || isTold {
				told++
			} else {
				missed = append(missed, fmt.Sprint(i))
			}
		}
		fmt.Printf("%-34s %6d %6d %6d %6d  %s\n", c.name, tried, told, named, len(missed), strings.Join(missed, " "))
	}
	fmt.Printf("photos without trouble: %d, doubted %d\n", len(good), len(doubted))
	for _, d := range doubted {
		fmt.Println("  ", d)
	}
	slices.Sort(byKind)
	fmt.Println("   kinds:", fmt.Sprint(byKind))
}
