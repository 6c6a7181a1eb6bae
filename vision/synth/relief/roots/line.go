package roots

import "traygauge/vision/synth/relief/num"

// Lines adds up the mm of centre line that can be seen in each texel: where a root's own tube is on top on its centre line.
func (t *Tubes) Lines(paths []Path, line []float32) {
	for i := range paths {
		t.line(&paths[i], i, line)
	}
}

func (t *Tubes) line(p *Path, number int, line []float32) {
	for i := 0; i+1 < len(p.Points); i++ {
		t.segmentLine(&p.Points[i], &p.Points[i+1], p.lineFrom, number, i, line)
	}
}

func (t *Tubes) segmentLine(a, b *Point, from float32, number, place int, line []float32) {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := num.Length(dx, dy)
	pieces := int(long/SubEvery) + 1
	part := long / float32(pieces)
	for k := range pieces {
		share := (float32(k) + 0.5) / float32(pieces)
		if num.Mix(a.Along, b.Along, share) < from {
			continue
		}
		x, y := a.X+float32(dx*share), a.Y+float32(dy*share)
		if s := t.on(x, y); s != nil && s.Root == int32(number) && s.nearBy(place, long) {
			i, _ := texelAt(x, y)
			line[i] += part
		}
	}
}

// nearBy reports whether a segment is the one at a place in its path or within its own width of that, and not where the root comes
// back and crosses itself.
func (s *Segment) nearBy(place int, long float32) bool {
	apart := num.Abs(float32(place - int(s.place)))
	return apart <= 1 || apart*long < float32(2.5*s.A.Radius)+0.3
}
