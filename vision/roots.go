package vision

import (
	"fmt"
	"math"
)

// Roots finds the plugs of a tray's underside and measures the root on each, in reading order. The scene must show the
// roots face.
func (s *Scene) Roots(t Tray) ([]RootPlug, Grid, error) {
	if t.Rows < 1 || t.Columns < 1 || t.PitchMM <= 0 || t.PlugMM <= 0 {
		return nil, Grid{}, fmt.Errorf("a tray of %d × %d plugs, %g mm apart: give its true shape in trial.yaml", t.Rows, t.Columns, t.PitchMM)
	}
	g := s.FitGrid(t)
	cells := make([]*rootCell, 0, t.Rows*t.Columns)
	for row := range t.Rows {
		for col := range t.Columns {
			cells = append(cells, s.lookAtCell(t, g, row, col))
		}
	}
	s.evenLight(cells, t)
	web := webOf(cells)
	for _, c := range cells {
		c.tellEmpty(web)
		if !c.plug.Empty && !c.plug.Cut {
			c.findOutline(web, t)
		}
	}
	l := levelsOf(cells)
	for _, c := range cells {
		if c.inside != nil {
			c.sampleMedium(l)
		}
	}
	lendMedium(cells)
	ink := inkOf(cells, l)
	ink.temper(cells)
	out := make([]RootPlug, len(cells))
	for i, c := range cells {
		if c.inside != nil {
			c.measure(ink)
		}
		s.drawOutline(c, t, g)
		out[i] = c.plug
	}
	return out, g, nil
}

// rootCell is one cell at work.
type rootCell struct {
	plug   RootPlug
	p      *patch
	pxMM   float64
	blurPx float64 // the lens's spread as a Gaussian's sigma

	coreWarm, coreLight, coreSpread float64 // of the inner disc: mean warmth, median luminance, and p95 − p5 of luminance
	webWarm, webLight               float64 // of the corners between cells

	edge   outline
	inside []bool // within the outline

	medium RGB     // mean light of the plug's medium
	spread float64 // standard deviation of the medium's luminance
}

func (s *Scene) lookAtCell(t Tray, g Grid, row, col int) *rootCell {
	u, v := t.centre(row, col)
	u, v = g.place(t, u, v)
	c := &rootCell{plug: RootPlug{Row: row, Col: col}}
	rect, cut := s.cellRect(&s.Plane, u, v, t.PitchMM/2)
	if rect.Dx() < 8 || rect.Dy() < 8 {
		c.plug.Cut = true
		return c
	}
	c.plug.Cut = cut
	c.p = s.patch(&s.Plane, rect, u, v)
	c.pxMM = 1 / math.Sqrt(float64(c.p.area[len(c.p.area)/2]))
	c.blurPx = s.Edge.SigmaPx()
	c.survey(t)
	return c
}

// survey takes the figures that tell plug from cavity.
func (c *rootCell) survey(t Tray) {
	var core, web []float32
	var warm, webWarm float64
	p := c.p
	for i := range p.lum {
		switch d := math.Hypot(float64(p.du[i]), float64(p.dv[i])); {
		case d < 0.3*t.PlugMM:
			core = append(core, p.lum[i])
			warm += float64(warmth(p.r[i], p.g[i], p.b[i]))
		case d > 0.56*t.PitchMM:
			web = append(web, p.lum[i])
			webWarm += float64(warmth(p.r[i], p.g[i], p.b[i]))
		}
	}
	if len(core) == 0 || len(web) == 0 {
		c.plug.Cut = true
		return
	}
	c.coreWarm, c.webWarm = warm/float64(len(core)), webWarm/float64(len(web))
	c.coreSpread = quantile(core, 0.95) - quantile(core, 0.05)
	c.coreLight, c.webLight = quantile(core, 0.5), quantile(web, 0.5)
}

// tray is what the webs between cells look like, over the whole photo.
type tray struct{ warm, light float64 }

func webOf(cells []*rootCell) tray {
	var warm, light []float64
	for _, c := range cells {
		if c.p != nil && c.webLight > 0 {
			warm, light = append(warm, c.webWarm), append(light, c.webLight)
		}
	}
	return tray{median(warm), median(light)}
}

// A plug is told from an empty cavity by its colour: medium and roots are warmer than the tray, whose cavity is of the tray's
// own plastic. Where the tray is as warm as medium, unevenness tells: specks, fibres and roots are many times lighter
// than their gaps, and a moulded cavity is smooth.
const (
	leastWarmer = 0.04 // warmth above the tray's
	leastUneven = 0.04 // spread of luminance, 1 for paper
)

func (c *rootCell) tellEmpty(web tray) {
	if c.p == nil {
		return
	}
	warm := c.coreWarm-web.warm > leastWarmer
	uneven := c.coreSpread > leastUneven && c.coreLight > web.light
	c.plug.Empty = !warm && !uneven
}

func (c *rootCell) findOutline(web tray, t Tray) {
	p := c.p
	radius := max(1, int(0.35*c.pxMM+0.5))
	r, g, b := boxBlur(p.r, p.w, p.h, radius), boxBlur(p.g, p.w, p.h, radius), boxBlur(p.b, p.w, p.h, radius)
	score := make([]float32, len(p.lum))
	middle := web.warm + 0.35*(c.coreWarm-web.warm)
	half := math.Max((c.coreWarm-web.warm)/2, leastWarmer/2)
	// what is nearer to the gap's darkness than to the plug's own darker medium is gap, on a scale of ratios
	var core, around []float32
	for i := range p.lum {
		switch d := math.Hypot(float64(p.du[i]), float64(p.dv[i])); {
		case d < 0.3*t.PlugMM:
			core = append(core, RGB{r[i], g[i], b[i]}.luminance())
		case d > 0.45*t.PlugMM && d < 0.47*t.PitchMM:
			around = append(around, RGB{r[i], g[i], b[i]}.luminance())
		}
	}
	medium := quantile(core, 0.25)
	dark := math.Min(0.5*medium, math.Sqrt(medium*math.Max(quantile(around, 0.05), 1e-3)))
	for i := range score {
		warm := (float64(warmth(r[i], g[i], b[i])) - middle) / half
		light := math.Log(float64(RGB{r[i], g[i], b[i]}.luminance()+1e-4)/dark) / math.Ln2
		score[i] = float32(math.Max(-1, math.Min(1, math.Min(warm, light))))
	}
	c.edge = traceOutline(p, score, 0.25*t.PlugMM, t.PitchMM/2)
	c.plug.PlugMM2 = c.edge.areaMM2()
	c.inside = make([]bool, len(p.lum))
	for i := range c.inside {
		du, dv := float64(p.du[i]), float64(p.dv[i])
		c.inside[i] = math.Hypot(du, dv) <= c.edge.at(du, dv)
	}
}

// drawOutline gives the outline in pixels: the plug's where there is one, a circle where it would be.
func (s *Scene) drawOutline(c *rootCell, t Tray, g Grid) {
	u, v := t.centre(c.plug.Row, c.plug.Col)
	u, v = g.place(t, u, v)
	o := c.edge
	if o.radius[0] == 0 {
		for i := range o.radius {
			o.radius[i] = t.PlugMM / 2
		}
	}
	for _, d := range o.points() {
		c.plug.Outline = append(c.plug.Outline, s.Plane.ToPx(s.TrayPoint(u+d[0], v+d[1])))
	}
}
