// Package colours has the colours of the page and of treatments, for light and dark.
//
//	in    a treatment's place in the plan
//	out   the style sheet's variables and classes, and the same colours for pictures on paper
//
// It must not depend on what is drawn.
package colours

import (
	"fmt"
	"image/color"
	"strings"
)

// scheme is a set of colours for one ground. Blue carries what was found and orange what to beware of, as on the overlays; the two
// stay apart for every kind of colour vision, and each text keeps 4.5 : 1 against its ground (WCAG 2.2, 1.4.3).
type scheme struct {
	Paper, Panel, Ink, Quiet, Line, Blue, Orange, Warm color.RGBA
	treatments                                         []color.RGBA // one each, in the plan's order
}

// The treatments' colours are of the hues of Okabe & Ito 2008, "Color universal design", without the yellow, and then of Tol 2021, "Colour schemes", SRON/EPS/TN/09-002,
// sect. 2, muted: indigo, teal, wine, sand, rose; moved until a line keeps 3 : 1 against its ground (WCAG 2.2, 1.4.11) and all are distinct to
// every kind of colour vision. Names are beside them wherever they are used.
var (
	Light = scheme{
		Paper: color.RGBA{252, 251, 248, 255}, Panel: color.RGBA{244, 242, 236, 255}, Ink: color.RGBA{28, 32, 30, 255}, Quiet: color.RGBA{84, 92, 88, 255},
		Line: color.RGBA{206, 203, 194, 255}, Blue: color.RGBA{0, 84, 166, 255}, Orange: color.RGBA{166, 84, 0, 255}, Warm: color.RGBA{255, 244, 226, 255},
		treatments: []color.RGBA{{78, 84, 81, 255}, {12, 97, 205, 255}, {246, 60, 0, 255}, {0, 128, 76, 255}, {183, 84, 146, 255}, {132, 141, 31, 255}, {43, 141, 218, 255},
			{53, 33, 137, 255}, {86, 147, 132, 255}, {136, 31, 100, 255}, {155, 136, 67, 255}, {202, 97, 119, 255}},
	}
	dark = scheme{
		Paper: color.RGBA{24, 27, 26, 255}, Panel: color.RGBA{35, 39, 37, 255}, Ink: color.RGBA{232, 230, 222, 255}, Quiet: color.RGBA{171, 178, 173, 255},
		Line: color.RGBA{74, 80, 77, 255}, Blue: color.RGBA{126, 184, 250, 255}, Orange: color.RGBA{244, 174, 92, 255}, Warm: color.RGBA{50, 40, 24, 255},
		treatments: []color.RGBA{{176, 182, 178, 255}, {77, 138, 242, 255}, {252, 103, 56, 255}, {24, 233, 124, 255}, {185, 113, 178, 255}, {233, 213, 38, 255}, {173, 218, 255, 255},
			{134, 87, 201, 255}, {95, 169, 144, 255}, {188, 67, 127, 255}, {240, 228, 153, 255}, {198, 104, 118, 255}},
	}
)

// Class names the style of the i-th treatment's colour. Beyond the colours that can be told apart all treatments have one.
func Class(i int) string {
	if i >= len(Light.treatments) {
		return "k-more"
	}
	return fmt.Sprintf("k-%d", i)
}

// CSS returns the rules that set all colours, in light and dark.
func CSS() string {
	return ":root{" + Light.css() + "}\n@media screen and (prefers-color-scheme: dark){:root{" + dark.css() + "}}\n" + treatmentRules()
}

// Of returns the colour of the i-th treatment on paper; below 0 for what is no treatment's.
func Of(i int) color.RGBA {
	if i < 0 || i >= len(Light.treatments) {
		return Light.Blue
	}
	return Light.treatments[i]
}

// css returns the colours as the style sheet's variables.
func (c scheme) css() string {
	var out strings.Builder
	for _, v := range []struct {
		name string
		is   color.RGBA
	}{{"paper", c.Paper}, {"panel", c.Panel}, {"ink", c.Ink}, {"quiet", c.Quiet}, {"line", c.Line}, {"blue", c.Blue}, {"orange", c.Orange}, {"warm", c.Warm}} {
		fmt.Fprintf(&out, "--%s:%s;", v.name, hexOf(v.is))
	}
	for i, k := range c.treatments {
		fmt.Fprintf(&out, "--t%d:%s;", i, hexOf(k))
	}
	return out.String()
}

func hexOf(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// treatmentRules let each treatment's style have its colour, in light and dark.
func treatmentRules() string {
	var out strings.Builder
	for i := range Light.treatments {
		fmt.Fprintf(&out, ".%s{--k:var(--t%d)}", Class(i), i)
	}
	return out.String() + ".k-more{--k:var(--blue)}\n"
}
