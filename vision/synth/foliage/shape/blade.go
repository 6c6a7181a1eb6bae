// Package shape weaves the parts that leaves are made of into a mesh: blades within an outline, bent along a rib in space, and tubes. In go
// lengths in mm and angles in radians; it adds corners and faces to the mesh. It knows nothing of crops, ages and colours.
package shape

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Blade is a leaf's flat part, bent in space along its midrib.
type Blade struct {
	Outline Outline
	Rib     Rib     // as long as the blade
	Fold    float64 // radians that each half stands up from flat, as in an open book
	Curl    float64 // radians that the edge of the widest place turns up across the blade; below 0 down
	Waves   float64 // waves of the edge on each side
	Swing   float64 // their height, of the half-width
	Blister float64 // height of blisters, mm
	Blobs   float64 // their size, mm
	Phase   float64 // where the noise begins
	Pressed float64 // share of its height taken away, see Mesh.Press
	Lift    float64 // mm
}

// fabric is how finely a blade is woven: steps from base to tip, from midrib to edge, and edge points for each step.
type fabric struct{ stations, columns, hems int }

// fabricOf makes the steps of a blade about 2.5 mm wide, and small enough for its edge and its waves. A blade of which nothing is
// seen but its shadow is woven coarsely.
func (b *Blade) fabricOf() fabric {
	length, half := b.Rib.Length(), b.Rib.Length()*b.Outline.Wide
	if b.unseen() {
		return fabric{6, 1 + int(half/8), 1}
	}
	f := fabric{stations: int(num.Clamp(length/2.5, 8, 24)), columns: int(num.Clamp(half/2.8, 1, 5))}
	if b.Swing > 0.02 {
		f.stations = max(f.stations, int(min(26, 2.5*b.Waves)))
		f.columns = max(f.columns, 2)
	}
	if b.Blister > 0.1 {
		f.stations, f.columns = max(f.stations, 12), max(f.columns, 3)
	}
	f.stations = max(f.stations, 4*b.Outline.Lobes)
	points := 3.0 // for each tooth
	if length > 4*float64(b.Outline.Teeth) {
		points = 5
	}
	hems := max(points*float64(b.Outline.Teeth), length/1.4, 20)
	f.hems = 1 + int(hems/float64(f.stations))
	return f
}

// unseen reports whether the blade lies outside the drawing.
func (b *Blade) unseen() bool {
	reach := b.Rib.Length() + 2
	at := b.Rib.frames[0].At
	return at.X < -reach || at.Y < -reach || at.X > num.Across+reach || at.Y > num.Across+reach
}

// Weave adds the blade to the mesh as an organ.
func (b *Blade) Weave(m *surface.Mesh, o surface.Organ, floor func(x, y float64) float64) {
	first := len(m.Corners)
	end := m.Begin(o)
	b.Outline = b.Outline.measured()
	f := b.fabricOf()
	for _, half := range []float64{1, -1} {
		b.weaveHalf(m, f, half, floor)
	}
	end()
	m.Press(first, 1-b.Pressed, b.Lift)
}

func (b *Blade) weaveHalf(m *surface.Mesh, f fabric, half float64, floor func(x, y float64) float64) {
	grid := make([][]int32, f.stations+1)
	for i := range grid {
		at := b.Outline.edge(float64(i) / float64(f.stations))
		for j := range f.columns {
			t := float64(j) / (float64(f.columns) - 0.35)
			grid[i] = append(grid[i], m.Add(b.corner(at, t, half, floor)))
		}
	}
	flip := half < 0
	for i := range f.stations {
		for j := range f.columns - 1 {
			p, q, r, s := grid[i][j], grid[i+1][j], grid[i+1][j+1], grid[i][j+1]
			m.Join(p, q, r, flip)
			m.Join(p, r, s, flip)
		}
	}
	b.hem(m, f, grid, half, floor)
}

// hem fans out from the outermost column to the edge, which has more points than the columns have.
func (b *Blade) hem(m *surface.Mesh, f fabric, grid [][]int32, half float64, floor func(x, y float64) float64) {
	flip := half < 0
	last := m.Add(b.corner(b.Outline.edge(0), 1, half, floor))
	for i := range f.stations {
		near, next := grid[i][f.columns-1], grid[i+1][f.columns-1]
		for k := range f.hems {
			u := (float64(i) + float64(k+1)/float64(f.hems)) / float64(f.stations)
			point := m.Add(b.corner(b.Outline.edge(u), 1, half, floor))
			if k == f.hems/2 {
				m.Join(near, next, last, flip)
			}
			if k < f.hems/2 {
				m.Join(near, point, last, flip)
			} else {
				m.Join(next, point, last, flip)
			}
			last = point
		}
	}
}

// corner is the point of the blade t of the way from the midrib out to a point of its edge, on one half (1 left, -1 right).
func (b *Blade) corner(e margin, t, half float64, floor func(x, y float64) float64) surface.Corner {
	u, length := e.u, b.Rib.Length()
	out := t * e.y * length
	along := (e.rib + (e.x-e.rib)*t) * length
	f := b.Rib.At(along)
	over, up := b.profile(u, t, out, along, half)
	p := f.At.Plus(f.Left.Times(half * over)).Plus(f.Up.Times(up))
	p.Z = max(p.Z, floor(p.X, p.Y)+0.15*f.Up.Z*t)
	return surface.Corner{P: p, Along: surface.Pack(f.Along), U: float32(u), T: float32(t * half), A: float32(along), B: float32(out * half)}
}

// profile is where a point of the flat blade comes to lie across it: mm out from the midrib's own line, and mm up.
func (b *Blade) profile(u, t, out, along, half float64) (over, up float64) {
	widest := b.Outline.Wide * b.Rib.Length()
	over, up = out, 0
	if b.Curl != 0 && out > 0 {
		k := b.Curl / widest // radians a mm
		s, c := math.Sincos(out * k)
		over, up = s/k, (1-c)/k
	}
	if b.Fold != 0 {
		s, c := math.Sincos(b.Fold)
		over, up = over*c-up*s, over*s+up*c
	}
	noise := num.Tiles().Cloud
	if b.Swing > 0 {
		turn := 2 * math.Pi * (b.Waves*u + 0.6*noise.At(b.Phase+40*u, half*20))
		up += b.Swing * widest * t * t * (math.Sin(turn+b.Phase+half) + 0.4*math.Sin(2.3*turn+half)) * min(1, 6*u, 8*(1-u))
	}
	if b.Blister > 0 {
		up += b.Blister * noise.At(b.Phase+along*12/b.Blobs, half*out*12/b.Blobs) * min(1, t+0.3)
	}
	return over, up
}
