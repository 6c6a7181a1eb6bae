package vision

import (
	"fmt"
)

// Roots finds the plugs of a tray's underside and measures the root on each, in reading order. The scene must show the
// roots face.
func (s *Scene) Roots(t Tray) ([]RootPlug, Grid, error) {
	if t.Rows < 1 || t.Columns < 1 || t.PitchMM <= 0 || t.PlugMM <= 0 {
		return nil, Grid{}, fmt.Errorf("a tray of %d × %d plugs, %g mm apart: give its true shape in trial.yaml", t.Rows, t.Columns, t.PitchMM)
	}
	o := s.overview(t)
	defer o.Close()
	g := s.fitGrid(o, t)
	lap("grid")
	cells := s.rootCells(o, t, g)
	plugs := s.plugsOf(o, t, cells)
	lap("outlines")

	s.measureRoots(plugs)
	out := make([]RootPlug, len(cells))
	for i, c := range cells {
		c.plug.Outline = c.outlinePx(s, t, 1)
		out[i] = c.plug
	}
	return out, g, nil
}

// measureRoots measures the roots of plugs whose pixels are cut out. What is medium and what is root shows in all of a photo's plugs
// together, so each step takes all of them before the next.
func (s *Scene) measureRoots(plugs []*rootCell) {
	cut := rootCut(plugs)
	for _, c := range plugs {
		c.sampleMedium(cut)
	}
	lendMedium(plugs)
	ink := inkOf(plugs, cut)
	ink.temper(plugs)
	lap("ink")
	for _, c := range plugs {
		c.findRoots(ink)
	}
	lap("lines")
	rootShade(plugs)
	rims := rimShade(plugs)
	for _, c := range plugs {
		c.addUp(&s.Plane, ink, rims)
	}
	lap("sums")
}

// rootCell is one cell at work.
type rootCell struct {
	plug   RootPlug
	u, v   float64 // of its middle in the tray frame
	pxMM   float64
	blurPx float64 // the lens's spread as a Gaussian's sigma
	gain   RGB     // makes paper 1 under the light that falls here

	core, web surface // the inner disc, and the corners between cells
	edge      outline

	photo  *Photo
	p      *patch  // nil without a plug
	lum    *mixer  // luminance
	medium RGB     // mean light of the plug's medium
	spread float64 // standard deviation of the medium's luminance

	round []bool // round pale things that are no root; nil for none, see isRound
	lines *rootLines
	shine float32 // how light its roots are for where it lies, 1 on the average
}

// rootCells surveys every cell in reading order and evens out the light.
func (s *Scene) rootCells(o *overview, t Tray, g Grid) []*rootCell {
	cells := make([]*rootCell, 0, t.Rows*t.Columns)
	for row := range t.Rows {
		for col := range t.Columns {
			c := &rootCell{plug: RootPlug{Row: row, Col: col}, gain: s.Light.ToPaper, blurPx: s.Edge.SigmaPx(), shine: 1, photo: s.Photo}
			c.u, c.v = g.place(t, t.FirstU+float64(col)*t.PitchMM, t.FirstV+float64(row)*t.PitchMM)
			c.pxMM = s.Plane.PxPerMM(s.TrayPoint(c.u, c.v))
			c.plug.Cut = !s.wholeInPhoto(c.outlinePx(s, t, 1))
			c.survey(s, o, t)
			cells = append(cells, c)
		}
	}
	s.evenLight(cells)
	return cells
}

// plugsOf tells the cells with a plug, finds its outline and cuts out its pixels.
func (s *Scene) plugsOf(o *overview, t Tray, cells []*rootCell) (plugs []*rootCell) {
	web := webOf(cells)
	for _, c := range cells {
		c.tellEmpty(web)
		if c.plug.Empty || c.plug.Cut {
			continue
		}
		c.findOutline(s, o, web, t)
		c.p = s.newPatch(c.outlinePx(s, t, 1), c.outlinePx(s, t, ringAt[0]), c.outlinePx(s, t, ringAt[1]))
		c.lum = newMixer(luminanceOf, c.gain, 0)
		plugs = append(plugs, c)
	}
	return plugs
}

func (s *Scene) wholeInPhoto(q []Px) bool {
	for _, p := range q {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(s.Photo.Width-1) && p.Y <= float64(s.Photo.Height-1)) {
			return false
		}
	}
	return true
}

// outlinePx gives the outline in pixels, at part of its radius: the plug's where there is one, a circle where it would be.
func (c *rootCell) outlinePx(s *Scene, t Tray, part float64) []Px {
	o := c.edge
	if o.radius[0] == 0 {
		for i := range o.radius {
			o.radius[i] = t.PlugMM / 2
		}
	}
	q := make([]Px, 0, outlineRays)
	for _, d := range o.points(part) {
		q = append(q, s.Plane.ToPx(s.TrayPoint(c.u+d[0], c.v+d[1])))
	}
	return q
}

// lightAt returns the light of a pixel of the patch, 1 for paper.
func (c *rootCell) lightAt(x, y int) RGB {
	return c.photo.light(c.photo.at(c.p.rect.Min.X+x, c.p.rect.Min.Y+y)).scaled(c.gain)
}
