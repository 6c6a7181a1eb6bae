// Package roots measures what the undersides of a tray's plugs show.
//
// In: a scene with the roots face up, the tray's layout. Out: for each cell the areas of plug, root and brown root, the length of centre lines, how far
// each may be off, and where they are.
// It must not know leaves, nor the plan; error bars beyond what the network tells are made elsewhere.
package roots

import (
	"fmt"
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// Measure finds the plugs of a tray's underside and measures the root on each, in reading order. The scene must show the roots face.
func Measure(s *scene.Scene, t tray.Layout) ([]Plug, tray.Grid, error) {
	if t.Rows < 1 || t.Columns < 1 || t.PitchMM <= 0 || t.PlugMM <= 0 {
		return nil, tray.Grid{}, fmt.Errorf("a tray of %d × %d plugs, %g mm apart: give its true shape in trial.yaml", t.Rows, t.Columns, t.PitchMM)
	}
	ground := tray.NewMap(s, t)
	g := ground.FitGrid()
	g.Pitch = ground.Pitch(g, nil)
	plugs := make([]Plug, 0, t.Rows*t.Columns)
	var work seen
	for row := range t.Rows {
		for col := range t.Columns {
			p, err := rootPlug(s, t, g, row, col, &work)
			if err != nil {
				return nil, g, err
			}
			plugs = append(plugs, p)
		}
	}
	setNarrowest(plugs)
	return plugs, g, nil
}

// rootPlug measures one cell.
func rootPlug(s *scene.Scene, t tray.Layout, g tray.Grid, row, col int, work *seen) (Plug, error) {
	c := &rootCell{s: s, t: t, g: g, plug: Plug{Row: row, Col: col}}
	c.u, c.v = g.Place(t, t.FirstU+float64(col)*t.PitchMM, t.FirstV+float64(row)*t.PitchMM)
	c.plug.Outline = c.ringPx(func(int) float64 { return t.PlugMM / 2 })
	c.plug.Cut = !s.Photo.Holds(c.plug.Outline)
	if c.plug.Cut {
		return c.plug, nil
	}
	err := c.look(work)
	return c.plug, err
}

// look measures what is on the cell.
func (c *rootCell) look(work *seen) error {
	c.p = prepareAt(c.s, c.s.TrayPoint(c.u, c.v), rootSide(c.t), work)
	if err := work.look(); err != nil {
		return err
	}
	c.addUp(work)
	c.outline(c.p.in.Light, work.plug)
	return nil
}

// rootCell is one cell at work.
type rootCell struct {
	s    *scene.Scene
	t    tray.Layout
	g    tray.Grid
	u, v float64 // of its middle in the tray frame
	p    *prepared
	plug Plug
}

// A patch is wider than its plug for those that are larger or off the middle, and as wide as the network's squares of squares of pixels are: it halves
// squares of 2 × 2 three times.
const (
	patchPerPlug = 1.125
	patchWhole   = 16
)

// rootSide is how many prepared pixels a plug's patch is wide.
func rootSide(t tray.Layout) int {
	return patchWhole * int(math.Ceil(patchPerPlug*t.PlugMM*preparedPerMM/patchWhole))
}

// outlineRays is how many directions a plug's outline is told in.
const outlineRays = 72

// ringPx returns the points at a radius in mm in each of outlineRays directions from the cell's middle, in the photo.
func (c *rootCell) ringPx(radius func(ray int) float64) []raster.Px {
	q := make([]raster.Px, outlineRays)
	for i := range q {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / outlineRays)
		q[i] = c.s.Plane.ToPx(c.s.TrayPoint(c.u+radius(i)*cos, c.v+radius(i)*sin))
	}
	return q
}

// addUp makes the plug's quantities of what the network sees: sums of shares times what a prepared pixel covers. Of the shares of plug those within the cell
// are left, and centre lines become mm.
func (c *rootCell) addUp(seen *seen) {
	p := c.p
	root, brown := c.share(), c.share()
	area := make([]float32, p.w)
	inCell := c.cellTest()
	for y := range p.h {
		p.rowAreas(&c.s.Plane, y, area)
		from, to := inCell(y)
		plug, line := seen.plug[y*p.w:(y+1)*p.w], seen.line[y*p.w:(y+1)*p.w]
		for _, v := range [][]float32{plug, line} {
			clear(v[:min(from, p.w)])
			clear(v[min(max(from, to), p.w):])
		}
		for x := from; x < to; x++ {
			i, a := y*p.w+x, float64(area[x])
			all, tan := seen.rootAt(i)
			c.plug.PlugMM2 += float64(plug[x]) * a
			c.plug.RootMM2 += float64(all) * a
			c.plug.BrownMM2 += float64(tan) * a
			line[x] = float32(float64(line[x]) * math.Sqrt(a))
			root.A[i], brown.A[i] = uint8(all*255+0.5), uint8(tan*255+0.5)
		}
	}
	c.plug.Root, c.plug.Brown = root, brown
	c.plug.LengthMM = onRoot(seen.line, root.A, p.w, p.h)
	c.plug.RootUMM2 = seen.spread[0] * (c.plug.RootMM2 + spreadFloor[0])
	c.plug.BrownUMM2 = seen.spread[1] * (c.plug.BrownMM2 + spreadFloor[1])
	c.plug.LengthUMM = seen.spread[2] * (c.plug.LengthMM + spreadFloor[2])
}

// leastPlug is the least share of a plug's usual area that is one.
const leastPlug = 0.15

// empty forgets what was measured of a cell without a plug.
func (c *rootCell) empty() {
	c.plug = Plug{Row: c.plug.Row, Col: c.plug.Col, Empty: true, Outline: c.ringPx(func(int) float64 { return c.t.PlugMM / 2 })}
}

func (c *rootCell) share() raster.Share {
	p := c.p
	return raster.Share{X0: p.x0, Y0: p.y0, StepX: p.stepX, StepY: p.stepY, W: p.w, H: p.h, A: make([]uint8, p.w*p.h)}
}

// spreadFloor is added to a sum before its relative uncertainty is taken, as in training: mm², mm² and mm.
var spreadFloor = [3]float64{12, 8, 30}

// cellTest returns which prepared pixels of a row lie in the cell's own square.
func (c *rootCell) cellTest() func(y int) (from, to int) {
	half := c.t.PitchMM / 2
	var q [4]raster.Px
	for i, d := range [4][2]float64{{-half, -half}, {half, -half}, {half, half}, {-half, half}} {
		u, v := c.g.Turned(d[0], d[1])
		at := c.s.Plane.ToPx(c.s.TrayPoint(c.u+u, c.v+v)) // of the photo
		q[i] = c.p.at(at)
		q[i].X, q[i].Y = q[i].X-0.5, q[i].Y-0.5
	}
	return func(y int) (from, to int) {
		lo, hi := raster.Crossings(q[:], float64(y))
		return min(max(int(math.Ceil(lo)), 0), c.p.w), max(0, min(int(math.Floor(hi))+1, c.p.w))
	}
}

// radii are how far the outline lies from the cell's middle along each ray, in mm: as much of the ray is within as it has plug on it.
func (c *rootCell) radii(plug []float32) []float64 {
	const stepMM = 0.1
	p, reach := c.p, float64(c.p.w)/preparedPerMM/2
	middle := p.at(c.s.Plane.ToPx(c.s.TrayPoint(c.u, c.v)))
	radius := make([]float64, outlineRays)
	for ray := range radius {
		sin, cos := math.Sincos(2 * math.Pi * float64(ray) / outlineRays)
		end := p.at(c.s.Plane.ToPx(c.s.TrayPoint(c.u+reach*cos, c.v+reach*sin)))
		for r := stepMM / 2; r < reach; r += stepMM {
			x, y := int(middle.X+(end.X-middle.X)*r/reach), int(middle.Y+(end.Y-middle.Y)*r/reach)
			if x < 0 || y < 0 || x >= p.w || y >= p.h {
				break
			}
			radius[ray] += float64(plug[y*p.w+x]) * stepMM
		}
	}
	return radius
}

// outline lays the outline on the plug's rim, and counts as plug what that adds to the network's.
func (c *rootCell) outline(light, plug []float32) {
	if c.plug.PlugMM2 < leastPlug*math.Pi/4*raster.Sq(c.t.PlugMM) {
		c.empty()
		return
	}
	radius := c.radii(plug)
	c.plug.seen, c.plug.Beyond = radius, c.goesBeyond(plug)
	moved := c.onRim(radius, light, plug)
	for i := range moved {
		c.plug.PlugMM2 += math.Pi / outlineRays * (raster.Sq(moved[i]) - raster.Sq(radius[i]))
	}
	c.plug.Outline = c.ringPx(func(ray int) float64 { return moved[ray] })
}

// rowAreas fills area with the mm² of the plane that the prepared pixels of row y cover. It is smooth along a row: three of them give the
// rest, to a few parts in ten million over a plug.
func (p *prepared) rowAreas(pl *scene.Plane, y int, area []float32) {
	half := float64(p.w-1) / 2
	at := func(x float64) float64 {
		q := p.px(x, float64(y))
		return pl.PixelMM2(q.X, q.Y) * p.stepX * p.stepY
	}
	a, b, c := at(0), at(half), at(2*half)
	slope, bend := (c-a)/2, (a+c)/2-b
	for x := range area {
		t := 0.0
		if half > 0 {
			t = (float64(x) - half) / half
		}
		area[x] = float32(b + t*(slope+t*bend))
	}
}
