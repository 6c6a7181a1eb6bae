package foliage

import "math"

// blade is a leaf's flat part, bent in space along its midrib.
type blade struct {
	outline outline
	rib     rib     // as long as the blade
	fold    float64 // radians that each half stands up from flat, as in an open book
	curl    float64 // radians that the edge of the widest place turns up across the blade; below 0 down
	waves   float64 // waves of the edge on each side
	swing   float64 // their height, of the half-width
	blister float64 // height of blisters, mm
	blobs   float64 // their size, mm
	phase   float64 // where the noise begins
	pressed float64 // share of its height taken away, see mesh.press
	lift    float64 // mm
}

// fabric is how finely a blade is woven: steps from base to tip, from midrib to edge, and edge points for each step.
type fabric struct{ stations, columns, hems int }

// fabricOf makes the steps of a blade about 2.5 mm wide, and small enough for its edge and its waves. A blade of which nothing is
// seen but its shadow is woven coarsely.
func (b *blade) fabricOf() fabric {
	length, half := b.rib.length(), b.rib.length()*b.outline.wide
	if b.unseen() {
		return fabric{6, 1 + int(half/8), 1}
	}
	f := fabric{stations: int(clamp(length/2.5, 8, 24)), columns: int(clamp(half/2.8, 1, 5))}
	if b.swing > 0.02 {
		f.stations = max(f.stations, int(min(26, 2.5*b.waves)))
		f.columns = max(f.columns, 2)
	}
	if b.blister > 0.1 {
		f.stations, f.columns = max(f.stations, 12), max(f.columns, 3)
	}
	f.stations = max(f.stations, 4*b.outline.lobes)
	points := 3.0 // for each tooth
	if length > 4*float64(b.outline.teeth) {
		points = 5
	}
	hems := max(points*float64(b.outline.teeth), length/1.4, 20)
	f.hems = 1 + int(hems/float64(f.stations))
	return f
}

// unseen reports whether the blade lies outside the drawing.
func (b *blade) unseen() bool {
	reach := b.rib.length() + 2
	at := b.rib.frames[0].at
	return at.x < -reach || at.y < -reach || at.x > across+reach || at.y > across+reach
}

// weave adds the blade to the mesh as an organ.
func (b *blade) weave(m *mesh, o organ, floor func(x, y float64) float64) {
	first := len(m.corners)
	end := m.begin(o)
	b.outline = b.outline.measured()
	f := b.fabricOf()
	for _, half := range []float64{1, -1} {
		b.weaveHalf(m, f, half, floor)
	}
	end()
	m.press(first, 1-b.pressed, b.lift)
}

func (b *blade) weaveHalf(m *mesh, f fabric, half float64, floor func(x, y float64) float64) {
	grid := make([][]int32, f.stations+1)
	for i := range grid {
		at := b.outline.edge(float64(i) / float64(f.stations))
		for j := range f.columns {
			t := float64(j) / (float64(f.columns) - 0.35)
			grid[i] = append(grid[i], m.add(b.corner(at, t, half, floor)))
		}
	}
	flip := half < 0
	for i := range f.stations {
		for j := range f.columns - 1 {
			p, q, r, s := grid[i][j], grid[i+1][j], grid[i+1][j+1], grid[i][j+1]
			m.join(p, q, r, flip)
			m.join(p, r, s, flip)
		}
	}
	b.hem(m, f, grid, half, floor)
}

// hem fans out from the outermost column to the edge, which has more points than the columns have.
func (b *blade) hem(m *mesh, f fabric, grid [][]int32, half float64, floor func(x, y float64) float64) {
	flip := half < 0
	last := m.add(b.corner(b.outline.edge(0), 1, half, floor))
	for i := range f.stations {
		near, next := grid[i][f.columns-1], grid[i+1][f.columns-1]
		for k := range f.hems {
			u := (float64(i) + float64(k+1)/float64(f.hems)) / float64(f.stations)
			point := m.add(b.corner(b.outline.edge(u), 1, half, floor))
			if k == f.hems/2 {
				m.join(near, next, last, flip)
			}
			if k < f.hems/2 {
				m.join(near, point, last, flip)
			} else {
				m.join(next, point, last, flip)
			}
			last = point
		}
	}
}

// corner is the point of the blade t of the way from the midrib out to a point of its edge, on one half (1 left, -1 right).
func (b *blade) corner(e margin, t, half float64, floor func(x, y float64) float64) corner {
	u, length := e.u, b.rib.length()
	out := t * e.y * length
	along := (e.rib + (e.x-e.rib)*t) * length
	f := b.rib.at(along)
	over, up := b.profile(u, t, out, along, half)
	p := f.at.plus(f.left.times(half * over)).plus(f.up.times(up))
	p.z = max(p.z, floor(p.x, p.y)+0.15*f.up.z*t)
	return corner{p: p, along: pack(f.along), u: float32(u), t: float32(t * half), a: float32(along), b: float32(out * half)}
}

// profile is where a point of the flat blade comes to lie across it: mm out from the midrib's own line, and mm up.
func (b *blade) profile(u, t, out, along, half float64) (over, up float64) {
	widest := b.outline.wide * b.rib.length()
	over, up = out, 0
	if b.curl != 0 && out > 0 {
		k := b.curl / widest // radians a mm
		s, c := math.Sincos(out * k)
		over, up = s/k, (1-c)/k
	}
	if b.fold != 0 {
		s, c := math.Sincos(b.fold)
		over, up = over*c-up*s, over*s+up*c
	}
	noise := tiles().cloud
	if b.swing > 0 {
		turn := 2 * math.Pi * (b.waves*u + 0.6*noise.at(b.phase+40*u, half*20))
		up += b.swing * widest * t * t * (math.Sin(turn+b.phase+half) + 0.4*math.Sin(2.3*turn+half)) * min(1, 6*u, 8*(1-u))
	}
	if b.blister > 0 {
		up += b.blister * noise.at(b.phase+along*12/b.blobs, half*out*12/b.blobs) * min(1, t+0.3)
	}
	return over, up
}
