package report

import (
	"fmt"
	"image/color"
	"strings"
)

// The house's colours, of page and picture. Blue carries what was found and orange what to beware of, as on the overlays; the two
// stay apart for every kind of colour vision, and each text keeps 4.5 : 1 against its ground (WCAG 2.2, 1.4.3).
type colours struct{ paper, panel, ink, quiet, line, blue, orange, warm color.RGBA }

var (
	lightColours = colours{
		paper: color.RGBA{252, 251, 248, 255}, panel: color.RGBA{244, 242, 236, 255}, ink: color.RGBA{28, 32, 30, 255}, quiet: color.RGBA{84, 92, 88, 255},
		line: color.RGBA{206, 203, 194, 255}, blue: color.RGBA{0, 84, 166, 255}, orange: color.RGBA{166, 84, 0, 255}, warm: color.RGBA{255, 244, 226, 255},
	}
	darkColours = colours{
		paper: color.RGBA{24, 27, 26, 255}, panel: color.RGBA{35, 39, 37, 255}, ink: color.RGBA{232, 230, 222, 255}, quiet: color.RGBA{171, 178, 173, 255},
		line: color.RGBA{74, 80, 77, 255}, blue: color.RGBA{126, 184, 250, 255}, orange: color.RGBA{244, 174, 92, 255}, warm: color.RGBA{50, 40, 24, 255},
	}
)

// css returns the colours as the style sheet's variables.
func (c colours) css() string {
	var out strings.Builder
	for _, v := range []struct {
		name string
		is   color.RGBA
	}{{"paper", c.paper}, {"panel", c.panel}, {"ink", c.ink}, {"quiet", c.quiet}, {"line", c.line}, {"blue", c.blue}, {"orange", c.orange}, {"warm", c.warm}} {
		fmt.Fprintf(&out, "--%s:#%02x%02x%02x;", v.name, v.is.R, v.is.G, v.is.B)
	}
	return out.String()
}
