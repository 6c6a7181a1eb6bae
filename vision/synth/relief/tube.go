package relief

const (
	sub      = 4           // samples along a texel's side that tell roots from the rest
	subs     = sub * sub   // and in all
	texel    = 1.0 / perMM // mm
	subEvery = texel / sub // mm from sample to sample
)

// tubes are the drawing's roots, laid as tapering tubes.
type tubes struct {
	blocks   []*block // each texel's, nil for a texel without roots
	free     []block  // blocks not yet in use
	segments []segment
	flat     float32 // a root's height as a share of its width
}

// block is one texel's samples, row by row: the height of what is on top, and which segment that is (-1 for what the relief shows).
type block struct {
	z       [subs]float32
	segment [subs]int32
}

// segment is the tube between two points of a path.
type segment struct {
	a, b   *point
	alongX float32 // unit vector from a to b
	alongY float32
	long   float32 // mm
	slope  float32 // mm by which the half width grows a mm
	rise   float32 // mm by which the axis rises a mm
	root   int32   // which root it is of
	place  int32   // the index of a in its path
	endA   float32 // mm by which its round end reaches beyond a and b; 0 for a blunt one
	endB   float32 //
}

// newTubes has room for so many segments.
func newTubes(flat float32, segments int) *tubes {
	return &tubes{blocks: make([]*block, side*side), segments: make([]segment, 0, segments), flat: flat}
}

// lay puts a root's tube on the relief, hidden where the relief or another root is higher.
func (t *tubes) lay(p *path, number int, f *relief) {
	last := len(p.points) - 1
	first := len(t.segments)
	for i := range last {
		t.segments = append(t.segments, newSegment(&p.points[i], &p.points[i+1], number, i))
	}
	made := t.segments[first:]
	for i := 1; i < len(made); i++ {
		bend := abs(float32(made[i-1].alongX*made[i].alongY) - float32(made[i-1].alongY*made[i].alongX))
		reach := min(1, bend+0.05)
		made[i-1].endB, made[i].endA = reach*made[i].a.radius, reach*made[i].a.radius
	}
	made[0].endA, made[len(made)-1].endB = p.points[0].radius, p.points[last].radius
	if p.cutBase {
		made[0].endA = 0
	}
	if p.cutTip {
		made[len(made)-1].endB = 0
	}
	for i := range made {
		t.raster(int32(first+i), f)
	}
}

func newSegment(a, b *point, root, place int) segment {
	s := segment{a: a, b: b, root: int32(root), place: int32(place)}
	s.long = max(length(b.x-a.x, b.y-a.y), 1e-5)
	s.alongX, s.alongY = (b.x-a.x)/s.long, (b.y-a.y)/s.long
	s.slope, s.rise = (b.radius-a.radius)/s.long, (b.z-a.z)/s.long
	return s
}

// raster goes through the rows of samples that a segment may touch, and in each through those near enough to its axis.
func (t *tubes) raster(number int32, f *relief) {
	s := &t.segments[number]
	r := max(s.a.radius, s.b.radius)
	y0 := max(0, int((min(s.a.y, s.b.y)-r)/subEvery))
	y1 := min(side*sub-1, int((max(s.a.y, s.b.y)+r)/subEvery))
	for y := y0; y <= y1; y++ {
		py := float32((float32(y)+0.5)*subEvery) - s.a.y
		low, high := s.reach(py, r)
		x0 := max(0, int((low+s.a.x)/subEvery))
		x1 := min(side*sub-1, int((high+s.a.x)/subEvery))
		if x0 <= x1 {
			t.scan(s, number, x0, x1, y, f)
		}
	}
}

// reach is the range of x, in mm from a, in which a row at y, in mm from a, lies within r of the segment's axis and between its ends.
func (s *segment) reach(y, r float32) (low, high float32) {
	low, high = min(0, s.b.x-s.a.x)-r, max(0, s.b.x-s.a.x)+r
	const level = 0.01 // of a slope, below which a row runs along or across the segment and its whole range is taken
	if abs(s.alongY) > level {
		a, b := (float32(y*s.alongX)-r)/s.alongY, (float32(y*s.alongX)+r)/s.alongY
		low, high = max(low, min(a, b)), min(high, max(a, b))
	}
	if abs(s.alongX) > level {
		a, b := (-s.endA-float32(y*s.alongY))/s.alongX, (s.long+s.endB-float32(y*s.alongY))/s.alongX
		low, high = max(low, min(a, b)), min(high, max(a, b))
	}
	return low, high
}

// scan lays a segment's samples from x0 to x1 in one row.
func (t *tubes) scan(s *segment, number int32, x0, x1, y int, f *relief) {
	px, py := float32((float32(x0)+0.5)*subEvery)-s.a.x, float32((float32(y)+0.5)*subEvery)-s.a.y
	along, aside := dot(px, py, s.alongX, s.alongY), float32(px*s.alongY)-float32(py*s.alongX)
	stepAlong, stepAside := float32(s.alongX*subEvery), float32(s.alongY*subEvery)
	low, high, radius, axis := -s.endA, s.long+s.endB, s.a.radius, s.a.z
	row := t.blocks[y/sub*side : (y/sub+1)*side]
	for x := x0; x <= x1; x++ {
		on := min(max(along, 0), s.long)
		r, past := radius+float32(s.slope*on), along-on
		q := float32(r*r) - float32(aside*aside) - float32(past*past)
		if q > 0 && along >= low && along <= high {
			b := row[x/sub]
			if b == nil {
				b = t.open(x/sub, y/sub, f)
			}
			k := y%sub*sub + x%sub
			if z := axis + float32(s.rise*on) + float32(t.flat*sqrt(q)); z > b.z[k] {
				b.z[k], b.segment[k] = z, number
			}
		}
		along += stepAlong
		aside += stepAside
	}
}

// open makes a texel's block, filled with what the relief shows there.
func (t *tubes) open(x, y int, f *relief) *block {
	if len(t.free) == 0 {
		t.free = make([]block, 2048)
	}
	b := &t.free[0]
	t.free = t.free[1:]
	t.blocks[y*side+x] = b
	for k := range subs {
		b.z[k], b.segment[k] = f.z[reliefSample(x, y, k)], -1
	}
	return b
}

// reliefSample is the index of the height map's sample in which a texel's sample k lies.
func reliefSample(x, y, k int) int { return (2*y+k/sub/2)*across + 2*x + k%sub/2 }

// reliefQuarter is the index of the height map's sample for a texel's quarter q, from the top left by rows.
func reliefQuarter(x, y, q int) int { return (2*y+q>>1)*across + 2*x + q&1 }

// firstOf is the first of a texel's samples that lie in its quarter q.
func firstOf(q int) int { return q>>1*2*sub + q&1*2 }

// on returns the segment on top at a place, nil where that is none.
func (t *tubes) on(x, y float32) *segment {
	i, ok := texelAt(x, y)
	if !ok || t.blocks[i] == nil {
		return nil
	}
	sx, sy := int(x*(perMM*sub))&(sub-1), int(y*(perMM*sub))&(sub-1)
	if n := t.blocks[i].segment[sy*sub+sx]; n >= 0 {
		return &t.segments[n]
	}
	return nil
}

// over returns the height map with the roots on it.
func (t *tubes) over(f *relief) []float32 {
	z := append([]float32(nil), f.z...)
	for i, b := range t.blocks {
		if b == nil {
			continue
		}
		for q := range 4 {
			at := reliefQuarter(i%side, i/side, q)
			z[at] = max(z[at], b.top(q))
		}
	}
	return z
}

// top is the greatest height in a texel's quarter.
func (b *block) top(q int) float32 {
	k := firstOf(q)
	return max(b.z[k], b.z[k+1], b.z[k+sub], b.z[k+sub+1])
}
