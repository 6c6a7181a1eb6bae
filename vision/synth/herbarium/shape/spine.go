package shape

import (
	"math"

	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
)

// Course is how a sheet lies in space, from its base along its midrib. Angles are in radians, lengths in mm.
type Course struct {
	From  num.Point // where it begins, in texels
	Z     float64   // and how high
	Long  float64
	Way   float64 // direction in the drawing
	Turn  float64 // how far that turns to the tip
	Rise  float64 // angle above level at the base
	Droop float64 // how far that sinks to the tip
	Late  float64 // 1: it sinks evenly; more: mostly toward the tip
	Waves float64 // how much the rise goes up and down on the way
	Phase float64
	Fold  float64 // how far both sides stand up from the midrib's plane
	Roll  float64 // how far the whole is turned round the midrib: the left side up
	Twist float64 // how much more it is at the tip
}

// Station is one place of a spine.
type Station struct {
	At    num.Point  // texels
	Along num.Point  // unit step along the spine as drawn
	s     float64    // mm from the base, as the sheet is long
	Z     float64    // mm
	Rise  float64    // mm up for each mm along, as drawn
	seen  [2]float64 // how much of the sheet's width to the left and right is seen
	Lift  [2]float64 // mm up for each mm outward to the left and right, as drawn
	Under [2]float64 // 1 where the underside shows
}

// Spine is a sheet's midrib as it is drawn. Between its stations everything goes evenly.
type Spine struct {
	Stations []Station
	perMM    float64
}

const (
	steepest  = 1.35 // radians from level: what is steeper is drawn as steep
	mostSlope = 2.2  // mm for each mm, for light
)

// Spine lays n stations along the course.
func (k Course) Spine(n int, perMM float64) Spine {
	sp := Spine{make([]Station, n), perMM}
	at, z := k.From, k.Z
	step := k.Long / float64(n-1)
	for i := range sp.Stations {
		t := float64(i) / float64(n-1)
		up := k.climb(t)
		st := &sp.Stations[i]
		*st = Station{At: at, Along: num.Heading(k.Way + k.Turn*t), s: step * float64(i), Z: z, Rise: slope(up)}
		k.sides(st, t)
		between := t + 0.5/float64(n-1)
		up = k.climb(between)
		at = at.Plus(num.Heading(k.Way + k.Turn*between).Times(step * perMM * math.Cos(up)))
		z += step * math.Sin(up)
	}
	return sp
}

// climb is the angle above level at a share t of the length.
func (k Course) climb(t float64) float64 {
	return num.Clamp(k.Rise-k.Droop*math.Pow(t, max(1, k.Late))+k.Waves*math.Sin(7*t+k.Phase), -steepest, steepest)
}

func (k Course) sides(st *Station, t float64) {
	for side, way := range [2]float64{1, -1} {
		tilt := k.Fold + way*(k.Roll+k.Twist*t)
		c := math.Cos(tilt)
		st.seen[side] = max(0.12, math.Abs(c))
		st.Lift[side] = slope(math.Atan(math.Tan(tilt)))
		if c < 0 {
			st.Under[side] = 1
		}
	}
}

func slope(angle float64) float64 {
	return num.Clamp(math.Tan(angle), -mostSlope, mostSlope)
}

// Place returns where in the drawing a spot of the sheet lies, given in mm along and across (left is positive).
func (sp Spine) Place(q num.Point) num.Point {
	i, f := sp.between(q.X)
	a, b := sp.Stations[i], sp.Stations[i+1]
	at, along := a.At.Toward(b.At, f), a.Along.Toward(b.Along, num.Clamp(f, 0, 1)).Unit()
	side := num.SideOf(q.Y)
	return at.Plus(along.Left().Times(q.Y * sp.perMM * num.Mix(a.seen[side], b.seen[side], num.Clamp(f, 0, 1))))
}

// between returns the station before s mm, and the share of the way to the next; below 0 or above 1 beyond the ends.
func (sp Spine) between(s float64) (i int, f float64) {
	last := len(sp.Stations) - 1
	step := sp.Stations[last].s / float64(last)
	i = int(num.Clamp(s/step, 0, float64(last-1)))
	return i, s/step - float64(i)
}

// Spot is a place of a sheet.
type Spot struct {
	I    int
	F    float64 // share of the way from station i to the next
	S, Y float64 // mm along and across
	Side int     // 0 left, 1 right
}

// Find is the converse of place. It looks on from station hint.
func (sp Spine) Find(p num.Point, hint int) Spot {
	last := len(sp.Stations) - 1
	i := hint
	ahead := func(i int) float64 { st := &sp.Stations[i]; return p.Minus(st.At).Dot(st.Along) }
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
	a, b := &sp.Stations[i], &sp.Stations[i+1]
	f := 0.0
	switch {
	case f0 < 0:
		f = f0 / b.At.Minus(a.At).Length()
	case f1 >= 0:
		f = 1 + f1/b.At.Minus(a.At).Length()
	default:
		f = f0 / (f0 - f1)
	}
	return sp.spot(p, i, f)
}

func (sp Spine) spot(p num.Point, i int, f float64) Spot {
	a, b := &sp.Stations[i], &sp.Stations[i+1]
	k := num.Clamp(f, 0, 1)
	along := a.Along.Toward(b.Along, k)
	off := p.Minus(a.At.Toward(b.At, f)).Dot(along.Left())
	at := Spot{I: i, F: k, S: a.s + (b.s-a.s)*f}
	if off < 0 {
		at.Side = 1
	}
	at.Y = off / (sp.perMM * num.Mix(a.seen[at.Side], b.seen[at.Side], k))
	return at
}

// end returns the spine's last place, its height and its direction.
func (sp Spine) end() (at num.Point, z, way float64) {
	last := sp.Stations[len(sp.Stations)-1]
	return last.At, last.Z, math.Atan2(last.Along.Y, last.Along.X)
}

// Plane is how high the sheet stands, as one plane from end to end.
func (sp Spine) Plane() canvas.Height {
	first, last := &sp.Stations[0], &sp.Stations[len(sp.Stations)-1]
	h := canvas.Height{At: first.At, Z: first.Z, Lo: min(first.Z, last.Z), Hi: max(first.Z, last.Z)}
	way := last.At.Minus(first.At)
	h.Slope = way.Times((last.Z - first.Z) / max(1, way.Dot(way)))
	return h
}

// Mean is the mean height along the spine, in mm.
func (sp Spine) Mean() float64 {
	sum := 0.0
	for _, st := range sp.Stations {
		sum += st.Z
	}
	return sum / float64(len(sp.Stations))
}

// Split cuts a course in two at a share of its length. Each part takes its own part of the sinking and the turning.
func (k Course) Split(share float64, perMM float64) (first, rest Course) {
	first, rest = k, k
	first.Long, rest.Long = k.Long*share, k.Long*(1-share)
	first.Droop, rest.Droop = 0.2*k.Droop, 0.8*k.Droop
	first.Turn, rest.Turn = 0.3*k.Turn, 0.7*k.Turn
	first.Waves, first.Roll, first.Twist, first.Fold = 0, 0, 0, 0
	if first.Long > 0.3 {
		rest.From, rest.Z, rest.Way = first.Spine(4, perMM).end()
	}
	rest.Rise = first.climb(1)
	return first, rest
}
