package measure

import (
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"traygauge/vision/card"
	"traygauge/vision/scene"
)

// Without it the tests draw a few of each kind of scene; make accuracy draws them all.
var everything = flag.Bool("everything", false, "draw and measure all scenes of the accuracy tables")

// goal is a line of the table that says what the measuring is to reach and what it reached.
type goal struct {
	what, goal string
	limits     [2]float64 // reached from … to
	own, made  []float64  // what was reached, one a photo or one in all
	show       string     // how to print a figure
}

func upTo(most float64) [2]float64 { return [2]float64{-most, most} }

// reached tells the worst, how many of them are within the goal, and whether all are.
func (g *goal) reached(values []float64) string {
	if len(values) == 0 {
		return "-"
	}
	middle := (g.limits[0] + g.limits[1]) / 2
	worst, in := values[0], 0
	for _, v := range values {
		if math.Abs(v-middle) > math.Abs(worst-middle) {
			worst = v
		}
		if v >= g.limits[0] && v <= g.limits[1] {
			in++
		}
	}
	words := fmt.Sprintf(g.show, worst)
	if len(values) > 1 {
		words = fmt.Sprintf("%s at worst, %d of %d", words, in, len(values))
	}
	if in == len(values) {
		return words + " ok"
	}
	return words + " SHORT"
}

// goals is the table, in its order.
type goals struct {
	easy, hard, rootMedian, thin, lineLength, leafBias, leafMedian, yellow, cvRoots, cvShoots, covers, empties goal
}

func newGoals() *goals {
	const signed = "%+.1f %%"
	return &goals{
		easy:       goal{what: "root area over a photo, easy", goal: "within 1 %", limits: upTo(1), show: signed},
		hard:       goal{what: "root area over a photo, hard", goal: "within 2 %", limits: upTo(2), show: signed},
		rootMedian: goal{what: "root area of a plug, median |error|", goal: "below 3 %", limits: upTo(3), show: "%.1f %%"},
		thin:       goal{what: "lines 0.2 mm wide at 6 px a mm, area", goal: "within 3 %", limits: upTo(3), show: signed},
		lineLength: goal{what: "length of lines 0.1 to 1 mm wide", goal: "within 3 %", limits: upTo(3), show: signed},
		leafBias:   goal{what: "leaf area over a photo", goal: "within 1 %", limits: upTo(1), show: signed},
		leafMedian: goal{what: "leaf area of a plant, median |error|", goal: "below 2 %", limits: upTo(2), show: "%.1f %%"},
		yellow:     goal{what: "chlorotic share, 95 of 100 plants", goal: "within 3 points", limits: upTo(3), show: "%.1f"},
		cvRoots:    goal{what: "tray's root area, twelve photos, CV", goal: "below 1 %", limits: upTo(1), show: "%.2f %%"},
		cvShoots:   goal{what: "tray's leaf area, twelve photos, CV", goal: "below 1 %", limits: upTo(1), show: "%.2f %%"},
		covers:     goal{what: "truths inside U, by photo", goal: "93 to 98 %", limits: [2]float64{93, 98}, show: "%.0f %%"},
		empties:    goal{what: "empty plugs found", goal: "all", limits: [2]float64{100, 100}, show: "%.0f %%"},
	}
}

// take adds the scores of a photo to own scenes' or made photos' column.
func (g *goals) take(s *photoScore, hard, made bool) {
	add := func(to *goal, v float64) {
		if math.IsNaN(v) {
			return
		}
		if made {
			to.made = append(to.made, v)
		} else {
			to.own = append(to.own, v)
		}
	}
	if s.roots.truth > 0 {
		bias := &g.easy
		if hard {
			bias = &g.hard
		}
		add(bias, s.roots.bias())
		add(&g.rootMedian, quantileOf(s.roots.errs, 0.5))
	}
	if s.leaf.truth > 0 {
		add(&g.leafBias, s.leaf.bias())
		add(&g.leafMedian, quantileOf(s.leaf.errs, 0.5))
		add(&g.yellow, quantileOf(s.yellow, 0.95))
	}
	add(&g.covers, 100*float64(s.inside)/float64(max(1, s.of)))
	if s.emptiesTrue > 0 {
		add(&g.empties, 100*float64(s.emptiesFound)/float64(s.emptiesTrue))
	}
}

func (g *goals) String() string {
	var b strings.Builder
	const row = "%-40s %-16s %-34s %s\n"
	fmt.Fprintf(&b, "\n"+row, "what", "goal", "own scenes", "photos drawn by another program")
	for _, line := range []*goal{&g.easy, &g.hard, &g.rootMedian, &g.thin, &g.lineLength, &g.leafBias, &g.leafMedian, &g.yellow,
		&g.cvRoots, &g.cvShoots, &g.covers, &g.empties} {
		fmt.Fprintf(&b, row, line.what, line.goal, line.reached(line.own), line.reached(line.made))
	}
	b.WriteString("time and memory: make bench; U by quantity over hundreds of photos: make calibrate\n")
	return b.String()
}

// lineWidths are the widths of lines in mm, lineTurns their directions in degrees.
var (
	lineWidths = []float64{0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1}
	lineTurns  = []float64{0, 11, 22.5, 34, 45, 56, 67.5, 79}
)

// barePlug is the plug of linesScene without any root.
const barePlug = "C4"

// linesScene is a tray of which seven plugs carry lines, each of one width, the last is bare, and the others carry roots, so that
// the photo shows what root looks like. 6 px a mm.
func linesScene(turnDeg float64, arcs bool) (s scene.Spec, widthOf map[string]float64) {
	s = scene.Small(card.Roots)
	s.Camera.HeightMM = s.Camera.HeightMM * 6.25 / 6
	s.Seed, s.Photo = uint64(10*turnDeg+1), uint64(10*turnDeg+1)
	s.Plants, widthOf = map[string]scene.Plant{}, map[string]float64{}
	for i, name := range s.Tray.Cells() {
		if i < len(lineWidths) {
			widthOf[name] = lineWidths[i]
			s.Plants[name] = scene.Plant{Plug: true, Lines: linesOf(lineWidths[i], turnDeg, arcs)}
		} else {
			s.Plants[name] = scene.Plant{Plug: true, RootLengthMM: 150 + 60*float64(i)}
		}
	}
	s.Plants[barePlug] = scene.Plant{Plug: true}
	return s, widthOf
}

// lineScore is what was found of the lines of one width in one direction, in %.
type lineScore struct{ area, length, width float64 }

// measureLines measures lines of all widths in one direction, and returns also the root area in mm² that a bare plug is said to
// have.
func measureLines(t *testing.T, turnDeg float64, arcs bool) (scores map[float64]lineScore, stray float64) {
	t.Helper()
	s, widthOf := linesScene(turnDeg, arcs)
	r, truth := measured(t, s, planFor(s.Tray, 0), true)
	scores = map[float64]lineScore{}
	for _, p := range r.Plugs {
		if p.Name == barePlug {
			stray = float64(p.RootAreaMM2)
		}
		w, ok := widthOf[p.Name]
		if !ok {
			continue
		}
		c := truth.Cells[p.Name]
		area, length := float64(p.RootAreaMM2)/c.Root, float64(p.RootLengthMM)/c.Length
		score := lineScore{100 * (area - 1), 100 * (length - 1), math.NaN()}
		if length > 0 {
			score.width = 100 * (area/length - 1)
		}
		scores[w] = score
	}
	if len(scores) != len(lineWidths) {
		t.Fatalf("lines turned by %g°: %d of %d plugs measured: %+v", turnDeg, len(scores), len(lineWidths), r.Concerns)
	}
	return scores, stray
}

// The lines must not be off by more than this in %, on the mean of all directions; the goals are closer.
const (
	mostLineArea   = 40.0
	mostLineLength = 60.0
	fairWidthMM    = 0.2 // of lines from here on; thinner ones are printed
)

// linesTable measures lines in all directions, and arcs, and prints area, length and width by width.
func linesTable(t *testing.T, g *goals) {
	turns := lineTurns
	if !*everything {
		turns = []float64{22.5, 45}
	}
	var columns []string
	var all []map[float64]lineScore
	var strays []string
	look := func(name string, turn float64, arcs bool) {
		scores, stray := measureLines(t, turn, arcs)
		columns, all, strays = append(columns, name), append(all, scores), append(strays, fmt.Sprintf("%.1f", stray))
	}
	for _, turn := range turns {
		look(fmt.Sprintf("%g°", turn), turn, false)
	}
	look("arcs", 100, true)
	var b strings.Builder
	print := func(what string, of func(lineScore) float64) map[float64]float64 {
		mean := map[float64]float64{}
		fmt.Fprintf(&b, "\n%s of lines at 6 px a mm, error in %%\n%10s", what, "mm wide")
		for _, c := range columns {
			fmt.Fprintf(&b, "%8s", c)
		}
		fmt.Fprintf(&b, "%8s\n", "mean")
		for _, w := range lineWidths {
			fmt.Fprintf(&b, "%10.2f", w)
			for _, scores := range all {
				v := of(scores[w])
				mean[w] += v / float64(len(all))
				fmt.Fprintf(&b, "%8s", dash("%+.1f", v))
			}
			fmt.Fprintf(&b, "%8s\n", dash("%+.1f", mean[w]))
		}
		return mean
	}
	area := print("area", func(s lineScore) float64 { return s.area })
	length := print("length", func(s lineScore) float64 { return s.length })
	print("mean width, which is area over length,", func(s lineScore) float64 { return s.width })
	fmt.Fprintf(&b, "\nroot on a bare plug in the same photos, mm²: %s; the lines have 9 to 90\n", strings.Join(strays, ", "))
	t.Log(b.String())
	g.thin.own = append(g.thin.own, area[0.2])
	for _, w := range lineWidths {
		for _, scores := range all {
			g.lineLength.own = append(g.lineLength.own, scores[w].length)
		}
		if w >= fairWidthMM && (math.Abs(area[w]) > mostLineArea || math.Abs(length[w]) > mostLineLength) {
			t.Errorf("lines %g mm wide: area off by %+.1f %%, length by %+.1f %%", w, area[w], length[w])
		}
	}
}

// twelveWays changes camera, light, board and the card's place, but nothing of the tray.
func twelveWays(s scene.Spec, way int) scene.Spec {
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
	s.Board = scene.Board(way % 3)
	s.CardX, s.CardY, s.CardTurn = 1.5*math.Cos(turn), -1+math.Sin(turn), 0.5*math.Sin(2*turn)
	s.JPEGQuality = 96 - way
	return s
}

// The same tray's area must not vary by more than this from photo to photo, as a coefficient of variation in %; the goal is 1.
const mostCV = 6.0

// cvOf photographs the same tray in several ways and returns the coefficient of variation of its area in %.
func cvOf(t *testing.T, face card.Face) float64 {
	t.Helper()
	ways := 12
	if !*everything {
		ways = 3
	}
	plain := scene.Small(face)
	plain.Seed = 77
	plain.Plants = map[string]scene.Plant{}
	for i, name := range plain.Tray.Cells() {
		plain.Plants[name] = scene.Plant{Plug: true, RootLengthMM: 100 + 60*float64(i), Leaves: 3 + i%3, LeafLengthMM: 12 + float64(i%5), Yellow: 0.1 * float64(i%3)}
	}
	var sum, square float64
	var b strings.Builder
	fmt.Fprintf(&b, "\nthe same tray's %s area, photographed %d ways, over its truth:", face, ways)
	for way := range ways {
		s := twelveWays(plain, way)
		r, truth := measured(t, s, planFor(s.Tray, 0), true)
		var got, want float64
		for _, p := range r.Plugs {
			c := truth.Cells[p.Name]
			if v := p.RootAreaMM2; v.Known() {
				got, want = got+float64(v), want+c.Root
			}
			if v := p.LeafAreaMM2; v.Known() {
				got, want = got+float64(v), want+c.Leaf
			}
		}
		if want == 0 {
			t.Fatalf("%v, way %d: nothing measured: %+v", face, way, r.Concerns)
		}
		fmt.Fprintf(&b, " %.3f", got/want)
		sum, square = sum+got/want, square+(got/want)*(got/want)
	}
	n := float64(ways)
	cv := 100 * math.Sqrt(max(0, (square-sum*sum/n)/(n-1))) / (sum / n)
	fmt.Fprintf(&b, "; CV %.2f %%", cv)
	t.Log(b.String())
	if cv > mostCV {
		t.Errorf("%v: the same tray's area varies by %.1f %%", face, cv)
	}
	return cv
}

// TestAccuracy prints how far the measuring is from the truth on drawn photos and, last, what is to be reached and what was.
func TestAccuracy(t *testing.T) {
	g := newGoals()
	t.Run("photos drawn by another program", func(t *testing.T) { madePhotos(t, g) })
	t.Run("our own scenes", func(t *testing.T) { ownScenes(t, g) })
	t.Run("lines", func(t *testing.T) { linesTable(t, g) })
	t.Run("the same tray several ways", func(t *testing.T) {
		g.cvRoots.own = append(g.cvRoots.own, cvOf(t, card.Roots))
		if *everything {
			g.cvShoots.own = append(g.cvShoots.own, cvOf(t, card.Shoots))
		}
	})
	t.Log(g.String())
}
