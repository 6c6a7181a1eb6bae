package demo

import (
	"fmt"
	"math/rand/v2"
	"time"

	"traygauge/measure/plan"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// shot is one photo of the trial.
type shot struct {
	name  string // below photos/, with "/"
	face  card.Face
	tray  int
	day   int
	taken time.Time
	plan  *plan.Plan
}

// The photos that went wrong, so that their verdicts can be seen.
var (
	blurred     = trayOn{tray: 2, day: 21, face: card.Roots}
	withoutCard = trayOn{tray: 5, day: 21, face: card.Shoots}
)

type trayOn struct {
	tray, day int
	face      card.Face
}

// shotsOf lists the photos: every tray from below and from above on each review day, two minutes a tray from nine o'clock.
func shotsOf(p *plan.Plan) []shot {
	var shots []shot
	for _, day := range p.ReviewDays {
		nine := p.DateOf(day).Add(9 * time.Hour)
		for i, t := range p.Trays {
			for j, face := range []card.Face{card.Roots, card.Shoots} {
				shots = append(shots, shot{
					name: fmt.Sprintf("day-%d/tray-%02d-%v.jpg", day, t.Number, face), face: face, tray: t.Number, day: day,
					taken: nine.Add(time.Duration(2*i)*time.Minute + time.Duration(40*j)*time.Second), plan: p,
				})
			}
		}
	}
	return shots
}

// spec lays the scene: the tray as it has grown by that day, as a hand-held phone over a table sees it.
func (s shot) spec() synth.Spec {
	spec := synth.Defaults(s.face)
	shape := s.plan.Tray
	spec.Tray = synth.Tray{
		Rows: shape.Rows, Columns: shape.Columns, LengthMM: shape.LengthMM, WidthMM: shape.WidthMM, PitchMM: shape.PitchMM,
		FirstU: shape.FirstU, FirstV: shape.FirstV, PlugBottomMM: shape.PlugBottomMM,
	}
	spec.Number = s.tray
	spec.Seed = uint64(s.tray)
	spec.Photo = uint64(1000*s.day + 10*s.tray + int(s.face))
	spec.Plants = plantsOn(s.plan, s.tray, s.day)
	if s.face == card.Shoots {
		spec.LeafHeight, _ = shape.LeafHeightOn(s.day)
	}
	spec.PrintScale = s.plan.Card.RuleMM / card.RulerLength
	spec.JPEGQuality = 90
	s.byHand(&spec)
	switch (trayOn{s.tray, s.day, s.face}) {
	case blurred:
		spec.Light.BlurPX = 2.1
	case withoutCard:
		spec.Card = false
	}
	return spec
}

// byHand gives the photo the small differences that no two photos are without.
func (s shot) byHand(spec *synth.Spec) {
	r := rand.New(rand.NewPCG(spec.Photo, 0x70686f746f))
	about := func(middle, reach float64) float64 { return middle + reach*(2*r.Float64()-1) }
	spec.Camera.HeightMM = about(490, 12) + spec.LeafHeight
	spec.Camera.TiltDeg = about(3, 3)
	spec.Camera.TiltTurn = about(180, 180)
	spec.Camera.RollDeg = about(0, 3)
	spec.Camera.AimX, spec.Camera.AimY = about(0, 8), about(0, 8)
	spec.CardX, spec.CardY = about(0, 1.5), about(0, 0.8)
	spec.CardTurn = about(0, 0.4)
	spec.TagTurn = about(0, 8)
	spec.Light.Level = about(0.9, 0.05)
	spec.Light.Gradient = about(1.15, 0.1)
	spec.Light.GradientTurn = about(200, 30)
	spec.Light.Gains = [3]float64{about(1.03, 0.03), 1, about(0.95, 0.03)}
}
