package measure

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"traygauge/measure/testtray"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// kindOfPhoto is one way in which photos differ, by which the accuracy tables are parted.
type kindOfPhoto struct {
	name   string
	change func(s *synth.Spec)
	grow   func(r *rand.Rand) synth.Plant // what grows in a cell
}

// photosOf is how many photos of each kind are drawn: three rows of four plugs each.
const photosOf = 3

// The kinds are drawn by vision/synth, which the networks never saw: they were trained on vision/synth/relief, brush, foliage and
// herbarium, which share no code with it.
var rootKinds = []kindOfPhoto{
	{"easy", nil, usualRoots},
	{"few roots", nil, func(r *rand.Rand) synth.Plant { return rooted(evenly(r, 40, 160), 0) }},
	{"dense", nil, func(r *rand.Rand) synth.Plant { return rooted(evenly(r, 700, 1400), 0) }},
	{"mats", nil, func(r *rand.Rand) synth.Plant { return rooted(evenly(r, 1800, 3600), 0) }},
	{"perlite", func(s *synth.Spec) { s.Perlite = 30 }, usualRoots},
	{"perlite, glints, wet", func(s *synth.Spec) { s.Perlite, s.Wet, s.Drops = 25, true, 4 }, usualRoots},
	{"algae, perlite, soft", func(s *synth.Spec) { s.Perlite, s.Algae, s.Light.BlurPX = 20, 0.2, 1.1 }, usualRoots},
	{"dry medium", func(s *synth.Spec) { s.MediumLight = 2.2 }, usualRoots},
	{"upside down", func(s *synth.Spec) { s.Camera.RollDeg = 180 }, usualRoots},
	{"tilted 18°", func(s *synth.Spec) { s.Camera.TiltDeg, s.Camera.TiltTurn = 18, 70; s.Camera.HeightMM *= 1.15 }, usualRoots},
	{"from far, 4 px/mm", func(s *synth.Spec) { s.Camera.HeightMM *= 6.25 / 4 }, usualRoots},
	{"48 megapixels, soft", func(s *synth.Spec) { s.Resize(2*s.Camera.Width, 2*s.Camera.Height); s.Light.BlurPX = 1.6 }, usualRoots},
	{"shadow of 40 %", func(s *synth.Spec) { s.Light.Shadow = 0.4 }, usualRoots},
	{"shadow of 70 %", func(s *synth.Spec) { s.Light.Shadow = 0.7 }, usualRoots},
	{"underexposed", func(s *synth.Spec) { s.Light.Level = 0.35 }, usualRoots},
	{"overexposed", func(s *synth.Spec) { s.Light.Level = 1.35 }, usualRoots},
	{"warm light", func(s *synth.Spec) { s.Light.Gains = [3]float64{1, 0.88, 0.66} }, usualRoots},
	{"print at 102 %, known", func(s *synth.Spec) { s.PrintScale = 1.02 }, usualRoots},
	{"out of focus", func(s *synth.Spec) { s.Light.DefocusPX = 1.5 }, usualRoots},
	{"moved by 2.5 px", func(s *synth.Spec) { s.Light.MotionPX, s.Light.MotionTurn = 2.5, 25 }, usualRoots},
	{"moved by 5 px", func(s *synth.Spec) { s.Light.MotionPX, s.Light.MotionTurn = 5, 25 }, usualRoots},
	{"brown", nil, func(r *rand.Rand) synth.Plant { return rooted(evenly(r, 150, 600), evenly(r, 0.2, 0.9)) }},
	{"brown, dense, tilted", func(s *synth.Spec) { s.Camera.TiltDeg, s.Camera.TiltTurn = 15, 200; s.Camera.HeightMM *= 1.12 },
		func(r *rand.Rand) synth.Plant { return rooted(evenly(r, 600, 1400), evenly(r, 0.2, 0.9)) }},
	{"tone curve", func(s *synth.Spec) { s.Phone = synth.Phone{Contrast: 0.6, Lift: 3} }, usualRoots},
	{"local tone mapping", func(s *synth.Spec) { s.Phone.LocalTone = 0.6 }, usualRoots},
	{"smoothed and sharpened", func(s *synth.Spec) { s.Phone = synth.Phone{Smoothing: 0.8, Sharpening: 0.8}; s.Light.ShotNoise *= 2 }, usualRoots},
	{"saturation 1.4", func(s *synth.Spec) { s.Phone.Saturation = 1.4 }, brownish},
	{"JPEG quality 60", func(s *synth.Spec) { s.JPEGQuality = 60 }, brownish},
	{"noisy", func(s *synth.Spec) { s.Light.ShotNoise *= 3; s.Light.ReadNoise *= 3 }, usualRoots},
}

var leafKinds = []kindOfPhoto{
	{"seedlings", nil, func(r *rand.Rand) synth.Plant { return leafy(2, evenly(r, 4, 7)) }},
	{"apart", nil, apart},
	{"touching", nil, touching},
	{"closed canopy", nil, func(r *rand.Rand) synth.Plant { return leafy(5+r.IntN(3), evenly(r, 28, 40)) }},
	{"algae", func(s *synth.Spec) { s.Algae = 0.2 }, apart},
	{"yellow leaves", nil, func(r *rand.Rand) synth.Plant {
		p := leafy(4+r.IntN(3), evenly(r, 11, 17))
		p.Yellow = evenly(r, 0, 0.6)
		return p
	}},
	{"yellow between veins", nil, func(r *rand.Rand) synth.Plant {
		p := leafy(4+r.IntN(3), evenly(r, 11, 17))
		p.Interveinal, p.YellowEdge = evenly(r, 0, 0.9), evenly(r, 0, 0.5)
		return p
	}},
	{"yellow, touching", nil, func(r *rand.Rand) synth.Plant {
		p := touching(r)
		p.Yellow = evenly(r, 0, 0.5)
		return p
	}},
	{"dead tips", nil, func(r *rand.Rand) synth.Plant {
		p := leafy(4+r.IntN(3), evenly(r, 11, 17))
		p.BrownTip, p.YellowEdge = evenly(r, 0.2, 0.9), evenly(r, 0, 0.4)
		return p
	}},
	{"yellow, warm light", func(s *synth.Spec) { s.Light.Gains = [3]float64{1, 0.9, 0.7} }, yellowish},
	{"40 mm high", func(s *synth.Spec) { s.LeafHeight = 40; s.Camera.HeightMM *= 1.1 }, apart},
	{"tilted 18°", func(s *synth.Spec) { s.Camera.TiltDeg, s.Camera.TiltTurn = 18, 70; s.Camera.HeightMM *= 1.15 }, apart},
	{"turned 100°", func(s *synth.Spec) { s.Camera.RollDeg = 100; s.Camera.HeightMM *= 1.3 }, apart},
	{"dry medium", func(s *synth.Spec) { s.MediumLight = 2.2 }, apart},
	{"plant labels", func(s *synth.Spec) { s.Sticks = 4 }, apart},
	{"neighbour's leaves", func(s *synth.Spec) { s.NeighbourMM = 18 }, apart},
	{"shadow of 30 %", func(s *synth.Spec) { s.Light.Shadow = 0.3 }, yellowish},
	{"shadow of 60 %", func(s *synth.Spec) { s.Light.Shadow = 0.6 }, yellowish},
	{"shadow of 80 %", func(s *synth.Spec) { s.Light.Shadow = 0.8 }, apart},
	{"half in pink light", func(s *synth.Spec) { s.Light.ShadowGains = [3]float64{1, 0.55, 0.9} }, apart},
	{"soft", func(s *synth.Spec) { s.Light.BlurPX = 1.3 }, apart},
	{"saturation 1.4", func(s *synth.Spec) { s.Phone.Saturation = 1.4 }, yellowish},
	{"tone curve", func(s *synth.Spec) { s.Phone = synth.Phone{Contrast: 0.6, Lift: 3} }, yellowish},
	{"JPEG quality 60", func(s *synth.Spec) { s.JPEGQuality = 60 }, yellowish},
}

func rooted(lengthMM, brown float64) synth.Plant {
	return synth.Plant{Plug: true, RootLengthMM: lengthMM, RootBrown: brown}
}
func usualRoots(r *rand.Rand) synth.Plant { return rooted(evenly(r, 120, 620), 0) }
func brownish(r *rand.Rand) synth.Plant   { return rooted(evenly(r, 120, 620), evenly(r, 0, 0.6)) }
func leafy(n int, lengthMM float64) synth.Plant {
	return synth.Plant{Plug: true, Leaves: n, LeafLengthMM: lengthMM}
}
func apart(r *rand.Rand) synth.Plant    { return leafy(3+r.IntN(3), evenly(r, 9, 16)) }
func touching(r *rand.Rand) synth.Plant { return leafy(4+r.IntN(3), evenly(r, 19, 27)) }
func yellowish(r *rand.Rand) synth.Plant {
	p := apart(r)
	p.Yellow, p.Interveinal = 0.5*r.Float64()*r.Float64(), 0.6*r.Float64()*r.Float64()
	return p
}

// sceneOf is photo number i of a kind: a small tray with an empty cell and a bare plug.
func (k *kindOfPhoto) sceneOf(face card.Face, i int) synth.Spec {
	s := synth.Small(face)
	s.Seed, s.Photo = uint64(7000+i), uint64(i)
	r := rand.New(rand.NewPCG(uint64(i), 0x6b696e64))
	s.MediumLight, s.RootLight, s.TrayLight = evenly(r, 0.8, 1.3), evenly(r, 0.92, 1.08), evenly(r, 0.018, 0.035)
	s.CardX, s.CardY, s.CardTurn = evenly(r, -1.5, 1.5), evenly(r, -1.5, 0.5), evenly(r, -0.5, 0.5)
	s.Plants = map[string]synth.Plant{}
	cells := s.Tray.Cells()
	for _, name := range cells {
		s.Plants[name] = k.grow(r)
	}
	delete(s.Plants, cells[r.IntN(6)])
	s.Plants[cells[6+r.IntN(6)]] = synth.Plant{Plug: true}
	if k.change != nil {
		k.change(&s)
	}
	return s
}

// readKind measures photos of a kind and adds what was found to the table.
func readKind(t *testing.T, k kindOfPhoto, face card.Face, photos int, to *accuracyTable) {
	t.Helper()
	for i := range photos {
		s := k.sceneOf(face, i)
		p := testtray.Plan(s.Tray, s.LeafHeight)
		p.Card.RuleMM = 100 * s.PrintScale
		r, truth := measured(t, s, p, true)
		to.add(fmt.Sprintf("%s %d", k.name, i), k.name, r, truth)
	}
}
