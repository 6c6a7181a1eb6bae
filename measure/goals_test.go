package measure

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// Without it the tests draw a few of each kind of scene; make accuracy draws them all.
var everything = flag.Bool("everything", false, "draw and measure all scenes of the accuracy tables")

// goal is a line of the table that says what the measuring is to reach and what it reached.
type goal struct {
	what, goal string
	reached    float64
	in         bool
}

func within(what string, reached, limit float64, unit string) goal {
	return goal{what, fmt.Sprintf("within ±%g %s", limit, unit), reached, math.Abs(reached) <= limit}
}

func below(what string, reached, limit float64, unit string) goal {
	return goal{what, fmt.Sprintf("below %g %s", limit, unit), reached, reached < limit}
}

func between(what string, reached, from, to float64, unit string) goal {
	return goal{what, fmt.Sprintf("%g to %g %s", from, to, unit), reached, reached >= from && reached <= to}
}

func goalsTable(title string, goals []goal) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n%s\n%-52s %-18s %9s\n", title, "", "to be reached", "reached")
	for _, g := range goals {
		mark := "short"
		if g.in {
			mark = "ok"
		}
		fmt.Fprintf(&b, "%-52s %-18s %9s  %s\n", g.what, g.goal, dash("%+.1f", g.reached), mark)
	}
	return b.String()
}

// worstBias is the bias of the kind that is furthest off.
func (a *accuracyTable) worstBias(q int) (worst float64) {
	for _, kind := range a.kinds {
		if s := a.quantities[q].over(kind); s.plugs > 0 && s.sumTrue > 0 && math.Abs(s.bias) > math.Abs(worst) {
			worst = s.bias
		}
	}
	return worst
}

// coverage is the least and the greatest share of truths inside U over the kinds, %.
func (a *accuracyTable) coverage(q int) (least, most float64) {
	least = 100
	for _, kind := range a.kinds {
		if s := a.quantities[q].over(kind); s.plugs > 0 {
			least, most = math.Min(least, s.covered), math.Max(most, s.covered)
		}
	}
	return least, most
}

func (a *accuracyTable) rootGoals() []goal {
	root, brown, length, plug := a.quantities[0].over(""), a.quantities[1].over(""), a.quantities[2].over(""), a.quantities[3].over("")
	least, most := a.coverage(0)
	return []goal{
		within("root area, bias over all", root.bias, 1, "%"), within("root area, worst kind of photo", a.worstBias(0), 4, "%"),
		below("root area of a plug, median error", root.median, 3, "%"), below("root area of a plug, 95th percentile", root.p95, 12, "%"),
		within("brown area, bias over all", brown.bias, 4, "%"), below("brown area of a plug, median error", brown.median, 8, "%"),
		within("length, bias over all", length.bias, 3, "%"), below("length of a plug, median error", length.median, 6, "%"),
		within("plug area, bias over all", plug.bias, 0.5, "%"),
		between("truths of root area inside U, all", root.covered, 93, 97, "%"), between("the same, least kind", least, 93, 97, "%"),
		between("the same, most kind", most, 93, 97, "%"), below("U of root area over the value, median", root.medianU, 10, "%"),
	}
}

func (a *accuracyTable) leafGoals() []goal {
	leaf, yellow, share := a.quantities[0].over(""), a.quantities[1].over(""), a.quantities[2].over("")
	least, most := a.coverage(0)
	return []goal{
		within("leaf area, bias over all", leaf.bias, 0.7, "%"), within("leaf area, worst kind of photo", a.worstBias(0), 2.5, "%"),
		below("leaf area of a plant, median error", leaf.median, 1.5, "%"), within("yellowed area, bias over all", yellow.bias, 4, "%"),
		below("yellowed area of a plant, median error", yellow.median, 10, "%"), below("yellow share, 95 of 100 plants", share.pointsP95, 3, "points"),
		between("truths of leaf area inside U, all", leaf.covered, 93, 97, "%"), between("the same, least kind", least, 93, 97, "%"),
		between("the same, most kind", most, 93, 97, "%"), below("U of leaf area over the value, median", leaf.medianU, 6, "%"),
	}
}

// lineWidths are the widths of lines in mm, lineTurns their directions in degrees; lineGoals is what their area may be off by, %.
var (
	lineWidths = []float64{0.1, 0.2, 0.3, 0.5, 1}
	lineGoals  = []float64{25, 10, 8, 5, 4}
	lineTurns  = []float64{0, 11, 22.5, 34, 45, 56, 67.5, 79}
)

// linesScene is a tray of which five plugs carry lines of the roots' colour, each of one width; the others carry roots, thick and thin. 6 px
// a mm.
func linesScene(turnDeg float64, arcs bool) (s synth.Spec, widthOf map[string]float64) {
	s = synth.Small(card.Roots)
	s.Camera.HeightMM = s.Camera.HeightMM * 6.25 / 6
	s.Seed, s.Photo = uint64(10*turnDeg+1), uint64(10*turnDeg+1)
	s.Plants, widthOf = map[string]synth.Plant{}, map[string]float64{}
	for i, name := range s.Tray.Cells() {
		if i < len(lineWidths) {
			widthOf[name] = lineWidths[i]
			s.Plants[name] = synth.Plant{Plug: true, Lines: linesOf(lineWidths[i], turnDeg, arcs)}
		} else {
			s.Plants[name] = synth.Plant{Plug: true, RootLengthMM: 150 + 60*float64(i)}
		}
	}
	return s, widthOf
}

// linesTable measures lines in all directions, and arcs, and prints area and length by width; it returns the area's mean error by width
// and the worst direction's.
func linesTable(t *testing.T) []goal {
	t.Helper()
	turns := lineTurns
	if !*everything {
		turns = turns[2:4]
	}
	type score struct{ area, length float64 }
	var columns []string
	var all []map[float64]score
	look := func(name string, turn float64, arcs bool) {
		s, widthOf := linesScene(turn, arcs)
		r, truth := measured(t, s, testtray.Plan(s.Tray, 0), true)
		scores := map[float64]score{}
		for _, p := range r.Plugs {
			if w, ok := widthOf[p.Name]; ok {
				c := truth.Cells[p.Name]
				scores[w] = score{100 * (float64(p.RootAreaMM2)/c.Root - 1), 100 * (float64(p.RootLengthMM)/c.Length - 1)}
			}
		}
		columns, all = append(columns, name), append(all, scores)
	}
	for _, turn := range turns {
		look(fmt.Sprintf("%g°", turn), turn, false)
	}
	look("arcs", 100, true)
	var b strings.Builder
	var goals []goal
	for what, of := range map[string]func(score) float64{"area": func(s score) float64 { return s.area }, "length": func(s score) float64 { return s.length }} {
		fmt.Fprintf(&b, "\n%s of lines at 6 px a mm, error in %%\n%10s", what, "mm wide")
		for _, c := range columns {
			fmt.Fprintf(&b, "%8s", c)
		}
		fmt.Fprintf(&b, "%8s\n", "mean")
		for i, w := range lineWidths {
			fmt.Fprintf(&b, "%10.2f", w)
			mean, worst := 0.0, 0.0
			for _, scores := range all {
				v := of(scores[w])
				mean += v / float64(len(all))
				if math.Abs(v) > math.Abs(worst) {
					worst = v
				}
				fmt.Fprintf(&b, "%8s", dash("%+.1f", v))
			}
			fmt.Fprintf(&b, "%8s\n", dash("%+.1f", mean))
			if what == "area" {
				goals = append(goals, within(fmt.Sprintf("lines %g mm wide, area, mean of directions", w), mean, lineGoals[i], "%"),
					within(fmt.Sprintf("lines %g mm wide, area, worst direction", w), worst, lineGoals[i], "%"))
			}
		}
	}
	t.Log(b.String())
	return goals
}

// twelveWays changes camera, light, board and the card's place, but nothing of the tray.
func twelveWays(s synth.Spec, way int) synth.Spec {
	s.Photo = uint64(way)
	turn := float64(way) * 137.5
	tilt := []float64{0, 3, 6, 10, 14, 2, 5, 8, 12, 1, 4, 7}[way]
	farther := (1 + tilt/60) * (1 + 0.04*float64(way%4))
	s.Camera.TiltDeg, s.Camera.TiltTurn, s.Camera.RollDeg = tilt, turn, 180*float64(way%2)+3*float64(way%3)
	s.Camera.HeightMM *= farther
	bigger := []float64{1, 0.9, 1.15}[way%3] * farther
	s.Resize(int(float64(s.Camera.Width)*bigger), int(float64(s.Camera.Height)*bigger))
	warm := []float64{0, 0.1, -0.1, 0.05}[way%4]
	s.Light.Gains = [3]float64{1 + min(0, warm), 1, 1 - max(0, warm)}
	s.Light.Gradient, s.Light.GradientTurn, s.Light.Level = 1+0.05*float64(way), turn, 0.9-0.02*float64(way)
	s.Light.BlurPX = 0.55 + 0.04*float64(way)
	s.Board = synth.Board(way % 3)
	s.CardX, s.CardY, s.CardTurn = 1.5*math.Cos(turn), -1+math.Sin(turn), 0.5*math.Sin(2*turn)
	s.JPEGQuality = 96 - way
	return s
}

// severalWays photographs the same tray in several ways and returns the coefficients of variation of its area and, for roots, of its
// length, in %.
func severalWays(t *testing.T, face card.Face) (areaCV, lengthCV float64) {
	t.Helper()
	ways := 12
	if !*everything {
		ways = 3
	}
	plain := synth.Small(face)
	plain.Seed = 77
	plain.Plants = map[string]synth.Plant{}
	for i, name := range plain.Tray.Cells() {
		plain.Plants[name] = synth.Plant{Plug: true, RootLengthMM: 100 + 60*float64(i), Leaves: 3 + i%3, LeafLengthMM: 12 + float64(i%5), Yellow: 0.1 * float64(i%3)}
	}
	var area, length []float64
	for way := range ways {
		s := twelveWays(plain, way)
		r, truth := measured(t, s, testtray.Plan(s.Tray, 0), true)
		var got, want, long, wantLong float64
		for _, p := range r.Plugs {
			c := truth.Cells[p.Name]
			if v := p.RootAreaMM2; v.Known() {
				got, want, long, wantLong = got+float64(v), want+c.Root, long+float64(p.RootLengthMM), wantLong+c.Length
			}
			if v := p.LeafAreaMM2; v.Known() {
				got, want = got+float64(v), want+c.Leaf
			}
		}
		if want == 0 {
			t.Fatalf("%v, way %d: nothing measured: %+v", face, way, r.Concerns)
		}
		area, length = append(area, got/want), append(length, long/wantLong)
	}
	t.Logf("the same tray's %v area, photographed %d ways, over its truth: %.3f", face, ways, area)
	if face == card.Roots {
		t.Logf("its length: %.3f", length)
	}
	return cvOf(area), cvOf(length)
}

// cvOf is the coefficient of variation in %.
func cvOf(v []float64) float64 {
	var sum, square float64
	for _, x := range v {
		sum, square = sum+x, square+x*x
	}
	n := float64(len(v))
	return 100 * math.Sqrt(max(0, (square-sum*sum/n)/(n-1))) / (sum / n)
}

// savedAgain measures one tray of brown roots at the demonstration's own scale, and then as chat programs, editors and phones would
// pass the same photo on. Each must come within five per cent of the truth or be refused.
func savedAgain(t *testing.T) (goals []goal) {
	t.Helper()
	k := kindOfPhoto{"brown", func(s *synth.Spec) { s.Camera.HeightMM *= 6.25 / 4.2 }, nil}
	for _, kind := range rootKinds {
		if kind.name == "brown" {
			k.grow = kind.grow
		}
	}
	s := k.sceneOf(card.Roots, 0)
	img, drawn, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	truth := drawnTruth(t, drawn)
	for _, as := range []struct {
		name    string
		quality int
		change  func(*image.NRGBA) image.Image
	}{
		{"as drawn", 92, nil}, {"JPEG quality 60", 60, nil},
		{"0.72 of its size", 92, func(m *image.NRGBA) image.Image {
			return imaging.Resize(m, m.Bounds().Dx()*72/100, 0, imaging.Lanczos)
		}},
		{"twice its size", 92, func(m *image.NRGBA) image.Image { return imaging.Resize(m, 2*m.Bounds().Dx(), 0, imaging.CatmullRom) }},
		{"saturation 1.6", 92, func(m *image.NRGBA) image.Image { return imaging.AdjustSaturation(m, 60) }},
	} {
		var picture image.Image = img
		if as.change != nil {
			picture = as.change(img)
		}
		var file bytes.Buffer
		if err := jpeg.Encode(&file, picture, &jpeg.Options{Quality: as.quality}); err != nil {
			t.Fatal(err)
		}
		r := One(file.Bytes(), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
		off := 0.0 // refused
		if !r.Fatal() {
			a := accuracyTable{quantities: rootQuantities()}
			a.add(as.name, as.name, r, truth)
			off = a.quantities[0].over("").bias
		}
		goals = append(goals, within("brown roots at 4.2 px a mm, "+as.name, off, 5, "%"))
	}
	return goals
}

// TestAccuracy prints how far the measuring is from the truth on drawn photos and, last, what is to be reached and what was.
func TestAccuracy(t *testing.T) {
	photos, roots, leaves := photosOf, rootKinds, leafKinds
	if !*everything {
		photos, roots, leaves = 1, []kindOfPhoto{rootKinds[0], rootKinds[4], rootKinds[21]}, []kindOfPhoto{leafKinds[1], leafKinds[4]}
	}
	ours, ourLeaves := &accuracyTable{quantities: rootQuantities()}, &accuracyTable{quantities: leafQuantities()}
	for _, k := range roots {
		readKind(t, k, card.Roots, photos, ours)
	}
	for _, k := range leaves {
		readKind(t, k, card.Shoots, photos, ourLeaves)
	}
	t.Log("photos by the held-out style of drawing (vision/synth), roots" + ours.String())
	t.Log("photos by the held-out style of drawing (vision/synth), leaves" + ourLeaves.String())
	ours.check(t, mostRootBias)
	ourLeaves.check(t, mostLeafBias)
	for _, wrong := range append(ours.trouble, ourLeaves.trouble...) {
		t.Log(wrong)
	}
	made, madeLeaves := &accuracyTable{quantities: rootQuantities()}, &accuracyTable{quantities: leafQuantities()}
	seen := madePhotos(t, made, madeLeaves)
	if seen > 0 {
		t.Log("photos drawn by another program, roots" + made.String())
		t.Log("photos drawn by another program, leaves" + madeLeaves.String())
		made.check(t, mostRootBias)
		madeLeaves.check(t, mostLeafBias)
	}
	goals := linesTable(t)
	cvArea, cvLength := severalWays(t, card.Roots)
	cvLeaf, _ := severalWays(t, card.Shoots)
	goals = append(goals, below("the same tray several ways, CV of root area", cvArea, 1, "%"), below("the same, CV of length", cvLength, 2, "%"),
		below("the same tray several ways, CV of leaf area", cvLeaf, 1, "%"))
	goals = append(goals, savedAgain(t)...)
	t.Log(goalsTable("held-out style, roots", ours.rootGoals()))
	t.Log(goalsTable("held-out style, leaves", ourLeaves.leafGoals()))
	if seen > 0 {
		t.Log(goalsTable("photos drawn by another program, roots", made.rootGoals()))
		t.Log(goalsTable("photos drawn by another program, leaves", madeLeaves.leafGoals()))
	}
	t.Log(goalsTable("lines, and the same tray again", goals))
}

// fiftyTray is a plan for the tray that all the large drawn photos show.
func fiftyTray(leafHeight float64) *plan.Plan { return testtray.Plan(synth.Tray50, leafHeight) }
