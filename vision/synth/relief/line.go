package relief

// lines adds up the mm of centre line that can be seen in each texel: where a root's own tube is on top on its centre line.
func (t *tubes) lines(p *path, number int, line []float32) {
	for i := 0; i+1 < len(p.points); i++ {
		t.segmentLine(&p.points[i], &p.points[i+1], p.lineFrom, number, i, line)
	}
}

func (t *tubes) segmentLine(a, b *point, from float32, number, place int, line []float32) {
	dx, dy := b.x-a.x, b.y-a.y
	long := length(dx, dy)
	pieces := int(long/subEvery) + 1
	part := long / float32(pieces)
	for k := range pieces {
		share := (float32(k) + 0.5) / float32(pieces)
		if mix(a.along, b.along, share) < from {
			continue
		}
		x, y := a.x+float32(dx*share), a.y+float32(dy*share)
		if s := t.on(x, y); s != nil && s.root == int32(number) && s.nearBy(place, long) {
			i, _ := texelAt(x, y)
			line[i] += part
		}
	}
}

// nearBy reports whether a segment is the one at a place in its path or within its own width of that, and not where the root comes
// back and crosses itself.
func (s *segment) nearBy(place int, long float32) bool {
	apart := abs(float32(place - int(s.place)))
	return apart <= 1 || apart*long < float32(2.5*s.a.radius)+0.3
}
