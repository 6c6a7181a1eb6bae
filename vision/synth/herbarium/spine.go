package herbarium

import "math"

// course is how a sheet lies in space, from its base along its midrib. Angles are in radians, lengths in mm.
type course struct {
	from  point   // where it begins, in texels
	z     float64 // and how high
	long  float64
	way   float64 // direction in the drawing
	turn  float64 // how far that turns to the tip
	rise  float64 // angle above level at the base
	droop float64 // how far that sinks to the tip
	late  float64 // 1: it sinks evenly; more: mostly toward the tip
	waves float64 // how much the rise goes up and down on the way
	phase float64
	fold  float64 // how far both sides stand up from the midrib's plane
	roll  float64 // how far the whole is turned round the midrib: the left side up
	twist float64 // how much more it is at the tip
}

// station is one place of a spine.
type station struct {
	at    point      // texels
	along point      // unit step along the spine as drawn
	s     float64    // mm from the base, as the sheet is long
	z     float64    // mm
	rise  float64    // mm up for each mm along, as drawn
	seen  [2]float64 // how much of the sheet's width to the left and right is seen
	lift  [2]float64 // mm up for each mm outward to the left and right, as drawn
	under [2]float64 // 1 where the underside shows
}

// spine is a sheet's midrib as it is drawn. Between its stations everything goes evenly.
type spine struct {
	stations []station
	perMM    float64
}

const (
	steepest  = 1.35 // radians from level: what is steeper is drawn as steep
	mostSlope = 2.2  // mm for each mm, for light
)

// spine lays n stations along the course.
func (k course) spine(n int, perMM float64) spine {
	sp := spine{make([]station, n), perMM}
	at, z := k.from, k.z
	step := k.long / float64(n-1)
	for i := range sp.stations {
		t := float64(i) / float64(n-1)
		up := k.climb(t)
		st := &sp.stations[i]
		*st = station{at: at, along: heading(k.way + k.turn*t), s: step * float64(i), z: z, rise: slope(up)}
		k.sides(st, t)
		between := t + 0.5/float64(n-1)
		up = k.climb(between)
		at = at.plus(heading(k.way + k.turn*between).times(step * perMM * math.Cos(up)))
		z += step * math.Sin(up)
	}
	return sp
}

// climb is the angle above level at a share t of the length.
func (k course) climb(t float64) float64 {
	return clamp(k.rise-k.droop*math.Pow(t, max(1, k.late))+k.waves*math.Sin(7*t+k.phase), -steepest, steepest)
}

func (k course) sides(st *station, t float64) {
	for side, way := range [2]float64{1, -1} {
		tilt := k.fold + way*(k.roll+k.twist*t)
		c := math.Cos(tilt)
		st.seen[side] = max(0.12, math.Abs(c))
		st.lift[side] = slope(math.Atan(math.Tan(tilt)))
		if c < 0 {
			st.under[side] = 1
		}
	}
}

func slope(angle float64) float64 {
	return clamp(math.Tan(angle), -mostSlope, mostSlope)
}

// place returns where in the drawing a spot of the sheet lies, given in mm along and across (left is positive).
func (sp spine) place(q point) point {
	i, f := sp.between(q.x)
	a, b := sp.stations[i], sp.stations[i+1]
	at, along := a.at.toward(b.at, f), a.along.toward(b.along, clamp(f, 0, 1)).unit()
	side := sideOf(q.y)
	return at.plus(along.left().times(q.y * sp.perMM * mix(a.seen[side], b.seen[side], clamp(f, 0, 1))))
}

// between returns the station before s mm, and the share of the way to the next; below 0 or above 1 beyond the ends.
func (sp spine) between(s float64) (i int, f float64) {
	last := len(sp.stations) - 1
	step := sp.stations[last].s / float64(last)
	i = int(clamp(s/step, 0, float64(last-1)))
	return i, s/step - float64(i)
}

// spot is a place of a sheet.
type spot struct {
	i    int
	f    float64 // share of the way from station i to the next
	s, y float64 // mm along and across
	side int     // 0 left, 1 right
}

// find is the converse of place. It looks on from station hint.
func (sp spine) find(p point, hint int) spot {
	last := len(sp.stations) - 1
	i := hint
	ahead := func(i int) float64 { st := &sp.stations[i]; return p.minus(st.at).dot(st.along) }
	f0 := ahead(i)
	for f0 < 0 && i > 0 {
		i--
		f0 = ahead(i)
	}
	i = min(i, last-1)
	f1 := ahead(i + 1)
	for f1 >= 0 && i < last-1 {
		i, f0 = i+1, f1
		f1 = ahead(i + 1)
	}
	a, b := &sp.stations[i], &sp.stations[i+1]
	f := 0.0
	switch {
	case f0 < 0:
		f = f0 / b.at.minus(a.at).length()
	case f1 >= 0:
		f = 1 + f1/b.at.minus(a.at).length()
	default:
		f = f0 / (f0 - f1)
	}
	return sp.spot(p, i, f)
}

func (sp spine) spot(p point, i int, f float64) spot {
	a, b := &sp.stations[i], &sp.stations[i+1]
	k := clamp(f, 0, 1)
	along := a.along.toward(b.along, k)
	off := p.minus(a.at.toward(b.at, f)).dot(along.left())
	at := spot{i: i, f: k, s: a.s + (b.s-a.s)*f}
	if off < 0 {
		at.side = 1
	}
	at.y = off / (sp.perMM * mix(a.seen[at.side], b.seen[at.side], k))
	return at
}

func sideOf(y float64) int {
	if y < 0 {
		return 1
	}
	return 0
}

// end returns the spine's last place, its height and its direction.
func (sp spine) end() (at point, z, way float64) {
	last := sp.stations[len(sp.stations)-1]
	return last.at, last.z, math.Atan2(last.along.y, last.along.x)
}

// plane is how high the sheet stands, as one plane from end to end.
func (sp spine) plane() height {
	first, last := &sp.stations[0], &sp.stations[len(sp.stations)-1]
	h := height{at: first.at, z: first.z, lo: min(first.z, last.z), hi: max(first.z, last.z)}
	way := last.at.minus(first.at)
	h.slope = way.times((last.z - first.z) / max(1, way.dot(way)))
	return h
}

// raised returns the height with so many mm more.
func (h height) raised(by float64) height {
	h.z, h.lo, h.hi = h.z+by, h.lo+by, h.hi+by
	return h
}

// mean is the mean height along the spine, in mm.
func (sp spine) mean() float64 {
	sum := 0.0
	for _, st := range sp.stations {
		sum += st.z
	}
	return sum / float64(len(sp.stations))
}
