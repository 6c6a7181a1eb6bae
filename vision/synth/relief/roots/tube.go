package roots

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

const (
	Sub      = 4                  // samples along a texel's side that tell roots from the rest
	Subs     = Sub * Sub          // and in all
	SubEvery = solids.Texel / Sub // mm from sample to sample
)

// Tubes are the drawing's roots, laid as tapering tubes.
type Tubes struct {
	Blocks   []*Block // each texel's, nil for a texel without roots
	free     []Block  // blocks not yet in use
	Segments []Segment
	flat     float32 // a root's height as a share of its width
}

// Block is one texel's samples, row by row: the height of what is on top, and which segment that is (-1 for what the relief shows).
type Block struct {
	Z       [Subs]float32
	Segment [Subs]int32
}

// Segment is the tube between two points of a path.
type Segment struct {
	A, B   *Point
	AlongX float32 // unit vector from a to b
	AlongY float32
	Long   float32 // mm
	slope  float32 // mm by which the half width grows a mm
	rise   float32 // mm by which the axis rises a mm
	Root   int32   // which root it is of
	place  int32   // the index of a in its path
	endA   float32 // mm by which its round end reaches beyond a and b; 0 for a blunt one
	endB   float32 //
}

// LayTubes lays all paths' tubes on the relief; flat is a root's height as a share of its width.
func LayTubes(flat float32, paths []Path, f *solids.Relief) *Tubes {
	segments := 0
	for i := range paths {
		segments += len(paths[i].Points)
	}
	t := &Tubes{Blocks: make([]*Block, solids.Side*solids.Side), Segments: make([]Segment, 0, segments), flat: flat}
	for i := range paths {
		t.lay(&paths[i], i, f)
	}
	return t
}

// lay puts a root's tube on the relief, hidden where the relief or another root is higher.
func (t *Tubes) lay(p *Path, number int, f *solids.Relief) {
	last := len(p.Points) - 1
	first := len(t.Segments)
	for i := range last {
		t.Segments = append(t.Segments, newSegment(&p.Points[i], &p.Points[i+1], number, i))
	}
	made := t.Segments[first:]
	for i := 1; i < len(made); i++ {
		bend := num.Abs(float32(made[i-1].AlongX*made[i].AlongY) - float32(made[i-1].AlongY*made[i].AlongX))
		reach := min(1, bend+0.05)
		made[i-1].endB, made[i].endA = reach*made[i].A.Radius, reach*made[i].A.Radius
	}
	made[0].endA, made[len(made)-1].endB = p.Points[0].Radius, p.Points[last].Radius
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

func newSegment(a, b *Point, root, place int) Segment {
	s := Segment{A: a, B: b, Root: int32(root), place: int32(place)}
	s.Long = max(num.Length(b.X-a.X, b.Y-a.Y), 1e-5)
	s.AlongX, s.AlongY = (b.X-a.X)/s.Long, (b.Y-a.Y)/s.Long
	s.slope, s.rise = (b.Radius-a.Radius)/s.Long, (b.Z-a.Z)/s.Long
	return s
}

// raster goes through the rows of samples that a segment may touch, and in each through those near enough to its axis.
func (t *Tubes) raster(number int32, f *solids.Relief) {
	s := &t.Segments[number]
	r := max(s.A.Radius, s.B.Radius)
	y0 := max(0, int((min(s.A.Y, s.B.Y)-r)/SubEvery))
	y1 := min(solids.Side*Sub-1, int((max(s.A.Y, s.B.Y)+r)/SubEvery))
	for y := y0; y <= y1; y++ {
		py := float32((float32(y)+0.5)*SubEvery) - s.A.Y
		low, high := s.reach(py, r)
		x0 := max(0, int((low+s.A.X)/SubEvery))
		x1 := min(solids.Side*Sub-1, int((high+s.A.X)/SubEvery))
		if x0 <= x1 {
			t.scan(s, number, x0, x1, y, f)
		}
	}
}

// reach is the range of x, in mm from a, in which a row at y, in mm from a, lies within r of the segment's axis and between its ends.
func (s *Segment) reach(y, r float32) (low, high float32) {
	low, high = min(0, s.B.X-s.A.X)-r, max(0, s.B.X-s.A.X)+r
	const level = 0.01 // of a slope, below which a row runs along or across the segment and its whole range is taken
	if num.Abs(s.AlongY) > level {
		a, b := (float32(y*s.AlongX)-r)/s.AlongY, (float32(y*s.AlongX)+r)/s.AlongY
		low, high = max(low, min(a, b)), min(high, max(a, b))
	}
	if num.Abs(s.AlongX) > level {
		a, b := (-s.endA-float32(y*s.AlongY))/s.AlongX, (s.Long+s.endB-float32(y*s.AlongY))/s.AlongX
		low, high = max(low, min(a, b)), min(high, max(a, b))
	}
	return low, high
}

// scan lays a segment's samples from x0 to x1 in one row.
func (t *Tubes) scan(s *Segment, number int32, x0, x1, y int, f *solids.Relief) {
	px, py := float32((float32(x0)+0.5)*SubEvery)-s.A.X, float32((float32(y)+0.5)*SubEvery)-s.A.Y
	along, aside := num.Dot(px, py, s.AlongX, s.AlongY), float32(px*s.AlongY)-float32(py*s.AlongX)
	stepAlong, stepAside := float32(s.AlongX*SubEvery), float32(s.AlongY*SubEvery)
	low, high, radius, axis := -s.endA, s.Long+s.endB, s.A.Radius, s.A.Z
	row := t.Blocks[y/Sub*solids.Side : (y/Sub+1)*solids.Side]
	for x := x0; x <= x1; x++ {
		on := min(max(along, 0), s.Long)
		r, past := radius+float32(s.slope*on), along-on
		q := float32(r*r) - float32(aside*aside) - float32(past*past)
		if q > 0 && along >= low && along <= high {
			b := row[x/Sub]
			if b == nil {
				b = t.open(x/Sub, y/Sub, f)
			}
			k := y%Sub*Sub + x%Sub
			if z := axis + float32(s.rise*on) + float32(t.flat*num.Sqrt(q)); z > b.Z[k] {
				b.Z[k], b.Segment[k] = z, number
			}
		}
		along += stepAlong
		aside += stepAside
	}
}

// open makes a texel's block, filled with what the relief shows there.
func (t *Tubes) open(x, y int, f *solids.Relief) *Block {
	if len(t.free) == 0 {
		t.free = make([]Block, 2048)
	}
	b := &t.free[0]
	t.free = t.free[1:]
	t.Blocks[y*solids.Side+x] = b
	for k := range Subs {
		b.Z[k], b.Segment[k] = f.Z[reliefSample(x, y, k)], -1
	}
	return b
}

// reliefSample is the index of the height map's sample in which a texel's sample k lies.
func reliefSample(x, y, k int) int { return (2*y+k/Sub/2)*solids.Across + 2*x + k%Sub/2 }

// ReliefQuarter is the index of the height map's sample for a texel's quarter q, from the top left by rows.
func ReliefQuarter(x, y, q int) int { return (2*y+q>>1)*solids.Across + 2*x + q&1 }

// FirstOf is the first of a texel's samples that lie in its quarter q.
func FirstOf(q int) int { return q>>1*2*Sub + q&1*2 }

// on returns the segment on top at a place, nil where that is none.
func (t *Tubes) on(x, y float32) *Segment {
	i, ok := texelAt(x, y)
	if !ok || t.Blocks[i] == nil {
		return nil
	}
	sx, sy := int(x*(solids.PerMM*Sub))&(Sub-1), int(y*(solids.PerMM*Sub))&(Sub-1)
	if n := t.Blocks[i].Segment[sy*Sub+sx]; n >= 0 {
		return &t.Segments[n]
	}
	return nil
}

// Over returns the height map with the roots on it.
func (t *Tubes) Over(f *solids.Relief) []float32 {
	z := append([]float32(nil), f.Z...)
	for i, b := range t.Blocks {
		if b == nil {
			continue
		}
		for q := range 4 {
			at := ReliefQuarter(i%solids.Side, i/solids.Side, q)
			z[at] = max(z[at], b.top(q))
		}
	}
	return z
}

// top is the greatest height in a texel's quarter.
func (b *Block) top(q int) float32 {
	k := FirstOf(q)
	return max(b.Z[k], b.Z[k+1], b.Z[k+Sub], b.Z[k+Sub+1])
}

// Means is the mean height of each texel, with the roots on it, without the depth of gaps and the height of
// what lies over the tray.
func (t *Tubes) Means(f *solids.Relief) []float32 {
	m := make([]float32, solids.Side*solids.Side)
	for y := range solids.Side {
		top, low := f.Z[2*y*solids.Across:(2*y+1)*solids.Across], f.Z[(2*y+1)*solids.Across:(2*y+2)*solids.Across]
		for x := range solids.Side {
			sum := top[2*x] + top[2*x+1] + low[2*x] + low[2*x+1]
			if b := t.Blocks[y*solids.Side+x]; b != nil {
				sum = b.top(0) + b.top(1) + b.top(2) + b.top(3)
			}
			m[y*solids.Side+x] = num.Clamp(sum*0.25, solids.Lowest, 4)
		}
	}
	return m
}
