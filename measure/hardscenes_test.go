package measure

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// hardScene is a small tray under conditions drawn at random, what a user's plan would say of it, and by which conditions
// results are separated.
type hardScene struct {
	index       int
	spec        synth.Spec
	plan        *plan.Plan
	namesFocal  bool // the photo's EXIF names the focal length
	pxMM        float64
	density     string
	lineWidthMM map[string]float64 // of the plugs that carry lines instead of roots
}

// hardSceneOf draws the conditions of scene number i, always the same for the same i. They are a plausible mix and not the
// worst of everything at once:
//
//   - even numbers show roots, odd ones shoots; 3 × 4 plugs, one in twelve missing, one in fifteen bare
//   - 4.5 to 8 px a mm; camera 480 to 730 mm up; tilt below 5° in six of ten, below 12° in nine, 20° at most, any way; either
//     way up
//   - blur with a sigma of 0.5 to 1.1 px, in one of four out of focus by a disc of 0.5 to 1.6 px; noise of half to three
//     times an easy photo's; JPEG quality 75 to 96
//   - light 1 : 1 to 1.6 : 1 across the photo, warm to cool by 15 % in red and blue, exposure 0.75 to 0.98 for full white; in
//     one of five a soft shadow of 10 to 35 %, in three of ten up to 15 % less light in the corners
//   - print true to size in seven of ten, else 0.96 to 1.02 and measured with the ruler; the ruler read with a standard
//     deviation of 0.25 mm in 100, which is what the plan says (0.5 mm, k = 2); card laid down up to 2 mm and 0.7° off
//   - left-over lens distortion of k1 = 0 ± 0.01 in half of them, no focal length in one of ten
//   - three boards; tray, medium and roots lighter and darker: medium by factors of 0.6 to 1.8, roots by 0.88 to 1.12
//   - wet in four of ten; perlite none to 25 pieces a plug; drops in one of four; algae in three of ten on up to 20 %
//   - few, usual or many roots (30-200, 100-700, 500-2200 mm a plug); brown ones in half of the photos, up to 80 % a plug;
//     two plugs of each roots photo carry lines of one width, 0.1 to 1 mm, straight or arcs, instead of roots
//   - leaves of 8 to 22 mm, 0 to 50 mm high and the plan right within 8 mm; yellow leaves, yellowing between veins, dead tips;
//     plant labels and a neighbour tray's leaves in one of five each
func hardSceneOf(i int) hardScene {
	r := rand.New(rand.NewPCG(uint64(i), 0x68617264))
	face := card.Roots
	if i%2 == 1 {
		face = card.Shoots
	}
	h := hardScene{index: i, spec: synth.Small(face), namesFocal: !one(r, 10), lineWidthMM: map[string]float64{}}
	s := &h.spec
	s.Seed, s.Photo = uint64(1000+i), uint64(i)
	h.takeCamera(r)
	h.takeLight(r)
	h.takePrint(r)
	h.takeGround(r)
	h.takePlants(r)
	return h
}

func one(r *rand.Rand, of float64) bool { return r.Float64()*of < 1 }

func evenly(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

func logEvenly(r *rand.Rand, low, high float64) float64 { return low * math.Pow(high/low, r.Float64()) }

func (h *hardScene) takeCamera(r *rand.Rand) {
	c := &h.spec.Camera
	switch x := r.Float64(); {
	case x < 0.6:
		c.TiltDeg = evenly(r, 0, 5)
	case x < 0.9:
		c.TiltDeg = evenly(r, 5, 12)
	default:
		c.TiltDeg = evenly(r, 12, 20)
	}
	c.TiltTurn = evenly(r, 0, 360)
	c.RollDeg = 180*float64(r.IntN(2)) + evenly(r, -4, 4)
	usual := synth.Small(h.spec.Face).Camera
	farther := (1 + c.TiltDeg/60) * evenly(r, 1, 1.14) // so that all stays in view
	c.HeightMM = usual.HeightMM * farther
	h.pxMM = logEvenly(r, 4.5, 8)
	bigger := h.pxMM / 6.25 * farther // Small has 6.25 px a mm
	h.spec.Resize(int(float64(usual.Width)*bigger), int(float64(usual.Height)*bigger))
	if one(r, 2) {
		c.K1 = 0.01 * r.NormFloat64()
	}
}

func (h *hardScene) takeLight(r *rand.Rand) {
	l := &h.spec.Light
	l.Level, l.Gradient, l.GradientTurn = evenly(r, 0.75, 0.98), evenly(r, 1, 1.6), evenly(r, 0, 360)
	l.Level /= 1 + (l.Gradient-1)/(l.Gradient+1) // a phone exposes for the brightest
	warm := evenly(r, -0.15, 0.15)
	l.Gains = [3]float64{1 + min(0, warm), 1 - math.Abs(warm)/4, 1 - max(0, warm)}
	if one(r, 5) {
		l.Shadow, l.ShadowTurn = evenly(r, 0.1, 0.35), evenly(r, 0, 360)
	}
	if r.Float64() < 0.3 {
		l.Vignette = evenly(r, 0, 0.15)
	}
	l.BlurPX = evenly(r, 0.5, 1.1)
	if one(r, 4) {
		l.DefocusPX = evenly(r, 0.5, 1.6)
	}
	more := logEvenly(r, 0.5, 3)
	l.ShotNoise, l.ReadNoise = l.ShotNoise*more, l.ReadNoise*more
	h.spec.JPEGQuality = 75 + r.IntN(22)
}

func (h *hardScene) takePrint(r *rand.Rand) {
	s := &h.spec
	if r.Float64() < 0.3 {
		s.PrintScale = evenly(r, 0.96, 1.02)
	}
	s.CardX, s.CardY, s.CardTurn = evenly(r, -2, 2), evenly(r, -2, 0), evenly(r, -0.7, 0.7)
	h.plan = testtray.Plan(s.Tray, 0)
	h.plan.Card = plan.Card{RuleMM: 100*s.PrintScale + 0.25*r.NormFloat64(), RuleU: 0.5}
}

func (h *hardScene) takeGround(r *rand.Rand) {
	s := &h.spec
	s.Board = synth.Board(r.IntN(3))
	s.TrayLight, s.MediumLight = logEvenly(r, 0.014, 0.04), logEvenly(r, 0.6, 1.8)
	s.RootLight = math.Max(0.88, math.Min(1.12, 1+0.06*r.NormFloat64()))
	s.Wet = r.Float64() < 0.4
	switch x := r.Float64(); {
	case x < 0.2:
		s.Perlite = 0
	case x < 0.9:
		s.Perlite = evenly(r, 2, 12)
	default:
		s.Perlite = evenly(r, 12, 25)
	}
	if one(r, 4) {
		s.Drops = evenly(r, 2, 10)
	}
	if r.Float64() < 0.3 {
		s.Algae = evenly(r, 0.02, 0.2)
	}
	if s.Face != card.Shoots {
		return
	}
	if one(r, 5) {
		s.Sticks = 1 + r.IntN(2)
	}
	if one(r, 5) {
		s.NeighbourMM = evenly(r, 8, 25)
	}
	if r.Float64() < 0.6 {
		s.LeafHeight = evenly(r, 5, 50)
		h.plan.Tray.LeafHeightMM = math.Max(0, s.LeafHeight+evenly(r, -8, 8))
	}
}

func (h *hardScene) takePlants(r *rand.Rand) {
	s := &h.spec
	s.Plants = map[string]synth.Plant{}
	low, high := 100.0, 700.0
	switch h.density = "usual"; r.IntN(3) {
	case 0:
		h.density, low, high = "few", 30, 200
	case 1:
		h.density, low, high = "many", 500, 2200
	}
	brown, pale := one(r, 2), one(r, 2)
	grown := evenly(r, 8, 22)
	for _, name := range s.Tray.Cells() {
		x := r.Float64()
		if x < 1.0/12 {
			continue
		}
		p := synth.Plant{Plug: true}
		if x > 1.0/12+1.0/15 {
			p.Leaves, p.LeafLengthMM, p.RootLengthMM = 3+r.IntN(4), grown*evenly(r, 0.75, 1.25), evenly(r, low, high)
			if brown {
				p.RootBrown = 0.8 * r.Float64() * r.Float64()
			}
			if pale {
				p.Yellow = 0.7 * r.Float64() * r.Float64()
				p.Interveinal = max(0, evenly(r, -1, 1))
				p.BrownTip = max(0, evenly(r, -0.8, 0.6))
			}
		}
		s.Plants[name] = p
	}
	if s.Face == card.Roots {
		for _, name := range []string{"A2", "C3"} {
			width := []float64{0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1}[r.IntN(7)]
			h.lineWidthMM[name] = width
			s.Plants[name] = synth.Plant{Plug: true, Lines: linesOf(width, evenly(r, 0, 180), one(r, 3))}
		}
	}
}

// usualRoot is the reflectance of a drawn root of the usual tone, averaged over its round shade.
var usualRoot = [3]float64{0.56, 0.50, 0.39}

// linesOf fills a plug with lines of one width: five straight ones, or arcs.
func linesOf(widthMM, turnDeg float64, arcs bool) (lines []synth.Line) {
	if !arcs {
		lines = synth.Comb(card.Pt{X: 0.3, Y: -0.2}, 18, 4, turnDeg, widthMM, widthMM, widthMM, widthMM, widthMM)
	} else {
		for _, radius := range []float64{3, 6.5, 10} {
			lines = append(lines, synth.Line{Points: synth.Arc(card.Pt{X: 0.3, Y: -0.2}, radius, turnDeg, turnDeg+320), WidthMM: widthMM})
		}
	}
	for i := range lines {
		lines[i].Colour = usualRoot
	}
	return lines
}

// measured draws a scene, writes it as a JPEG and measures that as a user would.
func measured(t *testing.T, spec synth.Spec, p *plan.Plan, namesFocal bool) (reading.Reading, truthFile) {
	t.Helper()
	raw, truth := testtray.JPEG(t, spec, namesFocal)
	return One(raw, time.Time{}, p, reading.Given{}, nil), drawnTruth(t, truth)
}

// drawnTruth is a scene's truth as its file says it.
func drawnTruth(t *testing.T, truth synth.Truth) (drawn truthFile) {
	t.Helper()
	text, err := json.Marshal(truth)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &drawn); err != nil {
		t.Fatal(err)
	}
	return drawn
}

// blurPX is the standard deviation of the scene's spread along one axis: a disc of radius r has r²/4.
func (h *hardScene) blurPX() float64 {
	l := h.spec.Light
	return math.Sqrt(l.BlurPX*l.BlurPX + l.DefocusPX*l.DefocusPX/4)
}

// binned names the bin of a value between limits.
func binned(v float64, limits ...float64) string {
	for i, l := range limits {
		if v < l {
			if i == 0 {
				return fmt.Sprintf("below %g", l)
			}
			return fmt.Sprintf("%g to %g", limits[i-1], l)
		}
	}
	return fmt.Sprintf("%g and more", limits[len(limits)-1])
}

// binnedLabel is a condition that is a number.
func binnedLabel(name string, v float64, limits ...float64) label {
	return label{name, binned(v, limits...), fmt.Sprintf("%.4g", v)}
}

func wordLabel(name, word string) label { return label{name, word, word} }

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// label is one condition by which results are separated.
type label struct{ name, bin, exact string }

// labels are the scene's conditions.
func (h *hardScene) labels() []label {
	s := &h.spec
	l := &s.Light
	warm := l.Gains[0] - l.Gains[2]
	both := []label{
		binnedLabel("px a mm", h.pxMM, 5, 6.5),
		binnedLabel("tilt, degrees", s.Camera.TiltDeg, 5, 12),
		binnedLabel("blur sigma, px", h.blurPX(), 0.7, 1),
		binnedLabel("noise, of easy", l.ShotNoise/synth.Defaults(s.Face).Light.ShotNoise, 0.9, 1.7),
		binnedLabel("JPEG quality", float64(s.JPEGQuality), 82, 90),
		binnedLabel("light's ratio", l.Gradient, 1.2, 1.4),
		wordLabel("shadow", yesNo(l.Shadow > 0)),
		wordLabel("vignette", yesNo(l.Vignette > 0)),
		binnedLabel("light's colour", warm, -0.05, 0.05),
		wordLabel("lens distortion", yesNo(s.Camera.K1 != 0)),
		wordLabel("print true to size", yesNo(s.PrintScale == 1)),
		wordLabel("focal length known", yesNo(h.namesFocal)),
		wordLabel("board", [3]string{"grey", "black cloth", "wood"}[s.Board]),
		binnedLabel("tray's plastic", s.TrayLight, 0.02, 0.03),
		wordLabel("wet", yesNo(s.Wet)),
		binnedLabel("medium's lightness", s.MediumLight, 0.9, 1.3),
		binnedLabel("algae", s.Algae, 0.001, 0.1),
	}
	if s.Face == card.Roots {
		return append(both, binnedLabel("perlite a plug", s.Perlite, 2, 12), wordLabel("drops", yesNo(s.Drops > 0)),
			binnedLabel("roots' lightness", s.RootLight, 0.96, 1.04), wordLabel("roots", h.density))
	}
	return append(both, binnedLabel("leaves, mm high", s.LeafHeight, 1, 25), wordLabel("plant labels", yesNo(s.Sticks > 0)),
		wordLabel("neighbour's leaves", yesNo(s.NeighbourMM > 0)))
}
