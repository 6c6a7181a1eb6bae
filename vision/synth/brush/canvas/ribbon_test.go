package canvas

import (
	"math"
	"testing"

	"traygauge/vision/synth/brush/num"
)

// straight is a ribbon of one width in texels from a place along a direction.
func straight(from, way num.Vec, length, width, step float64) *Ribbon {
	b := &Ribbon{Step: step, Blunt: true, Cut: true}
	for k := 0; float64(k)*step <= length+1e-9; k++ {
		b.Points = append(b.Points, from.Along(way, float64(k)*step))
		b.Half = append(b.Half, float32(width/2))
	}
	return b
}

// layPlain lays a ribbon as a white root without any shading.
func layPlain(p *Painting, b *Ribbon) {
	p.Trace(b, func(i int, t *Touch) { p.LayRoot(i, t.Share(), t.Line, num.RGB{1, 1, 1}, false) })
}

// amounts adds up a drawing's root area in mm² and its line in mm.
func amounts(p *Painting) (white, brown, line float64) {
	for i := range p.White {
		white += float64(p.White[i]) / (PerMM * PerMM)
		brown += float64(p.Brown[i]) / (PerMM * PerMM)
		line += float64(p.Line[i])
	}
	return white, brown, line
}

// A rectangle's area is its length times its width, whatever its angle.
func TestStraightRootHasItsAreaAndLength(t *testing.T) {
	const length = 25.0 // mm
	for _, width := range []float64{0.06, 0.11, 0.35, 0.8, 2} {
		for _, angle := range []float64{0, 0.7, math.Pi / 4, 1.3, -2} {
			p := NewPainting()
			way := num.Toward(angle)
			from := num.At(256.3, 255.6).Along(way, -length*PerMM/2)
			layPlain(p, straight(from, way, length*PerMM, width*PerMM, 2.5))
			area, _, line := amounts(p)
			if math.Abs(area/(length*width)-1) > 0.005 {
				t.Errorf("%.2f mm wide at %.2f rad: area %.4f mm², want %.4f", width, angle, area, length*width)
			}
			if math.Abs(line/length-1) > 0.005 {
				t.Errorf("%.2f mm wide at %.2f rad: length %.3f mm, want %.3f", width, angle, line, length)
			}
			for i, v := range p.Light {
				if math.Abs(float64(v[1]-p.White[i])) > 1e-5 {
					t.Fatalf("texel %d has light %g and share %g", i, v[1], p.White[i])
				}
			}
		}
	}
}

// A ring's area is 2πr times its width (Pappus), and a circle's length 2πr, even where the width is near the radius.
func TestBentRootHasItsAreaAndLength(t *testing.T) {
	for _, c := range []struct{ radius, width float64 }{{8, 0.1}, {4, 0.9}, {1.5, 2}} { // mm
		p := NewPainting()
		const n = 240
		b := &Ribbon{Step: 2 * c.radius * PerMM * math.Sin(math.Pi/n), Blunt: true, Cut: true}
		for k := range n + 1 {
			b.Points = append(b.Points, num.At(256.2, 256.9).Along(num.Toward(2*math.Pi*float64(k)/n), c.radius*PerMM))
			b.Half = append(b.Half, float32(c.width*PerMM/2))
		}
		layPlain(p, b)
		area, _, line := amounts(p)
		if want := 2 * math.Pi * c.radius * c.width; math.Abs(area/want-1) > 0.005 {
			t.Errorf("ring of %.1f mm: area %.4f mm², want %.4f", c.radius, area, want)
		}
		if want := 2 * math.Pi * c.radius; math.Abs(line/want-1) > 0.005 {
			t.Errorf("ring of %.1f mm: length %.4f mm, want %.4f", c.radius, line, want)
		}
	}
}

// Where a root of width w crosses under one of width v at a right angle, v of its length and v·w of its area are hidden.
func TestHiddenPartOfARootCountsForNothing(t *testing.T) {
	const length, w, v, step = 20.0, 0.3, 1.1, 2.5
	for _, angle := range []float64{0.2, 0.9, 2} {
		p := NewPainting()
		way := num.Toward(angle)
		middle := num.At(250.4, 261.7)
		layPlain(p, straight(middle.Along(way, -length*PerMM/2), way, length*PerMM, w*PerMM, step))
		layPlain(p, straight(middle.Along(way.Quarter(), -length*PerMM/2), way.Quarter(), length*PerMM, v*PerMM, step))
		area, _, line := amounts(p)
		if want := length*(w+v) - v*w; math.Abs(area/want-1) > 0.002 {
			t.Errorf("area %.4f mm², want %.4f", area, want)
		}
		if want := 2*length - v; math.Abs(line/want-1) > 0.002 {
			t.Errorf("length %.4f mm, want %.4f", line, want)
		}
	}
}

// A root that crosses its own earlier part hides it, and has no seam where it only bends.
func TestRootThatCrossesItselfIsCountedOnce(t *testing.T) {
	const w, r, n = 0.6, 5.0, 300 // mm, mm, points
	p := NewPainting()
	b := &Ribbon{Step: 2, Blunt: true, Cut: true}
	at, angle := num.At(180, 230), 0.4
	for range n {
		b.Points = append(b.Points, at)
		b.Half = append(b.Half, w*PerMM/2)
		if len(b.Points) > 70 && angle < 0.4+1.5*math.Pi {
			angle += b.Step / (r * PerMM)
		}
		at = at.Along(num.Toward(angle), b.Step)
	}
	layPlain(p, b)
	area, _, line := amounts(p)
	length := float64(n-1) * b.Step / PerMM
	if want := length*w - w*w; math.Abs(area/want-1) > 0.003 {
		t.Errorf("area %.4f mm², want %.4f", area, want)
	}
	if want := length - w; math.Abs(line/want-1) > 0.003 {
		t.Errorf("length %.4f mm, want %.4f", line, want)
	}
}

func BenchmarkMetreOfRoot(b *testing.B) {
	p := NewPainting()
	for b.Loop() {
		for k := range 25 {
			layPlain(p, straight(num.At(20, float64(20+18*k)), num.Toward(0.02), 40*PerMM, 0.3*PerMM, 2.5))
		}
	}
}
