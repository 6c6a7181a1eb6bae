package medium

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// fibre is a strand of coir, straw or wood: it breaks and kinks where a root would bend, and keeps its width where a root tapers.
type fibre struct {
	canvas.Ribbon
	colour num.RGB
	sunk   []float32
	flat   float32
	shadow float32
	tone   [2]int
}

// newFibre draws a strand that starts at a place and is buried up to `deepest` at its start, where 1 is out of sight; length and width in mm.
func newFibre(d num.Dice, from num.Vec, length, width float64, deepest float32, colour num.RGB) *fibre {
	step := max(1.6, float64(0.6*width*canvas.PerMM))
	f := &fibre{Ribbon: canvas.Ribbon{Step: step, Points: []num.Vec{from}, Blunt: true, Cut: true}, colour: colour,
		flat: d.Between32(0, 0.9), shadow: d.Between32(0.1, 0.6), tone: [2]int{d.IntN(canvas.Side), d.IntN(canvas.Side)}}
	way := d.Direction()
	kink, sway, curl := d.Ratio(0.08, 0.6), float64(d.Between(0, 0.05)), 0.0
	if d.Chance(0.4) { // coir curls where straw breaks
		kink, curl = 0.3*kink, float64(d.Between(-0.8, 0.8)*step/canvas.PerMM)
	}
	left := d.Ratio(0.5, 3)
	half := float32(width * canvas.PerMM / 2)
	sunk, level := d.Between32(0, deepest), d.Between32(0, 0.6*deepest)
	f.Half, f.sunk = append(f.Half, half), append(f.sunk, sunk)
	for n := int(length*canvas.PerMM/step) + 1; n > 0; n-- {
		left -= step / canvas.PerMM
		turn := float64(sway*d.Normal()) + curl
		if left < 0 {
			turn, left = float64(kink*d.Normal()), d.Ratio(0.5, 4)
			curl *= d.Between(-0.6, 1.4)
			sunk = level + d.Between32(-0.2, 0.5)
		}
		way = way.Turned(max(-1.2, min(1.2, turn)))
		from = from.Along(way, step)
		f.Points = append(f.Points, from)
		f.Half = append(f.Half, float32(half*d.Between32(0.85, 1.1)))
		f.sunk = append(f.sunk, sunk)
	}
	return f
}

// paint lays the strand and its shadow.
func (f *fibre) paint(s *Setting) {
	s.CastRibbon(&f.Ribbon, &canvas.Shadow{Depth: f.shadow, Lift: 0.8, Bury: f.sunk, Gone: nil}, &s.Lamp)
	s.Trace(&f.Ribbon, func(i int, t *canvas.Touch) {
		k := min(int(t.Along/float32(f.Step)), len(f.sunk)-1)
		share := t.Share()
		if f.sunk[k] > 0.15 {
			share = float32(share * num.Ease(-0.1, 0.1, 1.1-float32(1.2*f.sunk[k])-s.Ground.Cover[i]))
		}
		share = float32(share * num.Within01(s.Ground.Inside[i]+4))
		if share <= 0 {
			return
		}
		u := float32(min(1, max(-1, t.Off/t.Half)) * (1 - f.flat))
		nx, ny := float32(t.Nx*u), float32(t.Ny*u)
		shade := s.Lamp.On(nx, ny, num.Sqrt32(max(0.05, 1-float32(u*u))))
		grain := s.Grain.At(float32(0.2*t.Along)+float32(f.tone[0]), float32(0.9*t.Off)+float32(f.tone[1]))
		s.Lay(i, share, num.Times(f.colour, float32(shade*max(0.3, 0.9+float32(0.25*grain)))))
	})
}
