package vision

import "math"

// surface is what a part of a cell looks like.
type surface struct {
	warm   float64 // mean warmth
	light  float64 // median luminance, 1 for paper
	spread float64 // p95 − p5 of luminance
}

// surveyStep is the distance in mm of the points at which a cell is looked at, a pixel or two of the overview.
const surveyStep = 0.8

// lookAround calls see with the light of points all over the cell, no further than reach mm from its middle along u and v, and how
// far from it each is. Points outside the photo are left out.
func (c *rootCell) lookAround(s *Scene, o *overview, reach float64, see func(d float64, light RGB)) {
	for dv := -reach; dv <= reach; dv += surveyStep {
		for du := -reach; du <= reach; du += surveyStep {
			if light, ok := o.light(s.Plane.ToPx(s.TrayPoint(c.u+du, c.v+dv))); ok {
				see(math.Hypot(du, dv), light.scaled(c.gain))
			}
		}
	}
}

// surfaceOf sums up the cell's points at distances that in accepts; ok is false where fewer than eight are in the photo.
func (c *rootCell) surfaceOf(s *Scene, o *overview, reach float64, in func(d float64) bool) (f surface, ok bool) {
	var lum []float32
	c.lookAround(s, o, reach, func(d float64, light RGB) {
		if in(d) {
			lum = append(lum, light.luminance())
			f.warm += float64(warmth(light[0], light[1], light[2]))
		}
	})
	if len(lum) < 8 {
		return f, false
	}
	f.warm /= float64(len(lum))
	f.spread = quantile(lum, 0.95) - quantile(lum, 0.05)
	f.light = quantile(lum, 0.5)
	return f, true
}

// survey takes the figures that tell plug from cavity: of the cell's inner disc and of the corners between cells.
func (c *rootCell) survey(s *Scene, o *overview, t Tray) {
	var ok, okWeb bool
	c.core, ok = c.surfaceOf(s, o, 0.3*t.PlugMM, func(d float64) bool { return d < 0.3*t.PlugMM })
	c.web, okWeb = c.surfaceOf(s, o, t.PitchMM/2, func(d float64) bool { return d > 0.56*t.PitchMM })
	if !ok || !okWeb {
		c.plug.Cut = true
	}
}

// webOf is what the webs between cells look like over the whole photo.
func webOf(cells []*rootCell) surface {
	var warm, light []float64
	for _, c := range cells {
		if !c.plug.Cut && c.web.light > 0 {
			warm, light = append(warm, c.web.warm), append(light, c.web.light)
		}
	}
	return surface{warm: median(warm), light: median(light)}
}

// A plug is told from an empty cavity by its colour: medium and roots are warmer than the tray, whose cavity is of the tray's
// own plastic. Where the tray is as warm as medium, unevenness tells: specks, fibres and roots are many times lighter
// than their gaps, and a moulded cavity is smooth.
const (
	leastWarmer = 0.04 // warmth above the tray's
	leastUneven = 0.04 // spread of luminance, 1 for paper
)

func (c *rootCell) tellEmpty(web surface) {
	if c.plug.Cut {
		return
	}
	warm := c.core.warm-web.warm > leastWarmer
	uneven := c.core.spread > leastUneven && c.core.light > web.light
	c.plug.Empty = !warm && !uneven
}
