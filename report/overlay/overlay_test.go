package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/reading"
	"traygauge/vision"
)

// drawnTray is a photo drawn for the test, twice as large as its overlay may be: brown medium, cream and tan roots in the
// left plug, a green leaf that is yellow on one side in the right one, an empty place between.
func drawnTray() (*image.RGBA, Overlay) {
	const wide, high = 4800, 2400
	photo := image.NewRGBA(image.Rect(0, 0, wide, high))
	draw.Draw(photo, photo.Rect, image.NewUniform(mediumGround), image.Point{}, draw.Src)
	root := layerOn(RootLayer, image.Rect(400, 700, 1400, 1700))
	brown := layerOn(BrownRootLayer, image.Rect(400, 700, 1400, 1700))
	leaf := layerOn(LeafLayer, image.Rect(3300, 600, 4500, 1800))
	yellow := layerOn(YellowLeafLayer, image.Rect(3300, 600, 4500, 1800))
	for y := range 1000 {
		for x := range 1000 {
			wave := 60 * math.Sin(float64(y)/90)
			for k, colour := range []color.RGBA{creamGround, creamGround, tanGround, creamGround} {
				if math.Abs(float64(x)-200*float64(k+1)-wave) < float64(6+6*k) {
					photo.SetRGBA(400+x, 700+y, colour)
					root.A[y*1000+x] = 255
					if colour == tanGround {
						brown.A[y*1000+x] = 255
					}
				}
			}
		}
	}
	for y := range 1200 {
		for x := range 1200 {
			dx, dy := float64(x-600), float64(y-600)
			angle := math.Atan2(dy, dx)
			if math.Hypot(dx, dy) > 380+150*math.Cos(5*angle) {
				continue
			}
			leaf.A[y*1200+x] = 255
			photo.SetRGBA(3300+x, 600+y, greenGround)
			if x > 700 {
				yellow.A[y*1200+x] = 255
				photo.SetRGBA(3300+x, 600+y, paleGround)
			}
		}
	}
	return photo, Overlay{
		Title: "day10/tray7.jpg: tray 7, roots", Subtitle: "2 of 3 plugs; root 412.3 mm², of it 12.0 mm² discoloured",
		Card: square(200, 1900, 700, 400), Markers: [][]Point{square(230, 1930, 90, 90), square(780, 1930, 90, 90)},
		Tag: square(1200, 2000, 300, 180),
		Plugs: []PlugMark{
			{Name: "A1", State: reading.Planted, Outline: ring(900, 1200, 560), Value: "112.4 mm²"},
			{Name: "A2", State: reading.Empty, Outline: ring(2250, 1200, 560)},
			{Name: "A3", State: reading.Planted, Outline: ring(3900, 1200, 700), Label: Point{3900, 1850}},
			{Name: "A4", State: reading.Hidden, Outline: ring(2250, 300, 200)},
			{Name: "A5", State: reading.Excluded, Outline: ring(2850, 300, 200)},
		},
		Layers: []Layer{root, brown, leaf, yellow},
	}
}

// layerOn is a layer of which nothing is set yet, a share for each of the photo's pixels.
func layerOn(kind LayerKind, r image.Rectangle) Layer {
	return Layer{kind, vision.Share{X0: float64(r.Min.X), Y0: float64(r.Min.Y), StepX: 1, StepY: 1, W: r.Dx(), H: r.Dy(), A: make([]uint8, r.Dx()*r.Dy())}}
}

// groundOf reduces a photo to its overlay's size.
func groundOf(photo image.Image) *image.RGBA {
	small := imaging.Fit(photo, LongSide, LongSide, imaging.Box)
	ground := image.NewRGBA(small.Rect)
	draw.Draw(ground, ground.Rect, small, small.Rect.Min, draw.Src)
	return ground
}

func square(x, y, wide, high float64) []Point {
	return []Point{{x, y}, {x + wide, y}, {x + wide, y + high}, {x, y + high}}
}

func ring(x, y, radius float64) []Point {
	var points []Point
	for i := range 72 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 36)
		points = append(points, Point{x + radius*cos, y + radius*sin})
	}
	return points
}

func TestDrawOverlay(t *testing.T) {
	photo, o := drawnTray()
	path := filepath.Join(t.TempDir(), "overlays", "day10", "tray7.jpg")
	if err := Draw(path, groundOf(photo), photo.Rect.Max, o); err != nil {
		t.Fatal(err)
	}
	picture, err := imaging.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if b := picture.Bounds(); b.Dx() != 2400 || b.Dy() <= 1200 {
		t.Fatalf("the overlay is %v, want 2400 px wide and more than 1200 high", b)
	}
	head := PhotoIn(4800, 2400).Min.Y
	at := func(x, y int) (r, g, b int) {
		c := color.RGBAModel.Convert(picture.At(x/2, y/2+head)).(color.RGBA)
		return int(c.R), int(c.G), int(c.B)
	}
	// The widest cream root runs through (400 + 800, 700): 60 % blue over cream is bluer than red.
	if r, _, b := at(1200, 702); b < r+60 {
		t.Errorf("root is %d red, %d blue: not tinted", r, b)
	}
	if r, g, b := at(2250, 1200); !near(r, g, b, mediumGround) {
		t.Errorf("bare medium became %d %d %d", r, g, b)
	}
	pink, plain := 0, 0
	for y := 1150; y < 1250; y += 2 {
		if r, g, _ := at(4100, y); r > g+60 {
			pink++
		} else {
			plain++
		}
	}
	if pink < 5 || plain < 25 {
		t.Errorf("yellow leaf: %d px of hatching, %d between; want both, more between", pink, plain)
	}
	light, dark := 0, 0
	for _, p := range ring(2250, 1200, 560) {
		if r, g, b := at(int(p.X), int(p.Y)); r+g+b > 600 {
			light++
		} else {
			dark++
		}
	}
	if light < 20 || dark < 10 {
		t.Errorf("the empty place's ring has %d drawn and %d open points of 72: not broken", light, dark)
	}
}

func near(r, g, b int, c color.RGBA) bool {
	return max(r-int(c.R), int(c.R)-r, g-int(c.G), int(c.G)-g, b-int(c.B), int(c.B)-b) < 12
}

func TestDrawOverlayOnSmallAndOddPhotos(t *testing.T) {
	nowhere := Overlay{Title: "a.jpg", Card: square(-500, -500, 5000, 5000), Plugs: []PlugMark{
		{Name: "A1", State: reading.Empty, Outline: []Point{{math.NaN(), 1}, {2, math.Inf(1)}, {3, 3}}}, {Name: "A2", Outline: ring(1e9, 0, 5)}, {Name: "A3"}},
		Layers: []Layer{layerOn(LeafLayer, image.Rect(-10, -10, 5, 5)), layerOn(RootLayer, image.Rect(500, 500, 510, 510))}}
	for _, photo := range []image.Rectangle{image.Rect(0, 0, 40, 30), image.Rect(0, 0, 1, 1), image.Rect(0, 0, 20, 400)} {
		path := filepath.Join(t.TempDir(), "o.jpg")
		if err := Draw(path, image.NewRGBA(photo), photo.Max, nowhere); err != nil {
			t.Errorf("%v: %v", photo, err)
		}
	}
}

func TestDrawOverlayRefuses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "o.jpg")
	if Draw(path, nil, image.Pt(9, 9), Overlay{}) == nil || Draw(path, image.NewRGBA(image.Rectangle{}), image.Point{}, Overlay{}) == nil {
		t.Error("no photo was taken for one")
	}
	short := Overlay{Layers: []Layer{layerOn(RootLayer, image.Rect(0, 0, 5, 5))}}
	short.Layers[0].A = short.Layers[0].A[:24]
	if Draw(path, image.NewRGBA(image.Rect(0, 0, 9, 9)), image.Pt(9, 9), short) == nil {
		t.Error("a layer with too few shares was drawn")
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a file was written")
	}
}
