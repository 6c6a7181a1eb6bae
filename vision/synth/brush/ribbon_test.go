package brush

import (
	"math"
	"testing"
)

// straight is a ribbon of one width in texels from a place along a direction.
func straight(from, way vec, length, width, step float64) *ribbon {
	b := &ribbon{step: step, blunt: true, cut: true}
	for k := 0; float64(k)*step <= length+1e-9; k++ {
		b.points = append(b.points, from.along(way, float64(k)*step))
		b.half = append(b.half, float32(width/2))
	}
	return b
}

// layPlain lays a ribbon as a white root without any shading.
func layPlain(p *painting, b *ribbon) {
	p.trace(b, func(i int, t *touch) { p.layRoot(i, t.share(), t.line, rgb{1, 1, 1}, false) })
}

// amounts adds up a drawing's root area in mm² and its line in mm.
func amounts(p *painting) (white, brown, line float64) {
	for i := range p.White {
		white += float64(p.White[i]) / (perMM * perMM)
		brown += float64(p.Brown[i]) / (perMM * perMM)
		line += float64(p.Line[i])
	}
	return white, brown, line
}

// A rectangle's area is its length times its width, whatever its angle.
func TestStraightRootHasItsAreaAndLength(t *testing.T) {
	const length = 25.0 // mm
	for _, width := range []float64{0.06, 0.11, 0.35, 0.8, 2} {
		for _, angle := range []float64{0, 0.7, math.Pi / 4, 1.3, -2} {
			p := newPainting()
			way := toward(angle)
			from := vec{256.3, 255.6}.along(way, -length*perMM/2)
			layPlain(p, straight(from, way, length*perMM, width*perMM, 2.5))
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
		p := newPainting()
		const n = 240
		b := &ribbon{step: 2 * c.radius * perMM * math.Sin(math.Pi/n), blunt: true, cut: true}
		for k := range n + 1 {
			b.points = append(b.points, vec{256.2, 256.9}.along(toward(2*math.Pi*float64(k)/n), c.radius*perMM))
			b.half = append(b.half, float32(c.width*perMM/2))
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
		p := newPainting()
		way := toward(angle)
		middle := vec{250.4, 261.7}
		layPlain(p, straight(middle.along(way, -length*perMM/2), way, length*perMM, w*perMM, step))
		layPlain(p, straight(middle.along(way.quarter(), -length*perMM/2), way.quarter(), length*perMM, v*perMM, step))
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
	p := newPainting()
	b := &ribbon{step: 2, blunt: true, cut: true}
	at, angle := vec{180, 230}, 0.4
	for range n {
		b.points = append(b.points, at)
		b.half = append(b.half, w*perMM/2)
		if len(b.points) > 70 && angle < 0.4+1.5*math.Pi {
			angle += b.step / (r * perMM)
		}
		at = at.along(toward(angle), b.step)
	}
	layPlain(p, b)
	area, _, line := amounts(p)
	length := float64(n-1) * b.step / perMM
	if want := length*w - w*w; math.Abs(area/want-1) > 0.003 {
		t.Errorf("area %.4f mm², want %.4f", area, want)
	}
	if want := length - w; math.Abs(line/want-1) > 0.003 {
		t.Errorf("length %.4f mm, want %.4f", line, want)
	}
}

func BenchmarkMetreOfRoot(b *testing.B) {
	p := newPainting()
	for b.Loop() {
		for k := range 25 {
			layPlain(p, straight(vec{20, float64(20 + 18*k)}, toward(0.02), 40*perMM, 0.3*perMM, 2.5))
		}
	}
}
