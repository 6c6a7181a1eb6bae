package medium

import (
	"math/rand/v2"
	"testing"

	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// What lies on a root takes its labels away: under the middle of a drop, a grain or a thing from outside nothing is left of it.
func TestWhatLiesOnARootHidesIt(t *testing.T) {
	for name, cover := range map[string]func(s *Setting){
		"drop":  func(s *Setting) { s.drop(num.At(256, 256), 30) },
		"grain": func(s *Setting) { newLump(s.Dice, num.At(256, 256), 30, false).paint(s) },
	} {
		s := NewSetting(num.Dice{Rand: rand.New(rand.NewPCG(1, 17))})
		layRoot(s.Painting)
		at := 256*canvas.Side + 256
		if s.White[at] != 1 {
			t.Fatalf("no root to cover: share %g", s.White[at])
		}
		before := lineOn(s.Painting)
		cover(s)
		if s.White[at] != 0 || s.Line[at] != 0 {
			t.Errorf("%s leaves %g of a root and %g mm of its line", name, s.White[at], s.Line[at])
		}
		if after := lineOn(s.Painting); before-after < 3 || before-after > 8 {
			t.Errorf("%s of 5 mm hides %.2f mm", name, before-after)
		}
	}
}

// layRoot lays a white root of 25 mm, 1.5 mm wide, across the middle.
func layRoot(p *canvas.Painting) {
	b := &canvas.Ribbon{Step: 2.5, Blunt: true, Cut: true}
	for k := range 121 {
		b.Points = append(b.Points, num.At(100+2.5*float64(k), 256))
		b.Half = append(b.Half, 1.5*canvas.PerMM/2)
	}
	p.Trace(b, func(i int, t *canvas.Touch) { p.LayRoot(i, t.Share(), t.Line, num.RGB{1, 1, 1}, false) })
}

// lineOn adds up the centre lines to be seen, mm.
func lineOn(p *canvas.Painting) (line float64) {
	for _, mm := range p.Line {
		line += float64(mm)
	}
	return line
}
